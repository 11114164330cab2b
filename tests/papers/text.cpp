// Columns, wrapped lines and whole files.
#include "papers/file.hpp"
#include "papers/text_table.hpp"

#include "support/program.hpp"
#include "support/seed.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <random>
#include <sstream>
#include <sys/stat.h>

using namespace ridgeward;
using namespace ridgeward::support;
using papers::Table;
using papers::wrap;
using tests::seed;

TEST_CASE("a table lines its columns up, words left and figures right") {
  Table table({"plane", "faces", "eave"});
  table.add({"main/0", "S", "26' 0\""});
  table.add({"m/1", "NW", "5\""});
  CHECK(table.text(2, 2, 80) ==
        "  plane   faces    eave\n"
        "  main/0  S      26' 0\"\n"
        "  m/1     NW         5\"\n");
}

TEST_CASE("a column in which nothing stands is left out, a cell that says so stays") {
  Table table({"plane", "hip", "rake"});
  table.add({"a", "-", "1"});
  table.add({"b", "-", "-"});
  CHECK(table.text(0, 1, 80) == "plane  rake\na         1\nb         -\n");
}

TEST_CASE("a table too wide for the terminal goes on below, with its first column again") {
  Table table({"plane", "eave", "rake", "hip"});
  table.add({"a", "1111", "2222", "3333"});
  CHECK(table.text(2, 1, 19) ==
        "  plane  eave  rake\n"
        "  a      1111  2222\n"
        "\n"
        "  plane   hip\n"
        "  a      3333\n");
  // Never fewer than one column of figures, however narrow.
  CHECK(table.text(0, 1, 1) ==
        "plane  eave\na      1111\n\nplane  rake\na      2222\n\nplane   hip\na      3333\n");
}

TEST_CASE("letters of several bytes are as wide as they look") {
  CHECK(papers::width_of("pl\u00e4n") == 4);
  CHECK(papers::width_of("") == 0);
  Table table({"x", "n"});
  table.add({"\u00e4\u00f6\u00fc", "1"});
  table.add({"abc", "22"});
  CHECK(table.text(0, 1, 80) == "x     n\n\u00e4\u00f6\u00fc   1\nabc  22\n");
}

TEST_CASE("wrapped text: no line too long, continued lines two further in, no word lost") {
  CHECK(wrap("one two three four", 2, 11) == "  one two\n    three\n    four\n");
  CHECK(wrap("", 2, 20) == "\n");
  CHECK(wrap("  one   two \n three ", 0, 80) == "one two three\n");
  // A word longer than the line stands alone.
  CHECK(wrap("a incomprehensibly b", 1, 10) == " a\n   incomprehensibly\n   b\n");
}

TEST_CASE("measures stay in one piece") {
  CHECK(wrap("wide 1' 2 1/2\" each", 0, 12) == "wide\n  1' 2 1/2\"\n  each\n");
  CHECK(wrap("open 555 mm each", 0, 10) == "open\n  555 mm\n  each\n");
  CHECK(wrap("(8 800 cm2), 1/300", 0, 12) == "(8 800 cm2),\n  1/300\n");
  CHECK(wrap("needed 50 % to 60 %.", 0, 9) == "needed\n  50 % to\n  60 %.\n");
  // Two numbers side by side are no measure.
  CHECK(wrap("planes 4 5000 here", 0, 9) == "planes 4\n  5000\n  here\n");
}

TEST_CASE("wrap law: any words, any width, come out in order and within the width") {
  std::mt19937_64 rng(seed());
  INFO("RIDGEWARD_SEED=" << seed());
  for (int round = 0; round < 2000; ++round) {
    std::string text;
    const int count = std::uniform_int_distribution<int>(0, 40)(rng);
    for (int i = 0; i < count; ++i) {
      const auto size = std::uniform_int_distribution<std::size_t>(1, 9)(rng);
      text += std::string(size, static_cast<char>('a' + i % 26)) + " ";
    }
    const auto indent = std::uniform_int_distribution<std::size_t>(0, 8)(rng);
    const auto columns = std::uniform_int_distribution<std::size_t>(20, 100)(rng);
    const std::string wrapped = wrap(text, indent, columns);
    std::istringstream before(text);
    std::istringstream after(wrapped);
    std::string a;
    std::string b;
    while (before >> a) {
      REQUIRE(after >> b);
      REQUIRE(a == b);
    }
    REQUIRE_FALSE(after >> b);
    for (const std::string& line : lines_of(wrapped)) {
      REQUIRE(line.size() <= columns);
    }
  }
}

TEST_CASE("a file is written whole, over an older one, with nothing beside it") {
  const Folder folder;
  const std::string path = folder.file("a.txt");
  std::string bytes("one\0two\r\n", 9);
  bytes.append(3'000'000, 'x');
  REQUIRE(papers::write_whole(path, "old and longer than nothing").ok());
  REQUIRE(papers::write_whole(path, bytes).ok());
  CHECK(bytes_of(path) == bytes);
  REQUIRE(papers::write_whole(path, "").ok());
  CHECK(std::filesystem::file_size(path) == 0);
  CHECK(folder.names() == std::vector<std::string>{"a.txt"});
}

TEST_CASE("a file that can't be written is a fault that names it, and leaves nothing") {
  const Folder folder;
  std::filesystem::create_directory(folder.file("sub"));
  for (const std::string& path :
       {folder.file("no/a.txt"), folder.file("sub"), std::string(), std::string("/dev/full")}) {
    CAPTURE(path);
    const auto written = papers::write_whole(path, "bytes");
    REQUIRE_FALSE(written.ok());
    CHECK(written.faults()[0].code == "file.unwritable");
    CHECK(written.faults()[0].where == path);
    CHECK_FALSE(written.faults()[0].cure.empty());
  }
  CHECK(folder.names() == std::vector<std::string>{"sub"});
}

TEST_CASE("a link keeps pointing where it points") {
  const Folder folder;
  const std::string real = folder.write("real.txt", "old");
  std::filesystem::create_symlink("real.txt", folder.file("link.txt"));
  REQUIRE(papers::write_whole(folder.file("link.txt"), "new").ok());
  CHECK(std::filesystem::is_symlink(folder.file("link.txt")));
  CHECK(bytes_of(real) == "new");
}
