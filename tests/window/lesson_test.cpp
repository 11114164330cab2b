// The ribbon of eaves and the lesson as a trainer uses them: real clicks, drags and keys.

#include "window/desktop.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

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
  explicit Copy(const std::string& name)
      : folder(std::filesystem::path(RIDGEWARD_BUILD_DIR) / name),
        file(folder / "sorrel-lane.roof.json") {
    std::filesystem::remove_all(folder);
    std::filesystem::create_directories(folder);
    std::filesystem::copy_file(
        std::string(RIDGEWARD_SOURCE_DIR) + "/models/houses/sorrel-lane.roof.json", file);
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
