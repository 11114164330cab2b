// Pictures that the program takes against pictures that were looked at by a person.
//
// A picture is renewed with tests/golden/renew.sh; look at it before it is committed.

#include "papers/file.hpp"

#include "draw/image.hpp"

#include <catch2/catch.hpp>

#include <cstdlib>
#include <filesystem>
#include <string>
#include <sys/wait.h>

using namespace ridgeward;

namespace {

/// Colours may differ by this much (rounding of another driver) ...
constexpr int fuzz = 12;
/// ... and this share of the pixels by more (a letter is some 0.005 % of a picture).
constexpr double most_share = 0.0004;

const std::string source = RIDGEWARD_SOURCE_DIR;

std::string quoted(const std::string& text) { return "'" + text + "'"; }

/// A file in the folder where pictures are taken.
std::string taken_file(const std::string& name) {
  const std::filesystem::path folder = std::filesystem::path(RIDGEWARD_BUILD_DIR) / "pictures";
  std::filesystem::create_directories(folder);
  return (folder / name).string();
}

int run(const std::string& command) {
  const int status = std::system(command.c_str());  // NOLINT: fixed words only
  return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

/// Holds a picture against the one that was looked at.
void compare(const std::string& name, const std::string& found) {
  const std::string golden = source + "/tests/golden/pictures/" + name + ".png";
  if (std::getenv("RIDGEWARD_RENEW") != nullptr) {
    std::filesystem::copy_file(found, golden, std::filesystem::copy_options::overwrite_existing);
  }
  const auto expected = draw::read_png(golden);
  const auto taken = draw::read_png(found);
  REQUIRE(expected);
  REQUIRE(taken);
  const draw::Difference difference = draw::compare(expected.value(), taken.value(), fuzz);
  const std::string marked = taken_file(name + ".difference.png");
  if (difference.share > most_share) {
    CHECK(papers::write_whole(marked, draw::to_png(difference.marked)));
  }
  INFO("taken: " << found << "\nexpected: " << golden << "\ndifference: " << marked);
  CHECK(difference.share <= most_share);
}

void check(const std::string& name, const std::string& house, const std::string& options) {
  const std::string found = taken_file(std::string(name) + ".png");
  const std::string model = source + "/models/houses/" + house + ".roof.json";
  REQUIRE(run(quoted(RIDGEWARD_EXECUTABLE) + " picture " + quoted(model) + " -o " + quoted(found) +
              " " + options) == 0);
  compare(name, found);
}

}  // namespace

TEST_CASE("picture: the demo house as it is shown when nothing is asked for") {
  check("sorrel-lane", "sorrel-lane", "");
}

TEST_CASE("picture: the demo house from above, metric") {
  check("sorrel-lane-above", "sorrel-lane", "--from above --units metric");
}

TEST_CASE("picture: rafters, slots and ceiling without the deck") {
  check("sorrel-lane-frame", "sorrel-lane",
        "--from south-west --size 1000x640 --show members,lines,slots,walls,ceiling,legend");
}

TEST_CASE("picture: a courtyard with a fault") {
  check("heron-court", "heron-court", "--from south-west --size 1120x700 --units ft-in");
}

TEST_CASE("picture: the eaves unrolled below the house") {
  check("ribbon", "quarry-rise", "--ribbon --size 1280x760");
}

TEST_CASE("picture: the lesson, one picture a step and a mistake, and as a book") {
  const std::string folder = taken_file("lesson");
  const std::string model = quoted(source + "/models/houses/plain-gable.roof.json");
  std::filesystem::remove_all(folder);
  REQUIRE(run(quoted(RIDGEWARD_EXECUTABLE) + " lesson " + model + " --size 900x600 -o " +
              quoted(folder)) == 0);
  const auto count = std::distance(std::filesystem::directory_iterator(folder), {});
  CHECK(count == 9 + 6);
  compare("lesson-place", folder + "/04-place.png");
  const std::string book = taken_file("lesson.pdf");
  REQUIRE(run(quoted(RIDGEWARD_EXECUTABLE) + " lesson " + model + " --size 640x400 -o " +
              quoted(book)) == 0);
  // A picture a step: pdfimages of Debian's poppler-utils lists them after two lines of head.
  CHECK(run("test $(pdfimages -list " + quoted(book) + " | tail -n +3 | grep -c image) = 9") == 0);
  CHECK(run(quoted(RIDGEWARD_EXECUTABLE) + " lesson /nowhere.roof.json -o " + quoted(book) +
            " 2> /dev/null") == 2);
}

TEST_CASE("picture: the test itself sees a layer that is missing") {
  const std::string model = source + "/models/houses/sorrel-lane.roof.json";
  const std::string found = taken_file("without-slots.png");
  REQUIRE(run(quoted(RIDGEWARD_EXECUTABLE) + " picture " + quoted(model) + " -o " + quoted(found) +
              " --show=-slots") == 0);
  const auto expected = draw::read_png(source + "/tests/golden/pictures/sorrel-lane.png");
  const auto taken = draw::read_png(found);
  REQUIRE(expected);
  REQUIRE(taken);
  CHECK(draw::compare(expected.value(), taken.value(), fuzz).share > 4 * most_share);
}

TEST_CASE("picture: equal calls give equal bytes") {
  const std::string model = quoted(source + "/models/houses/plain-gable.roof.json");
  for (const char* name : {"once", "twice"}) {
    REQUIRE(run(quoted(RIDGEWARD_EXECUTABLE) + " picture " + model + " --size 480x360 -o " +
                quoted(taken_file(std::string(name) + ".png"))) == 0);
  }
  CHECK(run("cmp -s " + quoted(taken_file("once.png")) + " " + quoted(taken_file("twice.png"))) ==
        0);
}

TEST_CASE("picture: bad words are refused with the good ones, and nothing is written") {
  const std::string model = quoted(source + "/models/houses/plain-gable.roof.json");
  const std::string out = taken_file("refused.png");
  const std::string errors = taken_file("refused.txt");
  std::filesystem::remove(out);
  const auto refuse = [&](const std::string& options, const std::string& word) {
    INFO(options);
    CHECK(run(quoted(RIDGEWARD_EXECUTABLE) + " picture " + model + " -o " + quoted(out) + " " +
              options + " 2> " + quoted(errors)) == 2);
    CHECK(run("grep -q -- " + quoted(word) + " " + quoted(errors)) == 0);
    CHECK_FALSE(std::filesystem::exists(out));
  };
  refuse("--from sideways", "north-east");
  refuse("--show planes,walls,slits", "exhaust");
  refuse("--size 12x12", "1280x800");
  refuse("--size big --from up --show none", "south-west");
  CHECK(run(quoted(RIDGEWARD_EXECUTABLE) + " picture /nowhere.roof.json -o " + quoted(out) +
            " 2> " + quoted(errors)) == 2);
  CHECK(run(quoted(RIDGEWARD_EXECUTABLE) + " picture " + model + " -o /nowhere/at/all.png 2> " +
            quoted(errors)) == 2);
  CHECK(run("grep -q folder " + quoted(errors)) == 0);
}
