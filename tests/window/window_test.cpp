// The window as a person uses it: a real display, real clicks, drags and keys.

#include "window/desktop.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <chrono>
#include <map>
#include <string>
#include <thread>
#include <utility>

using namespace ridgeward;
using test_window::Desktop;
using test_window::Process;
using test_window::Widget;

namespace {

const std::string house =
    std::string(RIDGEWARD_SOURCE_DIR) + "/models/houses/sorrel-lane.roof.json";
const std::string other =
    std::string(RIDGEWARD_SOURCE_DIR) + "/models/houses/plain-gable.roof.json";

/// The first mark of a kind that labels and panels leave free.
Widget mark(const Desktop& desktop, const std::string& prefix) {
  const std::vector<Widget> all = desktop.widgets();
  for (const Widget& widget : all) {
    if (widget.id.rfind(prefix, 0) == 0) {
      return widget;
    }
  }
  FAIL("nothing of the kind " << prefix << " is in sight");
  return {};
}

double number(const Desktop& desktop, const std::string& id) {
  return std::stod(desktop.widget(id).state);
}

/// Clicks a field and lets the window take that up: letters that come before are keys for tools.
void hold_field(const Desktop& desktop, const std::string& id) {
  const double frames = number(desktop, "state/frames");
  desktop.click(desktop.widget(id));
  test_window::wait_until([&] { return number(desktop, "state/frames") > frames + 1.5; }, 30,
                          "the click to be taken up");
}

void expect_rest(const Desktop& desktop) {
  std::string frames;
  test_window::wait_until(
      [&] {
        const std::string before = std::exchange(frames, desktop.widget("state/frames").state);
        std::this_thread::sleep_for(std::chrono::milliseconds(700));
        return before == frames;
      },
      30, "the window to rest");
  std::this_thread::sleep_for(std::chrono::seconds(1));
  CHECK(desktop.widget("state/frames").state == frames);
}

/// Whether the screen shows more than one brightness where a widget is.
bool has_letters(const Desktop& desktop, const std::string& id) {
  const Widget widget = desktop.widget(id);
  const draw::Image screen = desktop.screen();
  int least = 255;
  int most = 0;
  for (int y = static_cast<int>(widget.y); y < static_cast<int>(widget.y + widget.height); ++y) {
    for (int x = static_cast<int>(widget.x); x < static_cast<int>(widget.x + widget.width); ++x) {
      const int green = screen.rgb.at(3 * static_cast<std::size_t>(y * screen.width + x) + 1);
      least = std::min(least, green);
      most = std::max(most, green);
    }
  }
  return most - least > 60;
}

}  // namespace

TEST_CASE("a person looks, selects, turns, switches and leaves") {
  Desktop desktop({house});

  SECTION("what is on the screen is a picture, not blank") {
    const draw::Image screen = desktop.screen();
    REQUIRE(screen.width == 1280);
    REQUIRE(screen.height == 800);
    std::map<std::uint32_t, std::size_t> colours;
    for (std::size_t i = 0; i + 2 < screen.rgb.size(); i += 3) {
      ++colours[static_cast<std::uint32_t>(screen.rgb[i] << 16 | screen.rgb[i + 1] << 8 |
                                           screen.rgb[i + 2])];
    }
    CHECK(colours.size() > 500);
    for (const auto& [colour, count] : colours) {
      CHECK(count < 1280U * 800U * 7 / 10);
    }
  }

  SECTION("a click on a plane tells its eave length, a click on a line its true length") {
    const Widget plane = mark(desktop, "plane/");
    desktop.click(plane);
    desktop.expect("state/selected", "plane " + plane.id.substr(6));
    desktop.expect("selection/title", "Plane " + plane.id.substr(6));
    const std::vector<Widget> all = desktop.widgets();  // eaves come right after the areas
    CHECK(std::any_of(all.begin(), all.end(), [](const Widget& widget) {
      return widget.id.rfind("selection/", 0) == 0 &&
             widget.id.find("/Eave") != std::string::npos && !widget.state.empty();
    }));
    const Widget line = mark(desktop, "line/");
    desktop.click(line);
    desktop.expect("state/selected", "line " + line.id.substr(5));
    CHECK_FALSE(desktop.widget("selection/0/True length").state.empty());
    desktop.key("Escape");
    desktop.expect("state/selected", "");
  }

  SECTION("drags turn and move, the wheel comes nearer, F frames again") {
    const std::string azimuth = desktop.widget("state/azimuth").state;
    desktop.drag(620, 560, 120, -40, 1);
    desktop.expect_change("state/azimuth", azimuth);
    CHECK(desktop.widget("state/selected").state.empty());
    const std::string target = desktop.widget("state/target").state;
    desktop.drag(620, 560, 60, -30, 3);
    desktop.expect_change("state/target", target);
    const double distance = number(desktop, "state/distance");
    desktop.xdotool({"mousemove", "620", "560", "click", "4"});
    test_window::wait_until([&] { return number(desktop, "state/distance") < distance - 0.5; }, 30,
                            "the house to come nearer");
    const std::string near = desktop.widget("state/distance").state;
    desktop.key("f");
    desktop.expect_change("state/distance", near);
  }

  SECTION("layers and units are switched by click and key") {
    desktop.expect("layers/bays", "on");
    const draw::Image before = desktop.screen();
    desktop.click(desktop.widget("layers/bays"));
    desktop.expect("layers/bays", "off");
    desktop.click(desktop.widget("units/metric"));
    desktop.expect("state/units", "metric");
    test_window::wait_until(
        [&] { return draw::compare(before, desktop.screen(), 24).share > 0.01; }, 30,
        "the picture to change");
    desktop.key("u");
    desktop.expect("state/units", "feet-inches");
    test_window::wait_until(
        [&] { return desktop.widget("totals/Attic/intake").state.find("in") != std::string::npos; },
        30, "the totals in inches");
  }

  SECTION("F1 shows the keys, Escape closes them, a direction turns the house") {
    desktop.key("F1");
    (void)desktop.widget("panel/keys");
    desktop.key("Escape");
    test_window::wait_until([&] { return !desktop.has("panel/keys"); }, 30, "the keys to go");
    const std::string azimuth = desktop.widget("state/azimuth").state;
    desktop.click(desktop.widget("from/north-west"));
    desktop.expect_change("state/azimuth", azimuth);
    desktop.click(desktop.widget("from/above"));
    desktop.expect("state/elevation", "1.5708");
  }

  SECTION("a file that can't be read is told, another one is opened") {
    hold_field(desktop, "file/path");
    desktop.xdotool({"key", "ctrl+a"});
    desktop.xdotool({"type", "--delay", "25", "/nowhere.roof.json"});
    desktop.expect("file/path", "/nowhere.roof.json");
    desktop.key("Return");
    CHECK(desktop.widget("file/trouble").state.find("/nowhere.roof.json") != std::string::npos);
    CHECK(desktop.widget("state/model").state == house);
    hold_field(desktop, "file/path");
    desktop.xdotool({"key", "ctrl+a"});
    desktop.xdotool({"type", "--delay", "25", other});
    desktop.expect("file/path", other);
    desktop.key("Return");
    desktop.expect("state/model", other);
    test_window::wait_until([&] { return !desktop.has("file/trouble"); }, 30, "the trouble to go");
  }

  SECTION("letters typed right after a click or a chord go to the field, not to commands") {
    const Widget field = desktop.widget("file/path");
    desktop.xdotool({"mousemove", std::to_string(static_cast<int>(field.x + 8)),
                     std::to_string(static_cast<int>(field.y + field.height / 2)), "click", "1",
                     "key", "ctrl+a", "type", "--delay", "0", "gnxpdi/s"});
    desktop.expect("file/path", "gnxpdi/s");
    desktop.key("Escape");
    desktop.xdotool({"key", "ctrl+o", "type", "--delay", "0", "/nowhere/gnx"});
    desktop.expect("browser/name", "/nowhere/gnx");
    desktop.key("Escape");
    CHECK(desktop.widget("state/theme").state == "light");
    CHECK(desktop.widget("layers/air").state == "off");
    CHECK(desktop.widget("state/cut").state.empty());
    CHECK(desktop.widget("state/peeled").state == "0");
    CHECK(desktop.widget("state/tool").state == "0");
  }

  SECTION("Tab and the arrow keys move a slider; a typed value is taken") {
    desktop.key("s");
    const std::string first = desktop.widget("sun/latitude").state;
    desktop.key("Tab");
    desktop.expect("state/focus", "sun/latitude");
    desktop.key("Right");
    desktop.expect_change("sun/latitude", first);
    desktop.xdotool({"type", "--delay", "0", "51"});
    desktop.key("Return");
    desktop.expect("sun/latitude", "51\u00b0 north");
    desktop.key("Escape");
    desktop.expect("state/focus", "");
  }

  SECTION("air moves, stops, and is worked out anew for the weather of a slider") {
    desktop.key("g");
    desktop.expect("layers/air", "on");
    desktop.expect("air/case", "calm summer noon");
    desktop.expect("air/play", "moving");
    const draw::Image before = desktop.screen();
    test_window::wait_until(
        [&] { return draw::compare(before, desktop.screen(), 24).share > 0.0002; }, 30,
        "the heads to move");
    desktop.key("space");
    desktop.expect("air/play", "still");
    const std::string changes = desktop.widget("air/Changes an hour").state;
    const Widget wind = desktop.widget("air/wind");
    desktop.drag(static_cast<int>(wind.x + wind.width / 2),  // half of the fastest wind
                 static_cast<int>(wind.y + wind.height / 2), 4, 0, 1);
    desktop.expect("state/air", "own");
    desktop.expect_change("air/Changes an hour", changes);
    desktop.key("c");
    desktop.expect("air/case", "calm winter night");
    desktop.click(desktop.widget("air/hide"));
    desktop.expect("layers/air", "off");
    CHECK_FALSE(desktop.has("panel/air"));
  }

  SECTION("Ctrl+Q leaves with status 0") {
    desktop.key("ctrl+q");
    CHECK(desktop.program().exit_code(30) == 0);
  }
}

TEST_CASE("a person measures, cuts, peels, flattens and darkens, and then the window rests") {
  const Desktop desktop({house});
  const Widget line = mark(desktop, "line/");
  desktop.click(line);
  desktop.expect("state/measured", "1");
  CHECK_FALSE(desktop.widget("measured/Length, true").state.empty());
  desktop.click(mark(desktop, "plane/"));
  desktop.expect("state/measured", "2");
  CHECK_FALSE(desktop.widget("measured/Distance, level").state.empty());
  desktop.click(desktop.widget("measured/clear"));
  desktop.expect("state/measured", "0");

  desktop.click(desktop.widget("sight/cut"));
  desktop.expect_change("state/cut", "");
  const std::string cut = desktop.widget("state/cut").state;
  CHECK(cut.rfind("across:0.500", 0) == 0);
  const Widget handle = desktop.widget("cut/handle");
  desktop.drag(static_cast<int>(handle.x + handle.width / 2),
               static_cast<int>(handle.y + handle.height / 2), 60, 24, 1);
  desktop.expect_change("state/cut", cut);
  CHECK(desktop.widget("state/measured").state == "0");  // a drag is no click
  desktop.key("x");
  test_window::wait_until([&] { return desktop.widget("state/cut").state.rfind("along", 0) == 0; },
                          30, "the next way to cut");
  desktop.key("x");
  desktop.key("x");
  desktop.expect("state/cut", "");

  desktop.key("Escape");
  desktop.expect("state/selected", "");
  desktop.key("p");
  desktop.expect_change("state/peeled", "0");
  desktop.key("o");
  desktop.expect("state/flat", "on");
  (void)desktop.widget("scale-bar");
  desktop.key("n");
  desktop.expect("state/theme", "dark");
  const double height = desktop.widget("layers/bays").height;
  test_window::wait_until([&] { return has_letters(desktop, "layers/bays"); }, 30, "dark letters");
  desktop.key("t");
  test_window::wait_until([&] { return desktop.widget("layers/bays").height > 1.2 * height; }, 30,
                          "larger letters");
  test_window::wait_until([&] { return has_letters(desktop, "layers/bays"); }, 30,
                          "larger letters on the screen");

  // Nothing is drawn while nothing changes.
  desktop.expect("state/gliding", "no");
  expect_rest(desktop);
  desktop.key("h");
  (void)desktop.widget("plan/ground");
  expect_rest(desktop);
}

TEST_CASE("without a model the window says how to open one, and opens it") {
  Desktop desktop({});
  desktop.expect("state/model", "");
  CHECK_FALSE(desktop.has("totals/Attic/verdict"));
  hold_field(desktop, "file/path");
  desktop.xdotool({"type", "--delay", "25", house});
  desktop.expect("file/path", house);
  desktop.click(desktop.widget("file/open"));
  desktop.expect("state/model", house);
  (void)desktop.widget("totals/Attic/verdict");
}

TEST_CASE("the scale of the screen enlarges the panels") {
  const Desktop usual({house});
  const Desktop large({house, "--scale", "1.5"});
  CHECK(large.widget("layers/bays").height > 1.3 * usual.widget("layers/bays").height);
  CHECK(large.widget("panel/results").width > 1.3 * usual.widget("panel/results").width);
}

TEST_CASE("without a display the window is refused and the picture named") {
  Process program({RIDGEWARD_EXECUTABLE, "view", house}, {"DISPLAY", "WAYLAND_DISPLAY"});
  CHECK(program.exit_code(30) == 2);
  CHECK(program.errors().find("ridgeward picture") != std::string::npos);
}

TEST_CASE("a model that can't be read is refused before any window") {
  Process program({RIDGEWARD_EXECUTABLE, "view", "/nowhere.roof.json"}, {"DISPLAY"});
  CHECK(program.exit_code(30) == 2);
  const std::string errors = program.errors();
  CHECK(errors.find("/nowhere.roof.json") != std::string::npos);
  CHECK(errors.find("display") == std::string::npos);
}
