// What the program writes is whole or not there, and never over what it reads.
#include "command/progress.hpp"
#include "support/program.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <filesystem>

using namespace ridgeward;
using namespace ridgeward::support;
namespace fs = std::filesystem;

namespace {

const char* const plan_file =
    RIDGEWARD_SOURCE_DIR "/importers/geojson/samples/courtyard-metres.geojson";

/// A call that writes a file.
struct Writer {
  const char* call;
  const char* input;  ///< null: a demo house
  const char* option;
  const char* ending;
};

const std::vector<Writer>& writers() {
  static const std::vector<Writer> all{
#ifdef RIDGEWARD_HAS_SOLID
      {"export", nullptr, "-o", ".step"},       {"export", nullptr, "-o", ".brep"},
      {"assess", nullptr, "--html", ".html"},
#endif
#ifdef RIDGEWARD_HAS_VIEWER
      {"picture", nullptr, "-o", ".png"},
#endif
      {"assess", nullptr, "--json", ".json"},   {"place", nullptr, "-o", ".roof.json"},
      {"import", plan_file, "-o", ".roof.json"}};
  return all;
}

Ran write_to(const Writer& writer, const std::string& file) {
  const std::string input = writer.input == nullptr ? demo_house("plain-gable") : writer.input;
  return run_program({writer.call, input, writer.option, file});
}

}  // namespace

TEST_CASE("a target that can't be written gives status 2, says so, and leaves nothing behind") {
  for (const Writer& writer : writers()) {
    const Folder folder;
    fs::create_directory(folder.file(std::string("folder") + writer.ending));
    const std::vector<std::string> before = folder.names();
    for (const std::string& target : {folder.file(std::string("nowhere/x") + writer.ending),
                                      folder.file(std::string("folder") + writer.ending)}) {
      const Ran ran = write_to(writer, target);
      CAPTURE(target, ran.err);
      CHECK(ran.status == 2);
      CHECK(has(ran.err, "ridgeward: " + target + ": can't be written"));
      CHECK(has(ran.err, "\n  cure: "));
      CHECK(folder.names() == before);
      CHECK(fs::is_empty(folder.file(std::string("folder") + writer.ending)));
    }
  }
}

TEST_CASE("an older file is replaced whole, through a link too, and nothing lies beside it") {
  for (const Writer& writer : writers()) {
    const Folder folder;
    const std::string target = folder.write(std::string("real") + writer.ending, "old");
    const std::string link = folder.file(std::string("link") + writer.ending);
    fs::create_symlink(target, link);
    const Ran ran = write_to(writer, link);
    CAPTURE(link, ran.err);
    CHECK(ran.status == 0);
    CHECK(fs::is_symlink(link));
    CHECK(bytes_of(target).size() > 100);
    CHECK(folder.names().size() == 2);
  }
}

TEST_CASE("two things are never written to one place, by whatever names") {
  const Folder folder;
  const std::string house = demo_house("plain-gable");
  const std::string plain = folder.file("a");
  const std::string roundabout =
      folder.file("../") + fs::path(plain).parent_path().filename().string() + "/a";
  folder.write("b", "old");
  fs::create_symlink(folder.file("b"), folder.file("c"));
  const std::vector<std::string> before = folder.names();
  struct Two {
    std::string first;
    std::string second;
    std::string place;
  };
  for (const Two& two : {Two{plain, plain, plain},
                         {plain, roundabout, roundabout},
                         {folder.file("b"), folder.file("c"), folder.file("c")},
                         {"-", "-", "standard output"}}) {
    const Ran ran = run_program({"assess", house, "--json", two.first, "--pdf", two.second});
    CAPTURE(two.first, two.second, ran.err);
    CHECK(ran.status == 2);
    CHECK(ran.out.empty());
    CHECK(has(ran.err, "ridgeward: " + two.place + ": --json and --pdf would both go here\n"));
    CHECK(folder.names() == before);
    CHECK(bytes_of(folder.file("b")) == "old");
  }
  CHECK(run_program({"import", plan_file, "-o", "-", "--found", "-"}).status == 2);
  CHECK(run_program({"assess", house, "--json", "/dev/null", "--csv", "/dev/null"}).status == 0);
}

TEST_CASE("an ending is right or left out; another kind's is refused and nothing is written") {
  const Folder folder;
  const std::string house = demo_house("plain-gable");
  struct Wrong {
    std::vector<std::string> words;
    const char* file;
    const char* cure;
  };
  std::vector<Wrong> all{{{"assess", house, "--pdf"}, "x.png", "the ending .pdf, or none"},
                         {{"assess", house, "--json"}, "x.pdf", "the ending .json, or none"},
                         {{"assess", house, "--csv"}, "x.xlsx", "the ending .csv, or none"},
                         {{"assess", house, "--html"}, "x.json", "the ending .html, or none"},
                         {{"place", house, "-o"}, "x.pdf", "the ending .json, or none"},
                         {{"import", plan_file, "-o"}, "x.step", "the ending .json, or none"}};
#ifdef RIDGEWARD_HAS_VIEWER
  all.push_back({{"picture", house, "-o"}, "p.jpg", "the ending .png, or none"});
  all.push_back({{"lesson", house, "-o"}, "x.docx", "the ending .pdf, or none"});
#endif
  for (Wrong& wrong : all) {
    wrong.words.push_back(folder.file(wrong.file));
    // A good one beside it is not written either.
    if (wrong.words[0] == "assess" && wrong.words[2] != "--json") {
      wrong.words.insert(wrong.words.end(), {"--json", folder.file("good.json")});
    }
    const Ran ran = run_program(wrong.words);
    CAPTURE(wrong.words, ran.err);
    CHECK(ran.status == 2);
    CHECK(ran.out.empty());
    CHECK(ran.err.rfind("ridgeward: " + folder.file(wrong.file) + ": ", 0) == 0);
    CHECK(has(ran.err, wrong.cure));
    CHECK(folder.names().empty());
  }
  // A folder that can't be written to is found out before anything is.
  CHECK(run_program({"assess", house, "--json", folder.file("a.json"), "--csv",
                     folder.file("nowhere/a.csv")})
            .status == 2);
  CHECK(folder.names().empty());
  CHECK(run_program({"assess", house, "--json", folder.file("A.JSON"), "--csv", folder.file("a")})
            .status == 0);
  CHECK(folder.names() == std::vector<std::string>{"A.JSON", "a"});
}

TEST_CASE("a device stays a device") {
  const std::string house = demo_house("plain-gable");
  CHECK(run_program({"assess", house, "--json", "/dev/null"}).status == 0);
  CHECK(fs::is_character_file("/dev/null"));
  const Ran full = run_program({"assess", house, "--json", "/dev/full"});
  CHECK(full.status == 2);
  CHECK(has(full.err, "/dev/full: can't be written"));
  CHECK(fs::is_character_file("/dev/full"));
}

TEST_CASE("the file that is read is never replaced, under any of its names") {
  const Folder folder;
  const std::string before = bytes_of(demo_house("plain-gable"));
  const std::string house = folder.write("house.roof.json", before);
  const std::string plan = folder.write("plan.geojson", bytes_of(plan_file));
  fs::create_symlink(house, folder.file("link.json"));
  for (const std::vector<std::string>& words : std::vector<std::vector<std::string>>{
           {"assess", house, "--json", house},
           {"assess", house, "--json", folder.file("link.json")},
           {"assess", folder.file("link.json"), "--json", house},
           {"assess", house, "--json",
            folder.file("../") + fs::path(house).parent_path().filename().string() +
                "/house.roof.json"},
           {"import", plan, "-o", plan}}) {
    CAPTURE(words);
    const Ran ran = run_program(words);
    CHECK(ran.status == 2);
    CHECK(ran.out.empty());
    CHECK(has(ran.err, "replace the file that is read"));
    CHECK(bytes_of(house) == before);
    CHECK(bytes_of(plan) == bytes_of(plan_file));
  }
}

namespace {

/// The lines that tell how far it is, without their first word.
std::vector<std::string> progress_in(const std::string& err) {
  std::vector<std::string> all;
  for (const std::string& line : lines_of(err)) {
    if (line.rfind("progress ", 0) == 0) {
      all.push_back(line.substr(9));
    }
  }
  return all;
}

/// What is written where a terminal, or a pipe, stands at the other end.
std::string told(bool is_terminal, bool is_for_programs, std::chrono::milliseconds patience) {
  std::FILE* file = std::tmpfile();
  REQUIRE(file != nullptr);
  {
    command::Progress progress(file, is_terminal, is_for_programs, patience);
    const Tell pages = progress.steps("pages");
    pages(9, 10);
    pages(9, 10);
    pages(10, 10);
    progress.tell("50 % read");
  }
  std::string text(200, '\0');
  std::rewind(file);
  text.resize(std::fread(text.data(), 1, text.size(), file));
  std::fclose(file);
  return text;
}

}  // namespace

TEST_CASE("progress is one line on a terminal, lines for programs that ask, else silence") {
  const std::chrono::milliseconds none(0);
  CHECK(told(true, false, none) == "\r9 of 10 pages\r10 of 10 pages\r50 % read     \r         \r");
  CHECK(told(true, false, std::chrono::hours(1)).empty());  // done before anybody wonders
  for (const bool is_terminal : {false, true}) {
    CHECK(told(is_terminal, true, std::chrono::hours(1)) ==
          "progress 9 of 10 pages\nprogress 10 of 10 pages\nprogress 50 % read\n");
  }
  CHECK(told(false, false, none).empty());
}

TEST_CASE("papers, exports and imports tell how far they are to who asks, and to nobody else") {
  const Folder folder;
  const std::string house = demo_house("plain-gable");
  struct Call {
    std::vector<std::string> words;
    std::string last;  ///< ending of the last line
  };
  std::vector<Call> calls{
      {{"assess", house, "--pdf", folder.file("a.pdf")}, " pages"},
      {{"import", RIDGEWARD_SOURCE_DIR "/importers/cityjson/samples/house-and-shed.city.json", "-o",
        folder.file("c.roof.json")},
       "2 of 2 buildings rebuilt"},
      {{"import", RIDGEWARD_SOURCE_DIR "/importers/geojson/samples/two-houses.geojson", "--each",
        "-o", folder.file("d.jsonl")},
       "50 % read, 0 buildings done"}};
#ifdef RIDGEWARD_HAS_SOLID
  calls.push_back({{"export", house, "-o", folder.file("b.step"), "--show", "all"}, " pieces"});
#endif
  for (Call& call : calls) {
    CAPTURE(call.words);
    CHECK(progress_in(run_program(call.words).err).empty());
    call.words.emplace_back("--progress");
    const Ran ran = run_program(call.words);
    CHECK(ran.status <= 1);
    const std::vector<std::string> lines = progress_in(ran.err);
    REQUIRE_FALSE(lines.empty());
    CHECK(lines.back().size() >= call.last.size());
    CHECK(has(lines.back(), call.last));
    if (has(lines.back(), " of ")) {  // the last step is the end
      const std::string done = lines.back().substr(0, lines.back().find(' '));
      CHECK(lines.back().rfind(done + " of " + done + " ", 0) == 0);
    }
  }
  // Data on the standard output stays data.
  const Ran out = run_program({"assess", house, "--pdf", "-", "--progress"});
  CHECK(out.out.rfind("%PDF", 0) == 0);
  CHECK_FALSE(has(out.out, "progress "));
}
