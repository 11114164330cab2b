// The panels run without graphics: a mouse made of numbers clicks where the recorder says.

#include "panels/pointer.hpp"
#include "panels/screen.hpp"
#include "panels/theme.hpp"
#include "scene/from_assessment.hpp"
#include "support/houses.hpp"

#include <catch2/catch.hpp>
#include <imgui.h>

#include <algorithm>
#include <set>

using namespace ridgeward;
using panels::Intents;
using panels::UiItem;

namespace {

struct PanelDesk {
  Assessment house;
  scene::Scene scene;
  panels::State state;
  panels::Recorder recorder;
  int width = 1280;
  int height = 800;

  explicit PanelDesk(Assessment of, bool has_model = true) : house(std::move(of)) {
    ImGui::CreateContext();
    ImGui::GetIO().IniFilename = nullptr;
    panels::set_theme(1.0);
    unsigned char* pixels = nullptr;
    ImGui::GetIO().Fonts->GetTexDataAsAlpha8(&pixels, nullptr, nullptr);
    scene = scene::from_assessment(house);
    state.has_model = has_model;
    state.camera = scene::fitted(scene::looking_from("south", 0.0).value(), scene.corners,
                                 panels::house_viewport(width, height, state.layers, true), 0.07);
  }
  PanelDesk(const PanelDesk&) = delete;
  PanelDesk& operator=(const PanelDesk&) = delete;
  ~PanelDesk() { ImGui::DestroyContext(); }

  Intents frame(bool is_picture = false) {
    ImGuiIO& io = ImGui::GetIO();
    io.DisplaySize = {static_cast<float>(width), static_cast<float>(height)};
    io.DeltaTime = 1.0F / 60;
    ImGui::NewFrame();
    recorder = {};
    Intents intents;
    const panels::Look look{state, house, scene, width, height};
    if (is_picture) {
      panels::draw_picture(look, recorder);
    } else {
      intents = panels::draw_window(look, recorder);
    }
    ImGui::Render();
    return intents;
  }

  const UiItem& item(const std::string& id) const {
    const auto found = std::find_if(recorder.items().begin(), recorder.items().end(),
                                    [&](const UiItem& i) { return i.id == id; });
    INFO(id);
    REQUIRE(found != recorder.items().end());
    return *found;
  }
  bool has(const std::string& id) const {
    return std::any_of(recorder.items().begin(), recorder.items().end(),
                       [&](const UiItem& i) { return i.id == id; });
  }

  /// A frame that does what it asks for.
  void frame_done() { do_all(frame()); }
  void do_all(const Intents& intents) {
    for (const panels::Intent& intent : intents) {
      state = panels::applied(std::move(state), intent, scene,
                              panels::window_viewport(width, height, state));
    }
  }

  Intents click(const std::string& id) {
    frame();
    frame();
    const UiItem target = item(id);
    ImGui::GetIO().MousePos = {static_cast<float>(target.x + std::min(8.0, target.width / 2)),
                               static_cast<float>(target.y + target.height / 2)};
    Intents all;
    for (const bool down : {false, true, false}) {
      ImGui::GetIO().MouseDown[0] = down;
      const Intents some = frame();
      all.insert(all.end(), some.begin(), some.end());
    }
    return all;
  }
};

template <class T>
T only(const Intents& intents) {
  REQUIRE(intents.size() == 1);
  REQUIRE(std::holds_alternative<T>(intents.front()));
  return std::get<T>(intents.front());
}

}  // namespace

TEST_CASE("layers are switched by their boxes") {
  PanelDesk desk(test_support::wing_house());
  const auto off = only<panels::SetLayer>(desk.click("layers/bays"));
  CHECK(off.layer == scene::Layer::bays);
  CHECK_FALSE(off.on);
  CHECK(only<panels::SetLayer>(desk.click("layers/ceiling")).on);
}

TEST_CASE("units, directions and keys have buttons") {
  PanelDesk desk(test_support::wing_house());
  CHECK(only<panels::SetUnits>(desk.click("units/metric")).style == units::Style::metric);
  CHECK(only<panels::LookFrom>(desk.click("from/north-east")).word == "north-east");
  only<panels::FrameAll>(desk.click("camera/fit"));
  CHECK(only<panels::ShowKeys>(desk.click("keys/open")).on);
  desk.state.keys_shown = true;
  CHECK_FALSE(only<panels::ShowKeys>(desk.click("keys/close")).on);
}

TEST_CASE("what is selected can be framed and cleared") {
  PanelDesk desk(test_support::wing_house());
  desk.state.selected.plane = desk.house.surface.plane_named("main/0");
  desk.state.ribbon.followed = desk.state.selected;  // it has looked already
  desk.frame();
  CHECK(desk.item("selection/title").state == "Plane main/0");
  only<panels::FrameSelection>(desk.click("selection/frame"));
  CHECK(only<panels::Select>(desk.click("selection/clear")).picked.is_nothing());
}

TEST_CASE("a finding goes to its place") {
  PanelDesk desk(test_support::wing_house());
  CHECK(only<panels::GoTo>(desk.click("findings/2")).at == desk.house.findings[1].at);
}

TEST_CASE("the path field opens what it holds") {
  PanelDesk desk(test_support::wing_house());
  desk.state.path_text = "other.roof.json";
  CHECK(only<panels::Open>(desk.click("file/open")).path == "other.roof.json");
  desk.state.path_text.clear();
  CHECK(desk.click("file/open").empty());
  desk.state.edit.trouble = "there is no such file";
  desk.frame();
  CHECK(desk.item("message/trouble").state == "there is no such file");
}

TEST_CASE("the totals are always in sight") {
  PanelDesk desk(test_support::wing_house());
  for (const scene::LayerWords& entry : scene::layer_words()) {
    desk.state.layers.set(entry.layer, false);
  }
  desk.frame();
  CHECK(desk.item("totals/Attic/intake").state == "372 in\u00b2");
  CHECK(desk.item("totals/Attic/balance").state == "56 % intake");
  CHECK(desk.has("totals/Attic/verdict"));
}

TEST_CASE("without a model the window says how to open one") {
  PanelDesk desk(Assessment{}, false);
  desk.frame();
  CHECK(desk.has("file/path"));
  CHECK_FALSE(desk.has("totals/Attic/intake"));
}

TEST_CASE("widgets stay within the window and every id is used once") {
  PanelDesk desk(test_support::wing_house());
  desk.frame();
  desk.frame();
  std::set<std::string> seen;
  for (const UiItem& item : desk.recorder.items()) {
    INFO(item.id);
    if (item.kind == "mark" || item.id.rfind("label/", 0) == 0) {
      continue;
    }
    CHECK(seen.insert(item.id).second);
    CHECK(item.x >= 0);
    CHECK(item.y >= 0);
    CHECK(item.x + item.width <= desk.width);
    CHECK(item.y + item.height <= desk.height);
  }
  CHECK(seen.size() > 40);
}

TEST_CASE("a picture carries legend and totals, as far as they are asked for") {
  PanelDesk desk(test_support::wing_house());
  desk.frame(true);
  desk.frame(true);
  for (const char* id : {"legend/eave", "legend/valley", "legend/slot cut in the deck",
                         "totals/Attic/exhaust", "panel/totals", "panel/legend", "title"}) {
    CHECK(desk.has(id));
  }
  CHECK_FALSE(desk.has("legend/hip"));  // there is none on this roof
  CHECK_FALSE(desk.has("layers/bays"));
  const UiItem legend = desk.item("panel/legend");
  const UiItem totals = desk.item("panel/totals");
  CHECK(legend.y >= totals.y + totals.height);
  CHECK(legend.y + legend.height <= desk.height);
  desk.state.layers.set(scene::Layer::totals, false);
  desk.frame(true);
  CHECK_FALSE(desk.has("panel/totals"));
}

TEST_CASE("a picture without room keeps to the house") {
  PanelDesk desk(test_support::wing_house());
  desk.width = 480;
  desk.frame(true);
  CHECK_FALSE(desk.has("panel/totals"));
  CHECK_FALSE(desk.has("panel/legend"));
  desk.width = 900;
  desk.height = 400;
  desk.frame(true);
  desk.frame(true);  // panels know their height from the second frame on
  CHECK(desk.has("panel/totals"));
  CHECK_FALSE(desk.has("panel/legend"));
}

TEST_CASE("of many compartments a picture shows the worst, the window all") {
  PanelDesk desk(test_support::wing_house());
  for (int i = 0; i < 5; ++i) {
    attic::Compartment more = desk.house.attic.compartments[CompartmentId(std::size_t{0})];
    more.id = "space-" + std::to_string(i);
    desk.house.attic.compartments.push_back(more);
    desk.house.tests.required.push_back({300.0, 0.1});
    desk.house.vents.totals.push_back({0.1, 0.1});
  }
  desk.house.findings.clear();
  codes::Test failed;
  failed.compartment = CompartmentId(std::size_t{5});
  failed.words = "enough area";
  desk.house.tests.tests.push_back(failed);
  desk.frame(true);
  CHECK(desk.has("totals/Space-4/verdict"));
  CHECK_FALSE(desk.has("totals/Space-3/verdict"));
  desk.frame();
  CHECK(desk.has("totals/Space-0/verdict"));
  CHECK(desk.has("totals/Space-4/verdict"));
  // More than five: a row each, what is wrong first and counted.
  CHECK(desk.item("totals/wrong").state == "1 at fault");
  CHECK(desk.item("totals/Space-4/verdict").y < desk.item("totals/Attic/verdict").y);
  CHECK(desk.item("totals/Space-4/verdict").height > desk.item("totals/Attic/verdict").height);
  (void)only<panels::GoTo>(desk.click("totals/Space-4/verdict"));
}

TEST_CASE("what was open lately stands on the empty window, what is gone says so") {
  PanelDesk desk(Assessment{}, false);
  const std::string there = "/somewhere/a.roof.json";
  const std::string gone = "/somewhere/b.roof.json";
  desk.state.edit.recent = {there, gone};
  desk.state.edit.missing = {gone};
  desk.frame();
  CHECK(desk.item("recent/" + there).state == "there");
  CHECK(desk.item("recent/" + gone).state == "not there");
  CHECK(desk.click("recent/" + gone).empty());
  desk.do_all(desk.click("recent/" + there));
  REQUIRE(desk.state.edit.wishes.size() == 1);
  const auto* open = std::get_if<panels::OpenFile>(&desk.state.edit.wishes.front());
  REQUIRE(open != nullptr);
  CHECK(open->path == there);
}

TEST_CASE("Tab takes the keys to a slider; arrows and typed values move it, Esc gives them back") {
  PanelDesk desk(test_support::wing_house());
  desk.state.sight.sun.is_shown = true;
  desk.frame_done();
  panels::Input input;
  input.pressed = {panels::Key::turn_left, panels::Key::pad_4, panels::Key::cut};
  const auto follow = [&] {
    const auto asked = panels::follow_sliders(desk.recorder, desk.state.slider, input);
    for (const panels::SliderIntent& one : asked) {
      apply(desk.state.slider, one);
    }
  };
  follow();
  CHECK(desk.state.slider.id.empty());
  CHECK(input.pressed.size() == 3);  // nothing has the keys: they are the view's
  desk.state.slider = {"sun/latitude", {}};
  follow();
  CHECK(input.pressed == std::vector<panels::Key>{panels::Key::cut});
  const auto type = [&](const char* text) {
    ImGui::GetIO().AddInputCharactersUTF8(text);
    desk.frame_done();
  };
  const auto strike = [&](ImGuiKey_ key) {
    const int code = ImGui::GetIO().KeyMap[key];
    ImGui::GetIO().KeysDown[code] = true;
    desk.frame_done();
    ImGui::GetIO().KeysDown[code] = false;
    desk.frame_done();
  };
  for (int i = 0; i < ImGuiKey_COUNT; ++i) {
    ImGui::GetIO().KeyMap[i] = 300 + i;
  }
  const double before = desk.state.sight.sun.latitude_deg;
  strike(ImGuiKey_RightArrow);
  CHECK(desk.state.sight.sun.latitude_deg == Approx(before + 1));
  type("51");
  type(".5");
  CHECK(desk.state.slider.typed == "51.5");
  strike(ImGuiKey_Enter);
  CHECK(desk.state.slider.typed.empty());
  CHECK(desk.state.sight.sun.latitude_deg == Approx(51.5));
  type("g");  // begins no value
  CHECK(desk.state.slider.typed.empty());
  desk.state.slider = {"sun/hour", {}};
  type("14:30");
  strike(ImGuiKey_Enter);
  CHECK(desk.state.sight.sun.hour == Approx(14.5));
  desk.state.sight.sun.is_shown = false;
  desk.frame_done();
  follow();
  CHECK(desk.state.slider.id.empty());  // a hidden slider keeps no keys
}

TEST_CASE("letters grow as far as the panels leave the house room") {
  CHECK(panels::fitting_scale(1.0, 640, 480) == 1.0);
  CHECK(panels::fitting_scale(2.0, 1280, 720) == Approx(1.4));
  CHECK(panels::fitting_scale(2.0, 1920, 1080) == Approx(2.0));
  CHECK(panels::fitting_scale(2.8, 3840, 2160) == Approx(2.8));
  CHECK(panels::fitting_scale(0.8, 640, 480) == Approx(0.8));
}

TEST_CASE("the dump is one object a line") {
  const std::string text = panels::to_json_lines(
      {{"a\"b", "button", "on", 1, 2, 3, 4}, {"c", "text", "\xff", 0, 0, 0, 0}});
  CHECK(std::count(text.begin(), text.end(), '\n') == 2);
  CHECK(text.find("\"id\":\"a\\\"b\"") != std::string::npos);
}
