// A person draws a house from nothing, adds to it, undoes and redoes all of it, saves it, loses the
// program and gets the work back: with mouse and keys.
#include "model/read.hpp"

#include "support/same_model.hpp"
#include "window/desktop.hpp"

#include <catch2/catch.hpp>

#include <cstdlib>
#include <filesystem>
#include <fstream>

using namespace ridgeward;
using test_window::Desktop;
using test_window::wait_until;
using test_window::Widget;

namespace {

/// Where the plan shows a place, in pixels.
struct PlanAim {
  explicit PlanAim(const Desktop& desktop) : desktop_(desktop) {}
  void move(double x_m, double y_m) const {
    const Widget scale = desktop_.widget("plan/scale");
    const double px_per_m = std::atof(scale.state.c_str());
    desktop_.xdotool({"mousemove", std::to_string(static_cast<int>(scale.x + x_m * px_per_m)),
                      std::to_string(static_cast<int>(scale.y - y_m * px_per_m))});
  }
  void click(double x_m, double y_m) const {
    move(x_m, y_m);
    desktop_.xdotool({"click", "1"});
  }
  const Desktop& desktop_;
};

void typed_side(const Desktop& desktop, const std::string& length, const std::string& drawn) {
  desktop.type(length);
  desktop.expect("plan/typed", length);
  desktop.key("Return");
  desktop.expect("plan/drawn", drawn);
}

/// 40 ft by 28 ft: the first corner and the last by clicks, the others by typed lengths.
void draw_house(const Desktop& desktop) {
  desktop.click(desktop.widget("bar/file/new"));
  const PlanAim plan(desktop);
  plan.click(0.0, 0.0);
  desktop.expect("plan/drawn", "1");
  plan.move(8.0, 0.1);
  typed_side(desktop, "40'", "2");
  plan.move(40 * units::foot_m + 0.1, 6.0);
  typed_side(desktop, "28", "3");
  plan.move(6.0, 28 * units::foot_m);
  typed_side(desktop, "480 in", "4");
  desktop.key("Return");
  desktop.expect("state/dirty", "yes");
}

void add_to_edge(const Desktop& desktop, const std::string& edge, const std::string& kind,
                 const std::string& steps) {
  desktop.click(desktop.widget("plan/edge/" + edge));
  desktop.widget("edge/kind");  // its fields are there: it is chosen
  desktop.click(desktop.widget("bar/add"));
  desktop.click(desktop.widget("list/add/" + kind));
  desktop.expect("state/steps", steps);
}

model::RoofModel saved(const std::string& path) {
  wait_until([&] { return std::filesystem::exists(path); }, 20.0, path);
  auto read = model::read_file(path);
  REQUIRE(read.ok());
  return std::move(read).value().model;
}

bool has_copy(const std::string& folder, const std::string& words) {
  std::error_code error;
  for (const auto& entry :
       std::filesystem::directory_iterator(folder + "/state/ridgeward/unsaved", error)) {
    std::ifstream file(entry.path());
    const std::string text((std::istreambuf_iterator<char>(file)), {});
    if (text.find(words) != std::string::npos) {
      return true;
    }
  }
  return false;
}

}  // namespace

TEST_CASE("an import is seen before it is taken, and a file chosen in the desktop's dialog") {
  // A dialog that answers what a file beside it says, as zenity does on its standard output.
  std::string place = (std::filesystem::temp_directory_path() / "dialog-XXXXXX").string();
  REQUIRE(mkdtemp(place.data()) != nullptr);
  const auto answer = [&](const std::string& words) {
    std::ofstream(place + "/zenity") << "#!/bin/sh\n" << words << "\n";
    std::filesystem::permissions(place + "/zenity", std::filesystem::perms::owner_all);
  };
  const std::string sample =
      RIDGEWARD_SOURCE_DIR "/importers/cityjson/samples/house-and-shed.city.json";
  const std::string name = place + "/a $(touch x) 'b'.city.json";  // a name that a shell would mind
  std::filesystem::copy_file(sample, name);
  std::ofstream(place + "/name") << name << "\n";
  answer("exec cat '" + place + "/name'");
  Desktop desktop({"--dialogs", "desktop", "--units", "ft-in",
                   RIDGEWARD_SOURCE_DIR "/models/houses/plain-gable.roof.json"},
                  {"PATH=" + place + ":/usr/bin:/bin", "XDG_CURRENT_DESKTOP"});
  const std::string distance = desktop.widget("state/distance").state;
  const std::string target = desktop.widget("state/target").state;
  desktop.click(desktop.widget("plane/main/0"));
  desktop.expect("state/selected", "plane main/0");

  // Left: all is as it was.
  desktop.key("ctrl+i");
  desktop.expect("state/import", name);
  CHECK(desktop.widget("import/row/Planes given").state == "3");
  CHECK(desktop.widget("import/row/Difference of areas").state == "+0.00 %");
  CHECK(desktop.widget("bar/file/save").state == "disabled");
  CHECK(desktop.has("plane/house-1/0"));
  desktop.click(desktop.widget("import/leave"));
  desktop.expect("state/import", "");
  desktop.expect("state/selected", "plane main/0");
  CHECK(desktop.widget("state/distance").state == distance);
  CHECK(desktop.widget("state/target").state == target);
  CHECK(desktop.widget("state/dirty").state == "no");
  CHECK(desktop.has("plane/main/0"));

  // A dialog that the person closes says nothing; one that no display answers gives way.
  answer("sleep 2; exit 1");
  desktop.key("ctrl+o");
  desktop.widget("message/dialog");
  wait_until([&] { return !desktop.has("message/dialog"); }, 10.0, "the dialog's end");
  answer("exec sleep 60");
  desktop.key("ctrl+o");
  desktop.widget("message/dialog");
  CHECK_FALSE(desktop.has("message/trouble"));
  desktop.click(desktop.widget("dialog/here"));
  desktop.widget("browser/name");
  desktop.key("Escape");
  wait_until([&] { return !desktop.has("browser/name"); }, 10.0, "the list's end");
  answer("echo 'cannot open display:' >&2; exit 1");
  desktop.key("ctrl+i");
  desktop.widget("browser/name");
  desktop.type(sample);
  desktop.expect("browser/name", sample);
  desktop.key("Return");

  // Read again as the person says: a building that is not there, then one that is.
  desktop.widget("import/take");
  desktop.click(desktop.widget("import/leave"));
  desktop.expect("state/import", "");
  const std::string two = RIDGEWARD_SOURCE_DIR "/importers/geojson/samples/two-houses.geojson";
  desktop.key("ctrl+i");
  desktop.expect("browser/name", "");
  CHECK_FALSE(desktop.has("browser/entry/README.md"));
  CHECK_FALSE(desktop.has("browser/entry/plain-gable.roof.json"));  // a model is opened
  desktop.type(two);
  desktop.key("Return");
  desktop.expect("state/import", two);
  desktop.widget("plane/barn-east/1");
  desktop.click(desktop.widget("group/import/reading"));
  desktop.click(desktop.widget("import/option/feature"));
  desktop.type("9");
  desktop.expect("import/option/feature", "9");
  desktop.click(desktop.widget("import/again"));
  CHECK(desktop.widget("import/trouble").state.find("feature") != std::string::npos);
  CHECK(desktop.widget("import/take").state == "disabled");
  desktop.click(desktop.widget("import/option/feature"));
  desktop.key("ctrl+a");
  desktop.type("0");
  desktop.expect("import/option/feature", "0");
  desktop.click(desktop.widget("import/again"));
  wait_until([&] { return !desktop.has("import/trouble"); }, 20.0, "one house");
  wait_until([&] { return !desktop.has("plane/barn-east/1"); }, 20.0, "the other house to go");
  desktop.click(desktop.widget("import/leave"));
  desktop.expect("state/import", "");

  // Taken: another house, not saved.
  desktop.key("ctrl+i");
  desktop.expect("browser/name", "");
  desktop.type(sample);
  desktop.key("Return");
  desktop.click(desktop.widget("import/take"));
  desktop.expect("state/dirty", "yes");
  desktop.expect("state/steps", "0/0");
  CHECK(desktop.has("plane/house-1/0"));
  std::filesystem::remove_all(place);
}

TEST_CASE("a house from nothing to a saved file, and back after a kill") {
  Desktop desktop({"--units", "ft-in"});
  draw_house(desktop);

  desktop.key("h");
  add_to_edge(desktop, "main/1", "wing", "1/1");
  add_to_edge(desktop, "main/0", "dormer", "2/2");
  desktop.key("Escape");
  desktop.expect("state/tool", "0");

  // A run along the whole south eave, a vent on the ridge.
  desktop.click(desktop.widget("bar/tool/intake"));
  desktop.widget("tool/product");
  desktop.click(desktop.widget("plane/main/0"));
  desktop.expect("state/steps", "3/3");
  desktop.click(desktop.widget("bar/tool/exhaust"));
  desktop.expect("tool/product", "ridge-12");
  desktop.click(desktop.widget("line/main/0|main/2"));
  desktop.expect("state/steps", "4/4");
  desktop.key("Escape");

  // They are too little and out of balance; placing them anew mends it.
  const std::string good = "Enough free area, in balance, nothing found in the way.";
  CHECK(desktop.widget("totals/Attic/verdict").state.rfind("R806.2", 0) == 0);
  desktop.click(desktop.widget("bar/vents/place"));
  desktop.expect("state/steps", "5/5");
  desktop.expect("totals/Attic/verdict", good);

  for (int step = 4; step >= 0; --step) {
    desktop.key("ctrl+z");
    desktop.expect("state/steps", std::to_string(step) + "/5");
  }
  for (int step = 1; step <= 5; ++step) {
    desktop.key("ctrl+y");
    desktop.expect("state/steps", std::to_string(step) + "/5");
  }

  const std::string path = desktop.folder() + "/mine.roof.json";
  desktop.key("ctrl+s");
  desktop.widget("browser/name");
  desktop.type(path);
  desktop.expect("browser/name", path);
  desktop.key("Return");
  desktop.expect("state/dirty", "no");
  const model::RoofModel first = saved(path);
  REQUIRE(first.parts.size() == 3);
  CHECK(first.parts[0].outline[1].x == Approx(40 * units::foot_m));
  CHECK(first.parts[0].outline[2].y == Approx(28 * units::foot_m));
  CHECK(first.parts[0].outline[3].x == Approx(0.0).margin(1e-9));
  CHECK_FALSE(first.intake.empty());
  CHECK_FALSE(first.exhaust.empty());

  // One more change, a copy of it, and the power goes.
  desktop.key("ctrl+z");
  desktop.expect("state/dirty", "yes");
  wait_until([&] { return has_copy(desktop.folder(), "mine.roof.json"); }, 20.0, "a copy");
  desktop.kill_and_start({"--units", "ft-in"});
  desktop.widget("recover/take");
  desktop.expect("state/focus", "recover/take");
  desktop.key("Return");
  desktop.expect("state/dirty", "yes");
  desktop.key("ctrl+s");
  desktop.expect("state/dirty", "no");
  const model::RoofModel back = saved(path);
  CHECK(back.parts.size() == 3);
  CHECK(back.intake.size() == 1);
  CHECK(back.intake[0].whole);

  // What stands in a file is not replaced without a question, and no name is lost by a fault. Enter
  // comes at once after the letters.
  const std::string other = desktop.folder() + "/other.roof.json";
  std::ofstream(other) << "precious";
  desktop.key("ctrl+shift+s");
  desktop.expect("browser/name", "mine.roof.json");
  desktop.xdotool({"type", "--delay", "0", other});
  desktop.key("Return");
  desktop.click(desktop.widget("replace/no"));
  desktop.expect("browser/name", other);
  CHECK(std::filesystem::file_size(other) == 8);
  desktop.key("ctrl+a");
  desktop.xdotool({"type", "--delay", "0", "/nowhere/mine.roof.json"});
  desktop.key("Return");
  CHECK(desktop.widget("browser/trouble").state.find("/nowhere/mine") != std::string::npos);
  desktop.expect("browser/name", "/nowhere/mine.roof.json");
  desktop.key("ctrl+a");
  desktop.xdotool({"type", "--delay", "0", other});
  desktop.key("Return");
  desktop.click(desktop.widget("replace/yes"));
  desktop.expect("state/model", other);
  CHECK(saved(other).parts.size() == 3);
}

TEST_CASE("a slot pulled on the ribbon, and pulled back by undo: the model and the picture again") {
  const std::string own =
      std::string(RIDGEWARD_SOURCE_DIR) + "/models/houses/sorrel-lane.roof.json";
  Desktop desktop({own});
  const auto slot = [&] {
    for (const Widget& widget : desktop.widgets()) {
      if (widget.id.rfind("ribbon/slot/", 0) == 0) {
        return widget;
      }
    }
    return Widget{};
  };
  desktop.expect("state/whole", "yes");
  const Widget before = slot();
  REQUIRE(before.width > 20);
  const draw::Image first = desktop.screen();
  const auto end_x = static_cast<int>(before.x + before.width) - 2;
  const auto middle_y = static_cast<int>(before.y + before.height / 2);
  desktop.drag(end_x, middle_y, -24, 0, 1);
  desktop.expect("state/steps", "1/1");
  desktop.expect("state/dirty", "yes");
  desktop.expect("state/whole", "yes");
  CHECK(slot().width < before.width - 12);
  CHECK(draw::compare(first, desktop.screen(), 24).share > 0.002);

  desktop.key("ctrl+z");
  desktop.expect("state/steps", "0/1");
  desktop.expect("state/dirty", "no");
  desktop.expect("state/whole", "yes");
  CHECK(slot().width == before.width);
  desktop.xdotool({"mousemove", "640", "120"});
  desktop.key("Escape");
  desktop.expect("state/selected", "");
  // All but the button Redo, which can be pressed now.
  wait_until([&] { return draw::compare(first, desktop.screen(), 24).share < 0.0015; }, 20.0,
             "the picture as it was");

  const std::string path = desktop.folder() + "/again.roof.json";
  desktop.xdotool({"key", "ctrl+shift+s", "type", "--delay", "0", path});
  desktop.expect("browser/name", path);
  desktop.key("Return");
  const model::RoofModel again = saved(path);
  const auto read = model::read_file(own);
  REQUIRE(read.ok());
  CHECK(tests::difference(again, read.value().model).empty());
}

TEST_CASE("a house drawn by keys alone") {
  const Desktop desktop({"--units", "ft-in"});
  desktop.xdotool({"mousemove", "5", "795"});
  desktop.key("ctrl+n");
  desktop.expect("state/tool", "2");
  desktop.key("Return");
  desktop.expect("plan/drawn", "1");
  desktop.key("Right");
  typed_side(desktop, "40'", "2");
  desktop.key("Up");
  typed_side(desktop, "28'", "3");
  desktop.key("Left");
  typed_side(desktop, "40'", "4");
  desktop.key("Return");
  desktop.expect("state/dirty", "yes");
  desktop.key("Escape");
  desktop.widget("totals/Attic/verdict");
}

TEST_CASE(
    "by keys alone: a run is trimmed and put back, and how the window looks outlives a kill") {
  Desktop desktop({std::string(RIDGEWARD_SOURCE_DIR) + "/models/houses/sorrel-lane.roof.json"});
  const auto holds = [&](const std::string& words) {
    std::ifstream file(desktop.folder() + "/config/ridgeward/window.json");
    const std::string text((std::istreambuf_iterator<char>(file)), {});
    return text.find(words) != std::string::npos;
  };
  desktop.key("r");
  desktop.widget("intake/product");
  desktop.key("ctrl+shift+Left");
  desktop.expect("state/steps", "1/1");
  wait_until([&] { return has_copy(desktop.folder(), "sorrel-lane"); }, 20.0, "a copy");
  desktop.key("ctrl+z");
  desktop.expect("state/dirty", "no");
  wait_until([&] { return !has_copy(desktop.folder(), "sorrel-lane"); }, 20.0, "no copy");
  desktop.expect("state/units", "feet-inches");
  desktop.key("u");
  desktop.expect("state/units", "metric");
  wait_until([&] { return holds("metric") && holds("1280x800"); }, 20.0, "the window's words");
  desktop.kill_and_start({});
  desktop.expect("state/units", "metric");
  CHECK_FALSE(desktop.has("recover/take"));
}
