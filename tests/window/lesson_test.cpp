// The ribbon of eaves and the lesson as a trainer uses them: real clicks, drags and keys.

#include "window/desktop.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

using namespace ridgeward;
using test_window::Desktop;
using test_window::Widget;

namespace {

std::string bytes_of(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// A house of its own to work on, in a folder of its own.
struct Copy {
  std::filesystem::path folder;
  std::filesystem::path file;
  explicit Copy(const std::string& name, const std::string& house = "sorrel-lane")
      : folder(std::filesystem::path(RIDGEWARD_BUILD_DIR) / name),
        file(folder / (house + ".roof.json")) {
    std::filesystem::remove_all(folder);
    std::filesystem::create_directories(folder);
    std::filesystem::copy_file(
        std::string(RIDGEWARD_SOURCE_DIR) + "/models/houses/" + house + ".roof.json", file);
  }
};

}  // namespace

TEST_CASE("a trainer goes through the lesson, makes a mistake, asks, and takes it home") {
  const Copy copy("window-lesson");
  const std::string before = bytes_of(copy.file);
  Desktop desktop({copy.file.string()});
  const std::string azimuth = desktop.widget("state/azimuth").state;
  desktop.key("j");
  desktop.expect("lesson/title", "Why the roof needs air");
  for (int i = 0; i < 3; ++i) {
    desktop.key("space");
  }
  desktop.expect("lesson/title", "Where the slot goes");
  desktop.expect_change("state/azimuth", azimuth);
  desktop.click(desktop.widget("lesson/what-if"));
  desktop.click(desktop.widget("lesson/what-if/snow"));
  desktop.expect("lesson/change/Intake", "469 in2 > 0 in2");
  desktop.key("F4");
  desktop.expect("lesson/what-if/blocking", "on");
  desktop.click(desktop.widget("lesson/as-planned"));
  test_window::wait_until([&] { return !desktop.has("lesson/change/Intake"); }, 30,
                          "the house as planned");
  desktop.click(desktop.widget("lesson/quiz"));
  (void)desktop.widget("lesson/score");
  desktop.key("F3");
  (void)desktop.widget("lesson/feedback/1");
  desktop.click(desktop.widget("lesson/path"));
  desktop.key("ctrl+a");
  const std::string paper = (copy.folder / "taken.pdf").string();
  desktop.xdotool({"type", "--delay", "25", paper});
  desktop.expect("lesson/path", paper);
  desktop.click(desktop.widget("lesson/export"));
  test_window::wait_until(
      [&] {
        return desktop.has("lesson/told") &&
               desktop.widget("lesson/told").state == "Written: " + paper;
      },
      60, "the lesson to be written");
  CHECK(bytes_of(paper).substr(0, 5) == "%PDF-");
  CHECK(bytes_of(copy.file) == before);
}

TEST_CASE("long work shows how far it is, and is cancelled without a trace or ends whole") {
  const Copy copy("window-long-work", "plain-gable");
  Desktop desktop({"--units", "ft-in", copy.file.string()});
  const auto names = [&] {
    std::vector<std::string> all;
    for (const auto& entry : std::filesystem::directory_iterator(copy.folder)) {
      all.push_back(entry.path().filename().string());
    }
    return all;
  };
  const auto export_to = [&](const std::string& path) {
    desktop.click(desktop.widget("lesson/path"));
    desktop.key("ctrl+a");
    desktop.type(path);
    desktop.expect("lesson/path", path);
    desktop.click(desktop.widget("lesson/export"));
  };
  const auto told = [&](const std::string& words) {
    test_window::wait_until(
        [&] { return desktop.has("lesson/told") && desktop.widget("lesson/told").state == words; },
        150, words);
  };
  desktop.key("j");
  const std::string pictures = (copy.folder / "pictures").string();
  export_to(pictures);
  test_window::wait_until(
      [&] { return desktop.has("lesson/share") && !desktop.widget("lesson/share").state.empty(); },
      60, "a share of the lesson");
  CHECK(desktop.widget("lesson/told").state.find(" of ") != std::string::npos);
  desktop.click(desktop.widget("lesson/stop"));
  told("Stopped: nothing is written.");
  CHECK_FALSE(desktop.has("lesson/share"));
  CHECK(names() == std::vector<std::string>{"plain-gable.roof.json"});

  export_to(pictures);
  told("Written: " + pictures);
  std::size_t count = 0;
  for (const auto& entry : std::filesystem::directory_iterator(pictures)) {
    const auto picture = draw::read_png(entry.path().string());
    CAPTURE(entry.path());
    REQUIRE(picture);
    CHECK(picture.value().width == 1280);
    ++count;
  }
  CHECK(count >= 9);  // a step each, and what-ifs
  CHECK(names().size() == 2);
  desktop.key("j");

  // A large model for other programs.
  desktop.key("ctrl+o");
  desktop.widget("browser/name");
  const std::string large = RIDGEWARD_SOURCE_DIR "/models/houses/quarry-rise.roof.json";
  desktop.type(large);
  desktop.expect("browser/name", large);
  desktop.key("Return");
  desktop.expect("state/model", large);
  desktop.key("ctrl+e");
  desktop.widget("browser/name");
  const std::string model = (copy.folder / "large.ifc").string();
  desktop.key("ctrl+a");  // the name of the file that was opened stands there
  desktop.type(model);
  desktop.expect("browser/name", model);
  desktop.key("Return");
  test_window::wait_until(
      [&] {
        return desktop.has("message/share") && !desktop.widget("message/share").state.empty();
      },
      60, "a share of the export");
  desktop.click(desktop.widget("work/stop"));
  desktop.expect("message/said/0", "Stopped: nothing is changed or written.");
  CHECK_FALSE(desktop.has("message/share"));
  CHECK(names().size() == 2);
}
