// The panels run without graphics.

#include "panels/edit_panels.hpp"
#include "panels/pointer.hpp"
#include "panels/screen.hpp"
#include "support/houses.hpp"
#include "viewer/desk.hpp"

#include <catch2/catch.hpp>
#include <imgui.h>

#include <algorithm>
#include <set>
#include <string>
#include <utility>
#include <vector>

using namespace ridgeward;
using panels::Intents;
using panels::UiItem;

namespace {

/// The house seen from the south.
struct SouthDesk : test_viewer::Desk {
  explicit SouthDesk(Assessment of, bool has_model = true) : Desk(std::move(of), has_model) {
    state.camera = scene::fitted(scene::looking_from("south", 0.0).value(), scene.corners,
                                 panels::house_viewport(width, height, state.layers, true), 0.07);
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
  SouthDesk desk(test_support::wing_house());
  const auto off = only<panels::SetLayer>(desk.asked_by_click("layers/bays"));
  CHECK(off.layer == scene::Layer::bays);
  CHECK_FALSE(off.on);
  CHECK(only<panels::SetLayer>(desk.asked_by_click("layers/ceiling")).on);
}

TEST_CASE("units, directions and keys have buttons") {
  SouthDesk desk(test_support::wing_house());
  CHECK(only<panels::SetUnits>(desk.asked_by_click("units/metric")).style == units::Style::metric);
  CHECK(only<panels::LookFrom>(desk.asked_by_click("from/north-east")).word == "north-east");
  only<panels::FrameAll>(desk.asked_by_click("camera/fit"));
  CHECK(only<panels::ShowKeys>(desk.asked_by_click("keys/open")).on);
  desk.state.keys_shown = true;
  CHECK_FALSE(only<panels::ShowKeys>(desk.asked_by_click("keys/close")).on);
}

TEST_CASE("what is selected can be framed and cleared") {
  SouthDesk desk(test_support::wing_house());
  desk.state.selected.plane = desk.house.surface.plane_named("main/0");
  desk.state.ribbon.followed = desk.state.selected;  // it has looked already
  desk.asked();
  CHECK(desk.item("selection/title").state == "Plane main/0");
  only<panels::FrameSelection>(desk.asked_by_click("selection/frame"));
  CHECK(only<panels::Select>(desk.asked_by_click("selection/clear")).picked.is_nothing());
}

TEST_CASE("a finding goes to its place") {
  SouthDesk desk(test_support::wing_house());
  CHECK(only<panels::GoTo>(desk.asked_by_click("findings/2")).at == desk.house.findings[1].at);
}

TEST_CASE("the path field opens what it holds") {
  SouthDesk desk(test_support::wing_house());
  desk.state.path_text = "other.roof.json";
  CHECK(only<panels::Open>(desk.asked_by_click("file/open")).path == "other.roof.json");
  desk.state.path_text.clear();
  CHECK(desk.asked_by_click("file/open").empty());
  desk.state.trouble = "there is no such file";
  desk.asked();
  CHECK(desk.item("file/trouble").state == "there is no such file");
}

TEST_CASE("the totals are always in sight") {
  SouthDesk desk(test_support::wing_house());
  for (const scene::LayerWords& entry : scene::layer_words()) {
    desk.state.layers.set(entry.layer, false);
  }
  desk.asked();
  CHECK(desk.item("totals/Attic/intake").state == "372 in\u00b2");
  CHECK(desk.item("totals/Attic/balance").state == "56 % intake");
  CHECK(desk.has("totals/Attic/verdict"));
}

TEST_CASE("without a model the window says how to open one") {
  SouthDesk desk(Assessment{}, false);
  desk.asked();
  CHECK(desk.has("file/path"));
  CHECK_FALSE(desk.has("totals/Attic/intake"));
}

TEST_CASE("widgets stay within the window and every id is used once") {
  SouthDesk desk(test_support::wing_house());
  desk.asked();
  desk.asked();
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
  SouthDesk desk(test_support::wing_house());
  desk.asked(true);
  desk.asked(true);
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
  desk.asked(true);
  CHECK_FALSE(desk.has("panel/totals"));
}

TEST_CASE("a picture without room keeps to the house") {
  SouthDesk desk(test_support::wing_house());
  desk.width = 480;
  desk.asked(true);
  CHECK_FALSE(desk.has("panel/totals"));
  CHECK_FALSE(desk.has("panel/legend"));
  desk.width = 900;
  desk.height = 400;
  desk.asked(true);
  desk.asked(true);  // panels know their height from the second frame on
  CHECK(desk.has("panel/totals"));
  CHECK_FALSE(desk.has("panel/legend"));
}

TEST_CASE("of many compartments a picture shows the worst, the window all") {
  SouthDesk desk(test_support::wing_house());
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
  desk.asked(true);
  CHECK(desk.has("totals/Space-4/verdict"));
  CHECK_FALSE(desk.has("totals/Space-3/verdict"));
  desk.asked();
  CHECK(desk.has("totals/Space-0/verdict"));
  CHECK(desk.has("totals/Space-4/verdict"));
  // More than five: a row each, what is wrong first and counted.
  CHECK(desk.item("totals/wrong").state == "1 at fault");
  CHECK(desk.item("totals/Space-4/verdict").y < desk.item("totals/Attic/verdict").y);
  CHECK(desk.item("totals/Space-4/verdict").height > desk.item("totals/Attic/verdict").height);
  (void)only<panels::GoTo>(desk.asked_by_click("totals/Space-4/verdict"));
}

TEST_CASE("what was open lately stands on the empty window, what is gone says so") {
  SouthDesk desk(Assessment{}, false);
  const std::string there = "/somewhere/a.roof.json";
  const std::string gone = "/somewhere/b.roof.json";
  desk.state.edit.recent = {there, gone};
  desk.state.edit.missing = {gone};
  desk.asked();
  CHECK(desk.item("recent/" + there).state == "there");
  CHECK(desk.item("recent/" + gone).state == "not there");
  CHECK(desk.asked_by_click("recent/" + gone).empty());
  desk.do_all(desk.asked_by_click("recent/" + there));
  REQUIRE(desk.state.edit.wishes.size() == 1);
  const auto* open = std::get_if<panels::OpenFile>(&desk.state.edit.wishes.front());
  REQUIRE(open != nullptr);
  CHECK(open->path == there);
}

TEST_CASE("the list of files to open begins with what was open lately, and the keys reach it") {
  SouthDesk desk(test_support::wing_house());
  const std::vector<std::string> there{"/somewhere/a.roof.json", "/elsewhere/c.roof.json"};
  const std::string gone = "/somewhere/b.roof.json";
  panels::EditState& edit = desk.state.edit;
  edit.recent = {there[0], gone, there[1]};
  edit.missing = {gone};
  // Down from the first to the last that is there, Up back to what was typed anew.
  CHECK(panels::recent_beside(edit, "", 1) == there[0]);
  CHECK(panels::recent_beside(edit, "typed", 1) == there[0]);
  CHECK(panels::recent_beside(edit, "typed", -1) == "typed");
  CHECK(panels::recent_beside(edit, there[0], 1) == there[1]);
  CHECK(panels::recent_beside(edit, there[1], 1) == there[1]);
  CHECK(panels::recent_beside(edit, there[1], -1) == there[0]);
  CHECK(panels::recent_beside(edit, there[0], -1).empty());
  edit.browser.is_shown = true;
  edit.browser.folder = edit.browser.listed = "/";
  desk.asked();
  CHECK(desk.item("browser/recent/" + there[0]).state == "there");
  CHECK(desk.item("browser/recent/" + gone).state == "not there");
  CHECK(desk.item("browser/recent/" + there[0]).y < desk.item("browser/recent/" + there[1]).y);
  for (int i = 0; i < ImGuiKey_COUNT; ++i) {
    ImGui::GetIO().KeyMap[i] = 300 + i;
  }
  const auto strike = [&](ImGuiKey_ key) { desk.key(ImGui::GetIO().KeyMap[key]); };
  desk.frame();
  strike(ImGuiKey_DownArrow);
  CHECK(edit.browser.name == there[0]);
  strike(ImGuiKey_DownArrow);
  CHECK(edit.browser.name == there[1]);
  strike(ImGuiKey_Enter);
  REQUIRE(edit.wishes.size() == 1);
  CHECK(std::get<panels::OpenFile>(edit.wishes.front()).path == there[1]);
  // The same by a click; other lists of files have none of it.
  desk.do_all(desk.asked_by_click("browser/recent/" + there[0]));
  REQUIRE(edit.wishes.size() == 2);
  CHECK(std::get<panels::OpenFile>(edit.wishes.back()).path == there[0]);
  edit.browser = {};
  edit.browser.is_shown = true;
  edit.browser.what = panels::Pick::For::save;
  desk.asked();
  CHECK_FALSE(desk.has("browser/recent/" + there[0]));
}

TEST_CASE("long work is a bar with words, and Cancel") {
  SouthDesk desk(test_support::wing_house());
  desk.asked();
  CHECK_FALSE(desk.has("message/share"));
  desk.state.edit.busy = "Writing a.pdf";
  desk.asked();
  CHECK(desk.item("message/share").state.empty());
  desk.state.edit.busy = "Writing a.pdf, 3 of 15 pages";
  desk.state.edit.busy_share = 0.2;
  desk.asked();
  CHECK(desk.item("message/share").state == "20 %");
  CHECK(desk.item("message/busy").state == "Writing a.pdf, 3 of 15 pages");
  desk.do_all(desk.asked_by_click("work/stop"));
  REQUIRE(desk.state.edit.wishes.size() == 1);
  CHECK(std::holds_alternative<panels::StopWork>(desk.state.edit.wishes.front()));
}

TEST_CASE("another house takes nothing over from the one before") {
  panels::EditState edit;
  edit.target = {panels::Target::What::part, "main", 0};
  edit.corner = 2;
  edit.tool = panels::Tool::draw;
  edit.is_new = true;
  edit.said = {"x"};
  edit.trouble = edit.trouble_field = "y";
  edit.import.emplace();
  edit.recent = {"/a"};
  edit.has_fields = true;
  panels::forget_house(edit);
  CHECK(edit.target == panels::Target{});
  CHECK_FALSE(edit.corner);
  CHECK(edit.tool == panels::Tool::look);
  CHECK_FALSE(edit.is_new);
  CHECK(edit.said.empty());
  CHECK((edit.trouble + edit.trouble_field).empty());
  CHECK_FALSE(edit.import);
  CHECK(edit.recent.size() == 1);  // that is about no house
  CHECK(edit.has_fields);          // nor is how the window is laid out
}

TEST_CASE("Tab takes the keys to a slider; arrows and typed values move it, Esc gives them back") {
  SouthDesk desk(test_support::wing_house());
  desk.state.sight.sun.is_shown = true;
  desk.frame();
  panels::Input input;
  input.pressed = {"Left", "4", "X"};
  const auto follow = [&] {
    const auto asked = panels::follow_focus(desk.recorder, desk.state.focus, input);
    for (const panels::FocusIntent& one : asked) {
      apply(desk.state.focus, one);
    }
  };
  follow();
  CHECK(desk.state.focus.id.empty());
  CHECK(input.pressed.size() == 3);  // nothing has the keys: they are the view's
  desk.state.focus = {"sun/latitude", {}};
  follow();
  CHECK(input.pressed == std::vector<std::string>{"X"});
  const auto type = [&](const char* text) {
    ImGui::GetIO().AddInputCharactersUTF8(text);
    desk.frame();
  };
  const auto strike = [&](ImGuiKey_ key) {
    const int code = ImGui::GetIO().KeyMap[key];
    ImGui::GetIO().KeysDown[code] = true;
    desk.frame();
    ImGui::GetIO().KeysDown[code] = false;
    desk.frame();
  };
  for (int i = 0; i < ImGuiKey_COUNT; ++i) {
    ImGui::GetIO().KeyMap[i] = 300 + i;
  }
  const double before = desk.state.sight.sun.latitude_deg;
  strike(ImGuiKey_RightArrow);
  CHECK(desk.state.sight.sun.latitude_deg == Approx(before + 1));
  type("51");
  type(".5");
  CHECK(desk.state.focus.typed == "51.5");
  strike(ImGuiKey_Enter);
  CHECK(desk.state.focus.typed.empty());
  CHECK(desk.state.sight.sun.latitude_deg == Approx(51.5));
  type("g");  // begins no value
  CHECK(desk.state.focus.typed.empty());
  desk.state.focus = {"sun/hour", {}};
  type("14:30");
  strike(ImGuiKey_Enter);
  CHECK(desk.state.sight.sun.hour == Approx(14.5));
  desk.state.sight.sun.is_shown = false;
  desk.frame();
  follow();
  CHECK(desk.state.focus.id.empty());  // a hidden slider keeps no keys
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
