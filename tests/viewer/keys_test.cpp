// The window by keys alone: the table of commands, who has the keys, what is selected, put, moved
// and trimmed; what is remembered.
#include "draw/palette.hpp"
#include "edit/stage.hpp"
#include "panels/commands.hpp"
#include "panels/remembered.hpp"
#include "panels/ribbon_panel.hpp"
#include "viewer/desk.hpp"

#include <glm/geometric.hpp>

#include <cmath>
#include <set>

using namespace ridgeward;
using panels::Target;
using panels::Tool;
using test_viewer::assessed;
using test_viewer::demo;
using test_viewer::Desk;

namespace {

Desk& opened(Desk& desk) {
  desk.state.edit.is_open = true;
  desk.state.sight.is_still = true;
  desk.frame();
  return desk;
}

/// The last wish of a kind that keys led to.
template <class Wanted>
std::optional<Wanted> wished(Desk& desk) {
  std::optional<Wanted> found;
  for (const panels::Wish& wish : desk.state.edit.wishes) {
    if (const auto* one = std::get_if<Wanted>(&wish)) {
      found = *one;
    }
  }
  desk.state.edit.wishes.clear();
  return found;
}

template <class Edit>
std::optional<Edit> edited(Desk& desk) {
  const auto done = wished<panels::Do>(desk);
  return done && std::holds_alternative<Edit>(done->edit)
             ? std::optional(std::get<Edit>(done->edit))
             : std::nullopt;
}

void type(Desk& desk, const char* text) {
  ImGui::GetIO().AddInputCharactersUTF8(text);
  desk.frame();
}

/// The same house with an edit done.
void take(Desk& desk, const edit::Edit& change) {
  const auto changed = edit::edited(desk.house.model, change);
  REQUIRE(changed);
  const auto catalogue =
      model::read_catalogue_file(RIDGEWARD_SOURCE_DIR "/models/catalogues/default.json");
  auto now = assess(changed.value().model, catalogue.value(), codes::CodeSet{});
  REQUIRE(now);
  desk.house = std::move(now).value();
  desk.scene = scene::from_assessment(desk.house);
}

}  // namespace

TEST_CASE("all that has a key or a button is among the commands, and says so by its words") {
  panels::State state;
  state.has_model = state.edit.is_open = true;
  const auto all = panels::commands(state);
  // What a person types, and what comes first.
  const std::vector<std::pair<const char*, const char*>> asked{{"larg", "view/large"},
                                                               {"night", "view/dark"},
                                                               {"sun", "view/sun"},
                                                               {"flat", "view/flat"},
                                                               {"across the", "view/cut-across"},
                                                               {"peel", "view/peel"},
                                                               {"measure", "view/measure"},
                                                               {"lesson", "lesson/open"},
                                                               {"eave ribbon", "view/ribbon"},
                                                               {"weather", "view/air-case"},
                                                               {"stand still", "view/air-play"},
                                                               {"obstacle", "tool/obstacle"},
                                                               {"place vents", "vents/place"},
                                                               {"units", "view/units"},
                                                               {"fit all", "view/fit"}};
  for (const auto& [text, id] : asked) {
    CAPTURE(text);
    const auto found = panels::matching(all, text);
    REQUIRE_FALSE(found.empty());
    CHECK(found.front().id == id);
    CHECK(found.front().can_be_done());
  }
  state.sight.cut.way = scene::CutWay::across;
  state.sight.is_large = state.sight.is_dark = state.sight.sun.is_shown = true;
  const auto then = panels::commands(state);
  CHECK(panels::matching(then, "other half").front().id == "view/cut-flip");
  for (const char* text : {"large", "night", "sun"}) {
    CHECK_FALSE(panels::matching(then, text).empty());
  }
  // Every key leads to its own command and to no other.
  std::set<std::string> keys;
  for (const panels::Command& one : then) {
    std::vector<std::string> its = one.also;
    its.push_back(one.keys);
    for (const std::string& key : its) {
      CAPTURE(one.id, key);
      CHECK((key.empty() || keys.insert(key).second));
      CHECK((key.empty() || panels::asked_by(key, state).size() == one.ask.size()));
    }
  }
  CHECK(panels::asked_by("Ctrl+Alt+Y", state).empty());
  // Without a house there is nothing to edit.
  CHECK_FALSE(panels::command(panels::State{}, "edit/fields").can_be_done());
}

TEST_CASE("the palette says when nothing is called so; F1 lists each key once") {
  Desk desk(assessed(demo("plain-gable")));
  opened(desk);
  desk.state.edit.has_palette = true;
  type(desk, "no such");
  desk.frame();
  CHECK(desk.item("palette/nothing").state.find("no such") != std::string::npos);
  desk.strike("Esc");
  CHECK_FALSE(desk.state.edit.has_palette);
  desk.strike("F1");
  CHECK(desk.item("keys/view/large").state == "T");
  CHECK(desk.item("keys/view/fit").state == "Home, A");
  CHECK(desk.item("keys/file/close").state == "Ctrl+Q");
  // One column ends before the next begins, and the last within the panel.
  const panels::UiItem panel = desk.item("panel/keys");
  for (const panels::UiItem& item : desk.recorder.items()) {
    if (item.id.starts_with("keys/")) {
      CAPTURE(item.id);
      CHECK(item.x + item.width < panel.x + panel.width);
      CHECK(item.y + item.height < 800.0);
    }
  }
  CHECK(desk.state.focus.id == "keys/close");
  desk.strike("Enter");
  desk.frame();
  CHECK_FALSE(desk.state.keys_shown);
}

TEST_CASE("questions are answered by keys, with the answer in a ring") {
  Desk desk(assessed(demo("plain-gable")));
  opened(desk);
  desk.state.edit.found_work = "";
  desk.frame();
  desk.frame();
  CHECK(desk.state.focus.id == "recover/take");
  CHECK(desk.recorder.focus == "recover/take");
  desk.strike("Enter");
  auto recover = wished<panels::Recover>(desk);
  REQUIRE(recover);
  CHECK(recover->answer == panels::Recover::Answer::take);
  desk.strike("Tab");
  CHECK(desk.state.focus.id == "recover/discard");
  desk.strike("Space");
  recover = wished<panels::Recover>(desk);
  REQUIRE(recover);
  CHECK(recover->answer == panels::Recover::Answer::discard);
  desk.strike("U");  // nothing behind the question hears keys
  CHECK(desk.state.style == units::Style::feet_inches);
  desk.strike("Esc");
  recover = wished<panels::Recover>(desk);
  REQUIRE(recover);
  CHECK(recover->answer == panels::Recover::Answer::later);

  desk.state.edit.found_work.reset();
  desk.state.edit.asks_unsaved = true;
  desk.frame();
  desk.frame();
  CHECK(desk.state.focus.id == "unsaved/save");
  desk.strike("Right");
  desk.strike("Enter");
  auto unsaved = wished<panels::Unsaved>(desk);
  REQUIRE(unsaved);
  CHECK(unsaved->answer == panels::Unsaved::Answer::discard);
  desk.strike("Esc");
  unsaved = wished<panels::Unsaved>(desk);
  REQUIRE(unsaved);
  CHECK(unsaved->answer == panels::Unsaved::Answer::cancel);
  desk.state.edit.asks_unsaved = false;
  desk.strike("U");
  CHECK(desk.state.focus.id.empty());
  CHECK(desk.state.style == units::Style::metric);
}

TEST_CASE("Enter goes into the fields, Tab goes on and takes what was typed") {
  Desk desk(assessed(demo("plain-gable")));
  opened(desk);
  desk.state.edit.target = {Target::What::edge, "main", 0};
  desk.strike("Enter");
  desk.frame();
  REQUIRE(desk.state.edit.has_fields);
  CHECK(desk.state.focus.id == "edge/kind");
  desk.strike("Tab");
  CHECK(desk.state.focus.id == "edge/pitch");
  type(desk, "9/12");
  desk.strike("Tab");
  CHECK(desk.state.focus.id == "edge/overhang");
  const auto pitch = edited<edit::SetEdge>(desk);
  REQUIRE(pitch);
  CHECK(pitch->value.pitch == units::Pitch::from_rise_run(9, 12));
  // A choice opens, its list has the keys, and gives them back.
  desk.strike("Shift+Tab");
  desk.strike("Shift+Tab");
  CHECK(desk.state.focus.id == "edge/kind");
  desk.strike("Enter");
  desk.frame();
  CHECK(desk.state.focus.id == "edge/kind/Eave");
  desk.strike("Down");
  desk.strike("Enter");
  desk.frame();
  const auto kind = edited<edit::SetEdge>(desk);
  REQUIRE(kind);
  CHECK(kind->value.kind == model::EdgeKind::gable);
  CHECK(desk.state.focus.id == "edge/kind");
  desk.strike("Esc");
  CHECK(desk.state.focus.id.empty());
}

TEST_CASE("Tab reaches every control, F6 every panel, and the mouse gives the keys back") {
  Desk desk(assessed(demo("plain-gable")));
  opened(desk);
  std::set<std::string> reached;
  std::set<std::string> entered;
  for (int i = 0; i < 200; ++i) {
    desk.strike("Tab");
    if (desk.state.focus.id.empty()) {
      break;
    }
    reached.insert(desk.state.focus.id);
  }
  for (const panels::Control& control : desk.recorder.controls()) {
    CAPTURE(control.id);
    CHECK(reached.count(control.id) == 1);
  }
  for (int i = 0; i < 20; ++i) {
    desk.strike("F6");
    for (const panels::Control& control : desk.recorder.controls()) {
      if (control.id == desk.state.focus.id) {
        entered.insert(control.panel);
      }
    }
  }
  for (const char* panel : {"panel/bar", "panel/controls", "panel/tools", "panel/ribbon"}) {
    CHECK(entered.count(panel) == 1);
  }
  desk.strike("Tab");
  desk.strike("Tab");
  REQUIRE_FALSE(desk.state.focus.id.empty());
  desk.move(640, 300);
  desk.press(true);
  desk.press(false);
  CHECK(desk.state.focus.id.empty());
}

TEST_CASE("keys step through planes, lines, bays and vents, round and round and back") {
  Desk desk(assessed(demo("sorrel-lane")));
  opened(desk);
  const auto& planes = desk.house.surface.planes;
  std::set<std::size_t> seen;
  for (std::size_t i = 0; i < planes.size(); ++i) {
    desk.strike("W");
    seen.insert(desk.state.selected.plane.value);
    // What is selected can be seen.
    const auto& plane = planes[desk.state.selected.plane];
    CHECK(glm::dot(plane.frame.normal, desk.state.camera.axes().back) > 0.0);
    CHECK(desk.state.edit.target ==
          Target{Target::What::edge, desk.house.model.parts[plane.part].id, plane.edge});
  }
  CHECK(seen.size() == planes.size());
  desk.strike("W");
  const auto first = desk.state.selected.plane;
  CHECK(first.value == 0);
  desk.strike("Shift+W");
  CHECK(desk.state.selected.plane.value == planes.size() - 1);

  desk.strike("K");
  CHECK(desk.house.surface.lines[desk.state.selected.line].kind == surface::LineKind::eave);
  desk.strike("B");
  const BayId bay = desk.state.ribbon.bay;
  CHECK(desk.house.framing.bays.has(bay));
  desk.strike("B");
  CHECK_FALSE(desk.state.ribbon.bay == bay);
  desk.strike("Shift+B");
  CHECK(desk.state.ribbon.bay == bay);

  const model::RoofModel& model = desk.house.model;
  desk.strike("R");
  CHECK(desk.state.edit.target == Target{Target::What::intake, model.intake[0].id, 0});
  REQUIRE(desk.house.vents.slots.has(desk.state.ribbon.slot));
  CHECK(desk.house.vents.slots[desk.state.ribbon.slot].run == model.intake[0].id);
  desk.strike("Shift+R");
  CHECK(desk.state.edit.target.what != Target::What::intake);
}

TEST_CASE("the selected run moves and is trimmed by steps and bays, and stays on its eave") {
  Desk desk(assessed(demo("sorrel-lane")));
  opened(desk);
  desk.strike("R");
  const auto run = [&] { return desk.house.model.intake[0]; };
  const auto ends = [&] {
    double from = 1e9;
    double to = -1e9;
    for (const vents::Slot& slot : desk.house.vents.slots) {
      if (slot.run == run().id) {
        from = std::min(from, slot.start_m);
        to = std::max(to, slot.end_m);
      }
    }
    return std::pair(from, to);
  };
  const auto [from, to] = ends();
  desk.strike("Ctrl+Shift+Left");
  const auto trimmed = edited<edit::PutIntake>(desk);
  REQUIRE(trimmed);
  CHECK_FALSE(trimmed->value.whole);
  CHECK(trimmed->value.from_m == Approx(from).margin(1e-6));
  // One rafter spacing and a rafter's thickness at most: 24 in and 1 1/2 in.
  CHECK(trimmed->value.to_m < to - 0.2);
  CHECK(trimmed->value.to_m > to - 26 * units::inch_m);
  take(desk, *trimmed);

  desk.strike("Alt+Right");
  const auto left = edited<edit::PutIntake>(desk);
  REQUIRE(left);
  CHECK(left->value.from_m > from + 0.2);
  CHECK(left->value.to_m == Approx(trimmed->value.to_m));
  take(desk, *left);

  const double length = run().to_m - run().from_m;
  const double before = run().from_m;
  desk.strike("Shift+Left");
  const auto moved = edited<edit::PutIntake>(desk);
  REQUIRE(moved);
  CHECK(moved->value.to_m - moved->value.from_m == Approx(length).margin(1e-6));
  CHECK(before - moved->value.from_m == Approx(units::inch_m).margin(units::inch_m));
  CHECK(moved->value.from_m < before);
  take(desk, *moved);
  // However often it is pushed, it ends where the eave ends.
  for (int i = 0; i < 40; ++i) {
    desk.strike("Ctrl+Left");
    if (const auto far = edited<edit::PutIntake>(desk)) {
      CHECK(far->value.from_m < run().from_m);
      CHECK(far->value.to_m - far->value.from_m == Approx(length).margin(1e-6));
      take(desk, *far);
    } else {
      break;
    }
  }
  desk.strike("Ctrl+Left");
  CHECK_FALSE(edited<edit::PutIntake>(desk));
}

TEST_CASE("Enter puts what the tool puts on what is selected; arrows move it and corners in plan") {
  Desk desk(assessed(demo("plain-gable")));
  opened(desk);
  desk.state.edit.products = {{"over-deck-10", "strip", model::VentKind::over_deck_intake},
                              {"ridge-12", "ridge vent", model::VentKind::ridge_vent}};
  desk.state.edit.intake_product = "over-deck-10";
  desk.state.edit.exhaust_product = "ridge-12";
  desk.strike("I");
  REQUIRE(desk.state.edit.tool == Tool::intake);
  desk.strike("Enter");
  CHECK_FALSE(edited<edit::PutIntake>(desk));  // nothing is selected
  desk.strike("W");
  const std::string plane = desk.house.surface.planes[desk.state.selected.plane].id;
  desk.strike("Enter");
  const auto run = edited<edit::PutIntake>(desk);
  REQUIRE(run);
  CHECK(run->value.whole);
  CHECK(run->value.plane == plane);
  CHECK(edit::edited(desk.house.model, *run).ok());

  desk.strike("V");
  for (int i = 0; i < 40; ++i) {
    desk.strike("K");
    const auto& line = desk.house.surface.lines[desk.state.selected.line];
    if (line.kind == surface::LineKind::ridge) {
      break;
    }
  }
  const std::string ridge = desk.house.surface.lines[desk.state.selected.line].id;
  desk.strike("Enter");
  const auto vent = edited<edit::PutExhaust>(desk);
  REQUIRE(vent);
  CHECK(vent->value.line == ridge);

  desk.strike("Q");
  desk.strike("W");
  desk.strike("Enter");
  const auto chimney = edited<edit::PutObstacle>(desk);
  REQUIRE(chimney);
  take(desk, *chimney);
  desk.strike("Esc");
  const std::string id = chimney->value.id;
  desk.state.edit.target = {Target::What::obstacle, id, 0};
  desk.strike("Ctrl+Up");
  const auto up = edited<edit::PutObstacle>(desk);
  REQUIRE(up);
  CHECK(up->value.at.y - chimney->value.at.y == Approx(2 * units::foot_m));
  CHECK(up->value.at.x == Approx(chimney->value.at.x));

  desk.strike("H");
  desk.state.edit.target = {};
  desk.strike("K");
  REQUIRE(desk.state.edit.corner);
  desk.strike("Shift+Right");
  const auto corner = edited<edit::MoveCorner>(desk);
  REQUIRE(corner);
  const glm::dvec2 was = desk.house.model.parts[0].outline[corner->corner];
  CHECK(corner->to.x - was.x == Approx(units::inch_m));
  CHECK(corner->to.y == Approx(was.y));
  desk.strike("W");  // an edge: it goes square to itself
  desk.strike("Ctrl+Down");
  const auto edge = wished<panels::Do>(desk);
  desk.strike("Ctrl+Right");
  const auto other = wished<panels::Do>(desk);
  CHECK((edge || other));
  // In plan nothing is said of a side that is not seen, and no tool does nothing.
  CHECK(desk.item("title/line").state.find("Seen from") == std::string::npos);
  for (const char* gone : {"sight/flat", "sight/cut", "sight/peel", "sight/sun"}) {
    CHECK_FALSE(desk.has(gone));
  }
  CHECK(desk.has("sight/dark"));
}

TEST_CASE("what is remembered is what the person chose, not what a lesson shows") {
  panels::State state;
  state.sight.is_dark = true;
  state.style = units::Style::metric;
  state.layers.set(scene::Layer::names, false);
  const panels::Words words = panels::remembered(state, {900, 700});
  panels::State again;
  panels::take_up(again, words);
  CHECK(again.sight.is_dark);
  CHECK(again.style == units::Style::metric);
  CHECK(again.layers == state.layers);
  CHECK(panels::window_size(words, {1, 2}) == std::pair(900, 700));
  for (const char* bad : {"", "900", "900x", "x700", "900x70000", "9x700", "900x700 "}) {
    CHECK(panels::window_size({{"window", bad}}, {1, 2}) == std::pair(1, 2));
  }
  panels::State lesson = state;
  lesson.lesson.is_open = true;
  lesson.lesson.layers_before = state.layers;
  lesson.layers = scene::Layers{};
  CHECK(panels::remembered(lesson, {900, 700}) == words);
}

TEST_CASE("marks that fall together stand side by side; words can be read on what is chosen") {
  const auto spread = panels::spread({50.0, 10.0, 12.0, 11.0, 200.0}, 15.0);
  CHECK(spread == std::vector<double>{55.0, 10.0, 40.0, 25.0, 200.0});
  CHECK(panels::spread({}, 15.0).empty());
  // WCAG 2.1, success criterion 1.4.3: at least 4.5 to 1; relative luminance as it defines it.
  const auto luminance = [](glm::vec3 c) {
    const auto linear = [](float v) {
      return v <= 0.04045F ? v / 12.92F : std::pow((v + 0.055F) / 1.055F, 2.4F);
    };
    return 0.2126F * linear(c.r) + 0.7152F * linear(c.g) + 0.0722F * linear(c.b);
  };
  for (const bool is_dark : {false, true}) {
    draw::set_dark(is_dark);
    const glm::vec3 ground = draw::inks().selected;
    const float a = luminance(ground);
    const float b = luminance(panels::words_on(ground));
    CHECK((std::max(a, b) + 0.05F) / (std::min(a, b) + 0.05F) > 4.5F);
  }
  draw::set_dark(false);
}
