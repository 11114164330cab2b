#include "document/document.hpp"

#include "base/sanitized.hpp"
#include "model/read.hpp"

#include "document/dialogs.hpp"
#include "document/keep.hpp"
#include "document/work.hpp"
#include "support/random_edits.hpp"
#include "support/same_model.hpp"
#include "support/seed.hpp"

#include <catch2/catch.hpp>

#include <atomic>
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

using namespace ridgeward;
using document::Document;

namespace {

const std::string models = std::string(RIDGEWARD_SOURCE_DIR) + "/models";

document::Library library() {
  auto catalogue = model::read_catalogue_file(models + "/catalogues/default.json");
  REQUIRE(catalogue.ok());
  return {std::move(catalogue).value(), [](const std::string& id) {
            return codes::read_code_set_file(models + "/codes/" + id + ".json");
          }};
}

model::RoofModel house(const std::string& name) {
  auto read = model::read_file(models + "/houses/" + name + ".roof.json");
  REQUIRE(read.ok());
  return std::move(read).value().model;
}

/// Not only the fields of the file: what its reader assumed too.
bool is_same(const model::RoofModel& a, const model::RoofModel& b) {
  return tests::difference(a, b).empty() && a.assumptions == b.assumptions;
}

std::size_t cases(std::size_t usual) {
  const char* given = std::getenv("RIDGEWARD_CASES");
  return given != nullptr ? std::strtoull(given, nullptr, 10) : usual;
}

/// Resident memory of this process, in MiB.
double memory_mib() {
  std::ifstream file("/proc/self/statm");
  double size = 0.0;
  double resident = 0.0;
  file >> size >> resident;
  return resident * static_cast<double>(sysconf(_SC_PAGESIZE)) / (1 << 20);
}

struct Folder {
  std::string path;
  Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "keep-XXXXXX").string();
    REQUIRE(mkdtemp(name.data()) != nullptr);
    path = name;
  }
  ~Folder() { std::filesystem::remove_all(path); }
};

}  // namespace

TEST_CASE("how far a program is stands on the last whole line that says so") {
  CHECK(document::last_progress("").empty());
  CHECK(document::last_progress("progress 1 of 9").empty());  // the line goes on
  CHECK(document::last_progress("progress 1 of 9 pictures\nprogress 2") == "1 of 9 pictures");
  CHECK(document::last_progress("a\nprogress 3 of 9\nWritten.\n") == "3 of 9");
  CHECK(document::last_progress("no progress 3 of 9\n").empty());
}

TEST_CASE("the share that progress tells") {
  CHECK(document::share_of("3 of 15 pictures") == Approx(0.2));
  CHECK(document::share_of("40 % read") == Approx(0.4));
  CHECK(document::share_of("7 of 5 pages") == Approx(1.0));
  for (const char* none : {"", "3", "3 of 0 pages", "3 of pages", "some of 4", "-"}) {
    CAPTURE(none);
    CHECK_FALSE(document::share_of(none));
  }
}

TEST_CASE("work tells how far its program is, and is cancelled or kept") {
  std::atomic<int> woken{0};
  document::Work work([&] { ++woken; });
  const auto until = [&](auto&& is_so) {
    bool has_come = is_so();  // asked no more afterwards: take() takes
    for (int i = 0; i < 2000 && !has_come; ++i) {
      std::this_thread::sleep_for(std::chrono::milliseconds(5));
      has_come = is_so();
    }
    REQUIRE(has_come);
  };
  document::Ended ended;
  int outcomes = 0;
  const auto start = [&](const std::string& script, bool keeps) {
    work.start("Writing", [&, script, keeps](document::Task& task) -> document::Work::After {
      ended = task.run({"/bin/sh", "-c", script});
      if (keeps) {
        task.keep();
      }
      return [&] { ++outcomes; };
    });
  };
  // On either stream; what only tells progress is no trouble.
  const Folder folder;
  start(
      "echo progress 1 of 4 pages >&2; echo odd words >&2;"
      "while ! test -e '" +
          folder.path +
          "/go'; do sleep 0.01; done;"
          "echo progress 2 of 4 pages >&2; echo more >&2",
      false);
  until([&] { return work.progress() == "1 of 4 pages"; });
  std::ofstream(folder.path + "/go") << "go";
  until([&] { return work.take(); });
  CHECK(ended.exit_code == 0);
  CHECK(ended.errors == "odd words\nmore\n");
  CHECK(outcomes == 1);
  // Cancelled: it is ended and its outcome counts for nothing, but where it says that it is done.
  for (const bool keeps : {false, true}) {
    start("echo progress 50 % done; exec sleep 100", keeps);
    until([&] { return work.progress() == "50 % done"; });
    work.cancel();
    until([&] { return work.take(); });
    CHECK(ended.exit_code == -1);
    CHECK(outcomes == (keeps ? 2 : 1));
  }
  CHECK(woken == 3);
}

TEST_CASE("history keeps every step and merges what belongs to one drag") {
  document::History history("house");
  history.take("horse", "r", "");
  history.take("horses", "s", "");
  CHECK(history.undo_name() == "s");
  history.undo();
  CHECK(history.text() == "horse");
  CHECK(history.redo_name() == "s");
  history.undo();
  CHECK(history.text() == "house");
  CHECK_FALSE(history.can_undo());
  history.redo();
  CHECK(history.text() == "horse");
  history.take("", "nothing", "");
  CHECK_FALSE(history.can_redo());
  history.undo();
  CHECK(history.text() == "horse");

  history.take("horse 1", "drag", "corner");
  history.take("horse 2", "drag", "corner");
  history.take("horse 3", "drag", "corner");
  CHECK(history.done() == 2);
  history.let_go();
  history.take("horse 4", "drag", "corner");
  CHECK(history.done() == 3);
  history.undo();
  CHECK(history.text() == "horse 3");
  history.undo();
  CHECK(history.text() == "horse");
  // Back to where the drag began: no step.
  history.take("pony", "drag", "corner");
  history.take("horse", "drag", "corner");
  CHECK(history.text() == "horse");
  CHECK(history.done() == 1);
}

TEST_CASE("steps beyond what memory is for lie in a file and come back from it") {
  const Folder folder;
  for (const std::string& place : {folder.path, std::string("/proc/none")}) {
    CAPTURE(place);
    document::History history("", place);
    const auto text = [](std::size_t i) {
      return std::string(100000, i % 2 == 0 ? 'a' : 'b') + std::to_string(i);
    };
    constexpr std::size_t count = 60;
    for (std::size_t i = 0; i < count; ++i) {
      history.take(text(i), "step " + std::to_string(i), "");
    }
    const bool has_file = place == folder.path;
    CHECK((history.held_bytes() <= document::StepPile::most_held) == has_file);
    CHECK(std::filesystem::is_empty(folder.path));  // it has no name there
    for (std::size_t i = count; i-- > 20;) {
      REQUIRE(history.text() == text(i));
      REQUIRE(history.undo_name() == "step " + std::to_string(i));
      history.undo();
    }
    while (history.can_redo()) {
      history.redo();
    }
    CHECK(history.text() == text(count - 1));
    history.undo();
    history.take("another", "fork", "");
    CHECK_FALSE(history.can_redo());
    while (history.can_undo()) {
      history.undo();
    }
    CHECK(history.text().empty());
    CHECK(history.size() == count);
  }
}

TEST_CASE("a document undoes to the model that was, and knows what is saved") {
  const Folder folder;
  Document document(library());
  CHECK_FALSE(document.is_open());
  const model::RoofModel first = house("sorrel-lane");
  REQUIRE(document.open(first, "sorrel.roof.json").empty());
  CHECK_FALSE(document.is_dirty());
  model::Edge edge = first.parts[0].edges[0];
  edge.pitch = units::Pitch::from_rise_run(9, 12);
  const auto said = document.apply(edit::SetEdge{"main", 0, edge}, "Pitch of main/0");
  REQUIRE(said.ok());
  CHECK(document.is_dirty());
  CHECK(document.now()->surface.planes[document.now()->surface.plane_named("main/0")].pitch ==
        edge.pitch);
  CHECK(document.history().undo_name() == "Pitch of main/0");
  document.undo();
  CHECK_FALSE(document.is_dirty());
  CHECK(is_same(document.now()->model, first));
  document.redo();
  const std::string path = folder.path + "/saved.roof.json";
  REQUIRE(document.save(path).empty());
  CHECK_FALSE(document.is_dirty());
  document.undo();
  CHECK(document.is_dirty());
  CHECK(tests::difference(model::read_file(path).value().model, first) != "");
  // Nowhere to write: still unsaved.
  CHECK(document.save("/nowhere/at/all.json").front().code == "file.unwritable");
  CHECK(document.is_dirty());
  CHECK(document.path() == path);
}

TEST_CASE("what faults leaves the document as it was") {
  Document document(library());
  const model::RoofModel first = house("plain-gable");
  REQUIRE(document.open(first, "").empty());
  const document::Snapshot before = document.now();
  CHECK_FALSE(document.apply(edit::RemovePart{"main"}, "Remove").ok());
  model::IntakeRun run;
  run.id = "far";
  run.product = "over-deck-10";
  run.plane = "main/0";
  run.to_m = 900.0;
  const auto far = document.apply(edit::PutIntake{run}, "Run");
  REQUIRE_FALSE(far.ok());
  CHECK(far.faults().front().code == "vent.run_outside");
  CHECK(document.now() == before);
  CHECK_FALSE(document.history().can_undo());
}

TEST_CASE("the rest of an assessment comes later, and only for the model it is of") {
  Document document(library());
  REQUIRE(document.open(house("sorrel-lane"), "").empty());
  CHECK_FALSE(document.is_whole());
  CHECK(document.now()->airflow.cases.empty());
  const auto work = document.whole_work();
  const auto revision = document.revision();
  REQUIRE(document.apply(edit::SetName{"Another"}, "Name").ok());
  document.complete(work(), revision);
  CHECK_FALSE(document.is_whole());
  CHECK(document.now()->model.name == "Another");
  document.complete(document.whole_work()(), document.revision());
  CHECK(document.is_whole());
  CHECK_FALSE(document.now()->airflow.cases.empty());
  // The whole is what a fresh assessment gives.
  const auto fresh =
      assess(document.now()->model, document.library().catalogue, document.now()->code);
  REQUIRE(fresh.ok());
  CHECK(fresh.value().findings.size() == document.now()->findings.size());
  CHECK(fresh.value().takeoff.order.size() == document.now()->takeoff.order.size());
  CHECK(fresh.value().assumptions == document.now()->assumptions);
}

TEST_CASE("random edits: undo and redo give identical models, memory stays") {
  const std::size_t count = cases(300);
  Document document(library());
  tests::RandomEdits random(tests::seed() + 7);
  REQUIRE(document.open(house("tern-cottage"), "").empty());
  std::vector<std::shared_ptr<const model::RoofModel>> states{
      std::make_shared<model::RoofModel>(document.now()->model)};
  std::size_t edits = 0;
  double early_mib = 0.0;
  std::vector<std::size_t> hashes{std::hash<std::string>{}(model::write(*states[0]))};
  for (std::size_t i = 0; i < count; ++i) {
    if (random.below(12) == 0 && document.history().can_undo()) {
      const std::size_t back =
          1 + random.below(std::min<std::size_t>(document.history().done(), 6));
      for (std::size_t k = 0; k < back; ++k) {
        document.undo();
      }
      const std::size_t at = document.history().done();
      CAPTURE(i, at);
      REQUIRE(std::hash<std::string>{}(model::write(document.now()->model)) == hashes[at]);
      for (std::size_t k = random.below(back + 1); k > 0; --k) {
        document.redo();
      }
      REQUIRE(std::hash<std::string>{}(model::write(document.now()->model)) ==
              hashes[document.history().done()]);
      continue;
    }
    const edit::Edit edit = random.next(document.now()->model);
    CAPTURE(i, edit::words_of(edit));
    const std::size_t before = document.history().done();
    if (document.apply(edit, edit::words_of(edit)).ok() && document.history().done() > before) {
      ++edits;
      hashes.resize(before + 1);
      hashes.push_back(std::hash<std::string>{}(model::write(document.now()->model)));
      states.resize(std::min<std::size_t>(states.size(), before + 1));
      if (states.size() == before + 1 && states.size() < 200) {
        states.push_back(std::make_shared<model::RoofModel>(document.now()->model));
      }
    }
    if (i == count / 4) {
      early_mib = memory_mib();
    }
  }
  CHECK(edits * 4 > count);
  // Steps never end, and what they cost in memory does: but for a number each.
  CHECK(document.history().held_bytes() < 2 * document::StepPile::most_held);
  if (!has_address_sanitizer) {
    CHECK(memory_mib() - early_mib < 20.0);
  }
  while (document.history().can_undo()) {
    document.undo();
    const std::size_t at = document.history().done();
    if (at < states.size()) {
      CAPTURE(at);
      REQUIRE(is_same(document.now()->model, *states[at]));
    }
  }
  CHECK_FALSE(document.is_dirty());
}

TEST_CASE("unsaved work of a program that was killed is found, that of one that runs is not") {
  const Folder folder;
  const pid_t child = fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    document::Recovery own(folder.path);
    _exit(own.keep("/somewhere/house.roof.json", "text").empty() ? 0 : 1);  // no destructor runs
  }
  int status = 0;
  REQUIRE(waitpid(child, &status, 0) == child);
  REQUIRE(status == 0);
  document::Recovery first(folder.path);
  document::Recovery second(folder.path);
  REQUIRE(first.keep("", "of the first").empty());
  const auto found = second.found();
  REQUIRE(found);
  CHECK(found->path == "/somewhere/house.roof.json");
  CHECK(found->model == "text");
  document::Recovery::discard(*found);
  CHECK_FALSE(second.found());
  first.drop();
  CHECK_FALSE(first.found());
}

TEST_CASE("recent files and words are remembered, nonsense is passed over") {
  const Folder folder;
  document::Settings settings;
  for (int i = 0; i < 20; ++i) {
    document::remember(settings, "/houses/" + std::to_string(i % 15));
  }
  CHECK(settings.recent.size() == document::most_recent);
  CHECK(settings.recent.front() == "/houses/4");
  settings.words["units"] = "metric";
  REQUIRE(document::write_settings(folder.path + "/a/b", settings).empty());
  const document::Settings read = document::read_settings(folder.path + "/a/b");
  CHECK(read.recent == settings.recent);
  CHECK(read.words == settings.words);
  std::ofstream(folder.path + "/window.json") << R"({"recent": 3, "words": ["a"]})";
  CHECK(document::read_settings(folder.path).recent.empty());
  std::ofstream(folder.path + "/window.json") << "[[[";
  CHECK(document::read_settings(folder.path).words.empty());
}

TEST_CASE("work runs beside the drawing thread and can be cancelled") {
  document::Work work([] {});
  const auto wait = [&] {
    for (int i = 0; i < 500 && !work.take(); ++i) {
      usleep(10000);
    }
    REQUIRE_FALSE(work.is_busy());
  };
  document::Ended ended;
  work.start("Echo", [&](document::Task& task) -> document::Work::After {
    document::Ended done = task.run({"sh", "-c", "echo out; echo err >&2; exit 3"});
    return [&ended, done] { ended = done; };
  });
  CHECK(work.is_busy());
  wait();
  CHECK(ended.exit_code == 3);
  CHECK(ended.output == "out\n");
  CHECK(ended.errors == "err\n");
  bool was_taken = false;
  const auto start = std::chrono::steady_clock::now();
  work.start("Sleep", [&](document::Task& task) -> document::Work::After {
    (void)task.run({"sleep", "60"});
    return [&] { was_taken = true; };
  });
  work.cancel();
  wait();
  CHECK_FALSE(was_taken);
  CHECK(std::chrono::steady_clock::now() - start < std::chrono::seconds(5));
  work.start("Missing", [&](document::Task& task) -> document::Work::After {
    document::Ended done = task.run({"/no/such/program"});
    return [&ended, done] { ended = done; };
  });
  wait();
  CHECK(ended.exit_code == -1);
}

TEST_CASE("the desktop's dialog is asked word by word, and its answers are told apart") {
  const Folder folder;
  const auto set = [](const char* name, const std::string& value) {
    setenv(name, value.c_str(), 1);
  };
  const std::string path = std::getenv("PATH") != nullptr ? std::getenv("PATH") : "";
  set("PATH", folder.path + ":relative:/nowhere");
  set("DISPLAY", ":no");
  unsetenv("WAYLAND_DISPLAY");
  unsetenv("XDG_CURRENT_DESKTOP");
  CHECK_FALSE(document::dialog_program());
  const auto program = [&](const std::string& name) {
    std::ofstream(folder.path + "/" + name) << "#!/bin/sh\nfor word; do echo \"[$word]\"; done\n";
    std::filesystem::permissions(folder.path + "/" + name, std::filesystem::perms::owner_all);
  };
  program("kdialog");
  CHECK(document::dialog_program() == folder.path + "/kdialog");
  program("zenity");
  CHECK(document::dialog_program() == folder.path + "/zenity");
  set("XDG_CURRENT_DESKTOP", "KDE");
  CHECK(document::dialog_program() == folder.path + "/kdialog");
  unsetenv("DISPLAY");
  CHECK_FALSE(document::dialog_program());
  set("PATH", path);
  unsetenv("XDG_CURRENT_DESKTOP");

  // No shell stands between: every word arrives as it is.
  document::DialogAsk ask;
  ask.saves = true;
  ask.title = "Save `as` $HOME; rm -r";
  ask.start = "/tmp/\"a\" 'b'\nc";
  ask.kind = "Model files";
  ask.patterns = {"*.roof.json", "*.json"};
  for (const char* name : {"/zenity", "/kdialog"}) {
    const auto words = document::dialog_words(folder.path + name, ask);
    std::string expected;
    for (std::size_t i = 1; i < words.size(); ++i) {
      expected += "[" + words[i] + "]\n";
    }
    CHECK(expected.find(ask.title) != std::string::npos);
    CHECK(expected.find(ask.start) != std::string::npos);
    document::Work work([] {});
    document::Ended ended;
    work.start("Ask", [&](document::Task& task) -> document::Work::After {
      document::Ended done = task.run(words);
      return [&ended, done] { ended = done; };
    });
    for (int i = 0; i < 500 && !work.take(); ++i) {
      usleep(10000);
    }
    CHECK(ended.output == expected);
  }
  using Kind = document::DialogAnswer::Kind;
  const auto answer = [](int code, const std::string& output, const std::string& errors) {
    return document::dialog_answer({code, output, errors});
  };
  CHECK(answer(0, "/tmp/a b\n.json\n", "").path == "/tmp/a b\n.json");
  CHECK(answer(0, "/tmp/a\n", "some warning").kind == Kind::file);
  CHECK(answer(1, "", "Gtk-WARNING: a theme is missing").kind == Kind::cancelled);
  CHECK(answer(1, "", "Unable to init server; cannot open display: :no").kind == Kind::no_dialog);
  CHECK(answer(0, "relative", "").kind == Kind::no_dialog);
  CHECK(answer(-1, "", "").kind == Kind::no_dialog);
}
