// Plan tool, commands, fields and the state of editing: pure, no window.
#include "edit/stage.hpp"
#include "panels/commands.hpp"
#include "panels/fields.hpp"
#include "panels/hand.hpp"
#include "panels/more_fields.hpp"
#include "scene/from_assessment.hpp"
#include "support/houses.hpp"
#include "viewer/desk.hpp"

#include <catch2/catch.hpp>
#include <glm/geometric.hpp>
#include <glm/trigonometric.hpp>

#include <algorithm>
#include <cmath>
#include <set>

using namespace ridgeward;
using panels::PlanGrip;
using panels::Snap;
using units::foot_m;

namespace {

panels::PlanView view() { return {{500.0, 400.0}, {5.0, 4.0}, 40.0}; }

model::RoofModel rectangle() {
  model::RoofModel model;
  model::Part part;
  part.id = "main";
  part.outline = {{0, 0}, {10, 0}, {10, 8}, {0, 8}};
  part.edges.resize(4);
  model.parts.push_back(part);
  return model;
}

panels::State open_state() {
  panels::State state;
  state.edit.is_open = true;
  state.edit.target = {panels::Target::What::edge, "main", 0};
  return state;
}

template <class Wanted>
const Wanted* wished(const panels::Intents& intents) {
  for (const panels::Intent& intent : intents) {
    const auto* ask = std::get_if<panels::EditAsk>(&intent);
    const auto* wish = ask == nullptr ? nullptr : std::get_if<panels::Wish>(&ask->what());
    if (wish != nullptr && std::holds_alternative<Wanted>(*wish)) {
      return &std::get<Wanted>(*wish);
    }
  }
  return nullptr;
}

}  // namespace

TEST_CASE("the plan's pixels and places are each other's inverse, y up") {
  const panels::PlanView plan = view();
  CHECK(plan.pixel({5, 4}) == glm::dvec2(500, 400));
  CHECK(plan.pixel({6, 5}) == glm::dvec2(540, 360));
  CHECK(glm::distance(plan.place(plan.pixel({1.25, -3.5})), {1.25, -3.5}) < 1e-12);
}

TEST_CASE("a pointer means corners, then right angles, then extensions, then the grid") {
  panels::SnapField field;
  field.corners = {{10, 8}, {3, 20}};
  field.from = glm::dvec2(0, 0);
  field.reach_m = 0.2;
  field.grid_m = 0.5;
  const auto is = [&](glm::dvec2 at, glm::dvec2 expected, Snap::To to) {
    const Snap snap = panels::snapped(at, field);
    CAPTURE(at.x, at.y, snap.at.x, snap.at.y);
    CHECK(glm::distance(snap.at, expected) < 1e-6);
    CHECK(snap.to == to);
  };
  is({10.1, 7.9}, {10, 8}, Snap::To::corner);
  is({7.3, 0.1}, {7.5, 0.0}, Snap::To::right_angle);
  is({0.15, 5.2}, {0.0, 5.0}, Snap::To::right_angle);
  is({9.9, 3.3}, {10.0, 3.5}, Snap::To::extension);
  is({10.1, 0.1}, {10.0, 0.0}, Snap::To::extension);
  is({6.2, 3.3}, {6.0, 3.5}, Snap::To::grid);
  field.grid_m = 0.0;
  is({6.2, 3.3}, {6.2, 3.3}, Snap::To::nothing);
  field.first = glm::dvec2(6.3, 3.3);
  is({6.2, 3.3}, {6.3, 3.3}, Snap::To::closing);
}

TEST_CASE("typed lengths go toward the pointer") {
  panels::PlanTool tool;
  tool.drawn = {{1, 1}};
  tool.typed = "40'";
  const auto at =
      panels::typed_place(tool, {{3, 1}, Snap::To::right_angle, {}}, units::LengthUnit::ft);
  REQUIRE(at);
  CHECK(at->x == Approx(1 + 40 * foot_m));
  CHECK(at->y == Approx(1.0));
  tool.typed = "3.5";
  CHECK(panels::typed_place(tool, {{1, 9}, Snap::To::nothing, {}}, units::LengthUnit::m)->y ==
        Approx(4.5));
  for (const char* none : {"", "forty", "-3", "0"}) {
    tool.typed = none;
    CHECK_FALSE(panels::typed_place(tool, {{3, 1}, Snap::To::nothing, {}}, units::LengthUnit::m));
  }
}

TEST_CASE("a length typed a little off level goes in level, upright or square to the wall before") {
  panels::PlanTool tool;
  tool.drawn = {{0, 0}};
  const auto turned = [&](glm::dvec2 at, Snap::To to) {
    const Snap snap = panels::straightened(tool, {at, to, {}});
    CHECK(glm::distance(snap.at, tool.drawn.back()) ==
          Approx(glm::distance(at, tool.drawn.back())));
    return snap;
  };
  // 7 degrees off level, in line with a corner; 12 degrees; a corner itself.
  const Snap level = turned({10.0, 10.0 * std::tan(glm::radians(7.0))}, Snap::To::extension);
  CHECK(level.at.y == Approx(0.0).margin(1e-9));
  CHECK(level.to == Snap::To::right_angle);
  CHECK(turned({-0.5, -9.0}, Snap::To::grid).at.x == Approx(0.0).margin(1e-9));
  const glm::dvec2 slant{10.0, 10.0 * std::tan(glm::radians(12.0))};
  CHECK(turned(slant, Snap::To::grid).at == slant);
  CHECK(turned({10.0, 1.0}, Snap::To::corner).at == glm::dvec2(10.0, 1.0));
  // Square to a wall that runs at 30 degrees.
  tool.drawn = {{0, 0}, {8 * std::cos(glm::radians(30.0)), 4}};
  const glm::dvec2 way =
      turned(tool.drawn[1] + glm::dvec2(-2.2, 3.3), Snap::To::grid).at - tool.drawn[1];
  CHECK(glm::dot(way, tool.drawn[1]) == Approx(0.0).margin(1e-9));
}

TEST_CASE("what can't be typed is said") {
  panels::PlanTool tool;
  tool.typed = "abc";
  CHECK(panels::typed_trouble(tool, units::LengthUnit::ft) ==
        "Click the first corner; lengths go on from there.");
  tool.drawn = {{0, 0}};
  CHECK(panels::typed_trouble(tool, units::LengthUnit::ft) ==
        "No length: give 8' 6 1/2\", 9 1/4 in or 350 mm.");
  CHECK(panels::typed_trouble(tool, units::LengthUnit::m) ==
        "No length: give 2.4, 350 mm or 8' 6 1/2\".");
}

TEST_CASE("an outline that crosses itself stays drawn, with the place where it does") {
  panels::PlanTool tool;
  tool.drawn = {{0, 0}, {10, 8}, {10, 0}, {0, 8}};  // a bow tie
  panels::PlanTool closed = panels::checked(tool);
  CHECK(closed.drawn == tool.drawn);
  CHECK(closed.meeting == std::vector<model::SidePair>{{0, 2}});
  CHECK(glm::distance(panels::meeting_place(tool.drawn, {0, 2}), {5, 4}) < 1e-9);
  CHECK(closed.trouble.find("Walls 1 and 3 meet") == 0);
  // The last corner taken back, a better one set.
  closed = panels::redrawn(closed, {{0, 0}, {10, 8}, {10, 0}});
  CHECK((closed.trouble.empty() && closed.meeting.empty()));
  CHECK(panels::checked(closed).meeting.empty());
  // A wall that runs back along the one before.
  const panels::PlanTool back =
      panels::checked(panels::redrawn({}, {{0, 0}, {8, 0}, {4, 0}, {4, 5}}));
  CHECK(std::set<model::SidePair>(back.meeting.begin(), back.meeting.end()) ==
        std::set<model::SidePair>{{0, 1}, {0, 2}});
  const glm::dvec2 at = panels::meeting_place(back.drawn, {0, 1});
  CHECK((at.y == 0.0 && at.x >= 4.0 && at.x <= 8.0));
}

TEST_CASE("corners are easier to take hold of than edges") {
  const model::RoofModel model = rectangle();
  const panels::PlanView plan = view();
  const auto near = [&](glm::dvec2 at, glm::dvec2 off) {
    return panels::grip_at(model, plan, plan.pixel(at) + off);
  };
  CHECK(near({10, 0}, {5, 4}) == PlanGrip{PlanGrip::What::corner, "main", 1});
  CHECK(near({5, 8}, {0, 5}) == PlanGrip{PlanGrip::What::edge, "main", 2});
  CHECK(near({5, 4}, {0, 0}).what == PlanGrip::What::nothing);
  // Out of edge 0 is down, out of edge 1 is to the right.
  CHECK(panels::dragged_out_m(model.parts[0], 0, {3, -2}) == Approx(2));
  CHECK(panels::dragged_out_m(model.parts[0], 1, {3, -2}) == Approx(3));
}

TEST_CASE("a fitted plan shows all corners") {
  const model::RoofModel model = rectangle();
  const panels::PlanTool tool = panels::fitted_plan({}, model, {700, 600});
  panels::PlanView plan{{350, 300}, tool.middle_m, tool.px_per_m};
  for (const glm::dvec2 corner : model.parts[0].outline) {
    const glm::dvec2 pixel = plan.pixel(corner);
    CHECK((pixel.x > 40 && pixel.x < 660 && pixel.y > 40 && pixel.y < 560));
  }
}

TEST_CASE("lengths in fields come back as they were typed") {
  for (const char* text : {"28' 6 1/2\"", "9 1/4\"", "1' 6\"", "3/64\"", "0\""}) {
    const auto length = panels::typed_length(text, units::Style::feet_inches);
    REQUIRE(length);
    CHECK(panels::length_text(*length, units::Style::feet_inches) == text);
  }
  CHECK(panels::length_text(*panels::typed_length("8.725", units::Style::metric),
                            units::Style::metric) == "8.725 m");
  CHECK(*panels::typed_length("350 mm", units::Style::feet_inches) == Approx(0.35));
  CHECK_FALSE(panels::typed_length("long", units::Style::metric));
  for (const units::Style style : {units::Style::feet_inches, units::Style::metric}) {
    CHECK(panels::typed_pitch("7.5/12", style) == units::Pitch::from_rise_run(7.5, 12));
    CHECK(panels::typed_pitch("30 deg", style)->degrees() == Approx(30));
    CHECK_FALSE(panels::typed_pitch("steep", style));
  }
  // A bare number is the slope as the window tells slopes.
  CHECK(panels::typed_pitch("8", units::Style::feet_inches) == units::Pitch::from_rise_run(8, 12));
  CHECK(panels::typed_pitch("35", units::Style::metric)->degrees() == Approx(35));
  CHECK(panels::pitch_text(units::Pitch::from_degrees(35), units::Style::metric) == "35 deg");
  CHECK(panels::pitch_text(units::Pitch::from_rise_run(8, 12), units::Style::feet_inches) ==
        "8/12");
}

TEST_CASE("every command has an id and a key of its own, and can be found by its words") {
  const std::vector<panels::Command> all = panels::commands(open_state());
  std::set<std::string> ids;
  std::set<std::string> keys;
  for (const panels::Command& one : all) {
    CAPTURE(one.id);
    CHECK(ids.insert(one.id).second);
    CHECK((one.keys.empty() || keys.insert(one.keys).second));
    CHECK_FALSE(one.words.empty());
    const auto found = panels::matching(all, one.words);
    CHECK(std::any_of(found.begin(), found.end(),
                      [&](const panels::Command& other) { return other.id == one.id; }));
  }
  const auto first = [&](const char* text) {
    const auto found = panels::matching(all, text);
    return found.empty() ? std::string() : found.front().id;
  };
  CHECK(first("dormer shed") == "add/shed-dormer");
  CHECK(panels::matching(all, "no such thing").empty());
}

TEST_CASE("keys ask for commands; what can't be done asks for nothing") {
  panels::State state = open_state();
  CHECK(panels::asked_by("Ctrl+Z", state).empty());
  state.edit.undo_name = "Pitch";
  state.edit.redo_name = "Plate";
  CHECK(wished<panels::Undo>(panels::asked_by("Ctrl+Z", state)) != nullptr);
  CHECK(wished<panels::Redo>(panels::asked_by("Ctrl+Shift+Z", state)) != nullptr);
  CHECK(wished<panels::Redo>(panels::asked_by("Ctrl+Y", state)) != nullptr);
  CHECK(wished<panels::Save>(panels::asked_by("Ctrl+S", state)) != nullptr);
  CHECK(panels::asked_by("Z", state).empty());
  // Delete takes out a vent, and in plan a corner; never an edge.
  CHECK(panels::asked_by("Delete", state).empty());
  state.edit.target = {panels::Target::What::intake, "south", 0};
  const auto remove = panels::asked_by("Delete", state);
  REQUIRE(wished<panels::Do>(remove) != nullptr);
  CHECK(std::get<edit::Remove>(wished<panels::Do>(remove)->edit).id == "south");
  state.edit.tool = panels::Tool::plan;
  state.edit.target = {panels::Target::What::edge, "main", 2};
  state.edit.corner = 2;
  const auto corner = panels::asked_by("Delete", state);
  REQUIRE(wished<panels::Do>(corner) != nullptr);
  CHECK(std::get<edit::RemoveCorner>(wished<panels::Do>(corner)->edit).corner == 2);
}

TEST_CASE("the hand drags a run by its end, in whole inches, only where one edits") {
  Assessment house = test_support::wing_house();
  // The house made by hand has slots but no runs: give it those that its slots name.
  for (vents::Slot& slot : house.vents.slots) {
    const surface::Frame& frame = house.surface.planes[slot.plane].frame;
    slot.from = frame.at({slot.start_m, slot.lower_line_m});
    slot.to = frame.at({slot.end_m, slot.lower_line_m});
    model::IntakeRun run;
    run.id = slot.run;
    run.plane = house.surface.planes[slot.plane].id;
    run.from_m = slot.start_m;
    run.to_m = slot.end_m;
    if (std::none_of(house.model.intake.begin(), house.model.intake.end(),
                     [&](const auto& other) { return other.id == run.id; })) {
      house.model.intake.push_back(run);
    }
  }
  const scene::Scene scene = scene::from_assessment(house);
  const scene::Viewport port{0.0, 0.0, 1000.0, 800.0};
  panels::State state = open_state();
  state.has_model = true;
  state.camera =
      scene::fitted(scene::looking_from("south", 0.0).value(), scene.corners, port, 0.07);
  const panels::Look look{state, house, scene, 1000, 800};
  const scene::Lens lens{state.camera, port};
  const auto all = panels::grips(house);
  const auto end = std::find_if(all.begin(), all.end(), [&](const panels::Grip& grip) {
    return grip.what == panels::Grip::What::intake && grip.end == panels::Grip::End::to &&
           scene::is_in_sight(scene, lens, grip.at);
  });
  REQUIRE(end != all.end());
  const glm::dvec2 pixel = *lens.pixel(end->at);
  panels::Hand hand;
  const auto mouse = [&](glm::dvec2 at, bool down) {
    panels::Input input;
    input.at = at;
    input.left_down = down;
    const panels::Intents intents = panels::edit_input(hand, input, look, port);
    return std::pair(intents, input.left_down);
  };
  // Who only looks turns the house.
  CHECK(mouse(pixel, true).second);
  mouse(pixel, false);
  state.edit.has_fields = true;
  CHECK_FALSE(mouse(pixel, true).second);
  const auto dragged = mouse(pixel - glm::dvec2{30.0, 0.0}, true).first;
  const auto* edit = wished<panels::Do>(dragged);
  REQUIRE(edit != nullptr);
  const model::IntakeRun run = std::get<edit::PutIntake>(edit->edit).value;
  CHECK(run.id == end->id);
  CHECK(edit->merge == "drag/" + run.id);
  const auto was = std::find_if(house.model.intake.begin(), house.model.intake.end(),
                                [&](const auto& one) { return one.id == run.id; });
  CHECK(run.from_m == Approx(was->from_m));
  CHECK(run.to_m != Approx(was->to_m));
  const double inches = run.to_m / units::inch_m;
  CHECK(std::abs(inches - std::round(inches)) < 1e-4);
  // What moves is what the fields are about, and its length stands at the pointer.
  const auto turned = [&](const panels::Intents& intents) -> const panels::SetTarget* {
    for (const panels::Intent& one : intents) {
      const auto* ask = std::get_if<panels::EditAsk>(&one);
      if (ask != nullptr && std::holds_alternative<panels::SetTarget>(ask->what())) {
        return &std::get<panels::SetTarget>(ask->what());
      }
    }
    return nullptr;
  };
  REQUIRE(turned(dragged) != nullptr);
  CHECK(turned(dragged)->target == panels::Target{panels::Target::What::intake, run.id, 0});
  model::RoofModel moved = house.model;
  moved.intake = {run};
  moved.intake[0].from_m = 3 * foot_m;
  moved.intake[0].to_m = 15.5 * foot_m;
  CHECK(panels::drag_words(hand, moved, units::Style::feet_inches) ==
        std::vector<std::string>{"12' 6\"", "from 3' 0\" to 15' 6\""});
  CHECK(wished<panels::LetGo>(mouse(pixel - glm::dvec2{30.0, 0.0}, false).first) != nullptr);
  CHECK(panels::drag_words(hand, moved, units::Style::feet_inches).empty());
}

TEST_CASE("there is one selection: fields and roof follow each other") {
  const Assessment house = test_viewer::assessed(test_viewer::demo("sorrel-lane"));
  const scene::Scene scene = scene::from_assessment(house);
  const panels::State state = open_state();
  const panels::Look look{state, house, scene, 1000, 800};
  const auto after = [&](const panels::Intent& first) {
    panels::Intents intents{first};
    panels::follow_selection(look, intents);
    panels::State then = state;
    then.selected.plane = PlaneId(std::size_t{0});
    then.edit.target = {panels::Target::What::exhaust, "old", 0};
    for (const panels::Intent& one : intents) {
      then = panels::applied(std::move(then), one, scene, {0, 0, 1000, 800});
    }
    return then;
  };
  for (const LineId id : house.surface.lines.ids()) {
    const surface::Line& line = house.surface.lines[id];
    scene::Picked picked;
    picked.line = id;
    const panels::State then = after(panels::Select{picked});
    CAPTURE(line.id);
    CHECK(then.selected.line == id);
    const PlaneId own = line.left_plane().is_none() ? line.right_plane() : line.left_plane();
    if (line.kind == surface::LineKind::eave) {
      CHECK(then.edit.target == panels::Target{panels::Target::What::edge,
                                               house.model.parts[house.surface.planes[own].part].id,
                                               house.surface.planes[own].edge});
    } else {
      CHECK(then.edit.target == panels::Target{});  // no edge that is out of sight
    }
  }
  // A vent in the fields leaves no plane selected; an edge selects its own.
  const auto target = [](panels::Target of) {
    return panels::Intent(panels::EditIntent(panels::SetTarget{std::move(of)}));
  };
  CHECK(after(target({panels::Target::What::intake, "south", 0})).selected.plane.is_none());
  const surface::Plane& plane = house.surface.planes[PlaneId(std::size_t{1})];
  const panels::State then =
      after(target({panels::Target::What::edge, house.model.parts[plane.part].id, plane.edge}));
  CHECK(then.selected.plane == PlaneId(std::size_t{1}));
}

TEST_CASE("while an import is shown nothing else can be changed or saved") {
  panels::State state = open_state();
  state.edit.undo_name = "Pitch";
  CHECK_FALSE(panels::command(state, "edit/undo").ask.empty());
  state.edit.import = panels::ImportView{};
  state.has_model = true;
  for (const panels::Command& one : panels::commands(state)) {
    CAPTURE(one.id);
    const bool may = one.id.starts_with("view/") || one.id.starts_with("look/") ||
                     one.id.starts_with("layer/") || one.id.starts_with("import/") ||
                     one.id == "file/close";
    CHECK(one.can_be_done() == may);
  }
  CHECK(panels::asked_by("Ctrl+Z", state).empty());
  CHECK(wished<panels::TakeImport>(panels::command(state, "import/take").ask) != nullptr);
  CHECK(wished<panels::LeaveImport>(panels::command(state, "import/leave").ask) != nullptr);
}

TEST_CASE("what an import found is told with its fit, in feet or metres") {
  panels::ImportView view;
  view.parts = 2;
  CHECK(panels::import_rows(view, units::Style::metric).size() == 1);  // a model: no planes
  view.buildings = 1;
  view.planes_given = 7;
  view.plain = 1;
  view.distance_m = 0.0127;
  view.area_given_m2 = 100.0;
  view.area_rebuilt_m2 = 99.5;
  const auto value = [&](const std::string& name, units::Style style) {
    for (const auto& [words, told] : panels::import_rows(view, style)) {
      if (words == name) {
        return told;
      }
    }
    return std::string("none");
  };
  CHECK(value("Planes given", units::Style::metric) == "7");
  CHECK(value("Farthest from the file", units::Style::metric) == "12.7 mm");
  CHECK(value("Farthest from the file", units::Style::feet_inches) == "0.50 in");
  CHECK(value("Difference of areas", units::Style::metric) == "-0.50 %");
  view.area_rebuilt_m2 = 99.9999;
  CHECK(value("Difference of areas", units::Style::metric) == "+0.00 %");
}

TEST_CASE("places and lists of lengths are typed with commas") {
  using units::Style;
  const auto corner = panels::typed_corner("12' 6\", -8", Style::feet_inches);
  REQUIRE(corner);
  CHECK(corner->x == Approx(12.5 * foot_m));
  CHECK(corner->y == Approx(-8 * foot_m));
  CHECK(panels::corner_text(*corner, Style::feet_inches) == "12' 6\", -8' 0\"");
  CHECK_FALSE(panels::typed_corner("12", Style::metric));
  CHECK_FALSE(panels::typed_corner("1, 2, 3", Style::metric));
  CHECK_FALSE(panels::typed_corner("1, two", Style::metric));
  CHECK(panels::typed_lengths("  ", Style::metric)->empty());
  const auto list = panels::typed_lengths("1.25; 350 mm, 2", Style::metric);
  REQUIRE(list);
  CHECK(*list == std::vector<double>{1.25, 0.35, 2.0});
  CHECK_FALSE(panels::typed_lengths("1,,2", Style::metric));
}

namespace {

/// The fields of one target, with a hand that opens groups and presses buttons.
struct Fields {
  test_viewer::Desk desk;
  explicit Fields(const std::string& house, panels::Target target)
      : desk(test_viewer::assessed(test_viewer::demo(house))) {
    desk.state.edit.is_open = true;
    desk.state.edit.has_fields = true;
    desk.state.edit.target = std::move(target);
  }
  void open(const std::string& group) {
    desk.state = panels::applied(desk.state, intent_of(panels::Fold{group, true}), desk.scene,
                                 panels::window_viewport(1280, 800, desk.state));
    desk.frame();
  }
  static panels::Intent intent_of(panels::EditIntent intent) { return intent; }
  bool has(const std::string& id) {
    const auto& items = desk.recorder.items();
    return std::any_of(items.begin(), items.end(), [&](const auto& one) { return one.id == id; });
  }
  /// What was entered into the field, as one who types would.
  std::optional<edit::Edit> typed(const std::string& id, const std::string& text) {
    desk.state.edit.wishes.clear();
    scroll_to(id);
    desk.click(id);
    ImGui::GetIO().AddInputCharactersUTF8(text.c_str());  // in the place of what was there
    desk.frame();
    desk.move(640, 300);  // leaving the field takes it
    desk.press(true);
    desk.press(false);
    return asked();
  }
  std::optional<edit::Edit> pressed(const std::string& id) {
    desk.state.edit.wishes.clear();
    scroll_to(id);
    desk.click(id);
    return asked();
  }
  std::optional<edit::Edit> asked() const {
    for (const panels::Wish& wish : desk.state.edit.wishes) {
      if (const auto* change = std::get_if<panels::Do>(&wish)) {
        return change->edit;
      }
    }
    return std::nullopt;
  }
  void scroll_to(const std::string& id) {
    for (int i = 0; i < 60; ++i) {
      desk.frame();
      const panels::UiItem item = desk.item(id);
      if (item.y > 330.0 && item.y + item.height < 780.0) {
        return;
      }
      desk.move(1120, 600);
      ImGui::GetIO().MouseWheel = item.y <= 330.0 ? 1.0F : -1.0F;
      desk.frame();
      ImGui::GetIO().MouseWheel = 0.0F;
    }
  }
};

}  // namespace

TEST_CASE("rare fields are folded until they are asked for, and set what the model has") {
  using What = panels::Target::What;
  {
    Fields fields("plain-gable", {What::edge, "main", 0});
    fields.desk.frame();
    CHECK(fields.has("group/edge/breaks"));
    CHECK_FALSE(fields.has("edge/breaks/add"));
    fields.open("edge/breaks");
    const auto added = fields.pressed("edge/breaks/add");
    REQUIRE(added);
    CHECK(std::get<edit::SetEdge>(*added).value.breaks.size() == 1);
    fields.open("edge/measured");
    const auto measured = fields.typed("edge/measured/at", "1' 3\", 2' 6\"");
    REQUIRE(measured);
    const auto& at = std::get<edit::SetPart>(*measured).value.framing.measured;
    REQUIRE(at.size() == 1);
    CHECK(at[0].at_m == std::vector<double>{units::on_grid(1.25 * foot_m), 2.5 * foot_m});
    CHECK_FALSE(fields.typed("edge/measured/at", "nonsense"));
  }
  {
    Fields fields("plain-gable", {What::part, "main", 0});
    fields.open("part/holes");
    const auto hole = fields.pressed("hole/add");
    REQUIRE(hole);
    CHECK(edit::edited(fields.desk.house.model, *hole).ok());
    fields.open("framing/ties");
    const auto ties = fields.pressed("ties/on");
    REQUIRE(ties);
    CHECK(std::get<edit::SetPart>(*ties).value.framing.collar_ties.has_value());
    fields.open("framing/air-past");
    CHECK(fields.has("air-past/hips"));
  }
  {
    Fields fields("sorrel-lane", {What::ceiling, "attic", 0});
    fields.open("ceiling/outline");
    const auto moved = fields.typed("ceiling/outline/0", "1', 2'");
    REQUIRE(moved);
    const auto& outline = std::get<edit::PutCeiling>(*moved).value.outline;
    CHECK(glm::distance(outline[0], {foot_m, 2 * foot_m}) < 1e-6);
    const auto more = fields.pressed("ceiling/outline/1/add");
    REQUIRE(more);
    CHECK(std::get<edit::PutCeiling>(*more).value.outline.size() == outline.size() + 1);
  }
  {
    Fields fields("plain-gable", {});
    fields.open("house/air");
    const auto wind = fields.typed("air/wind", "5.5");
    REQUIRE(wind);
    CHECK(std::get<edit::SetAir>(*wind).value.wind_ms == Approx(5.5 * 0.44704));
    const auto added = fields.pressed("air/add");
    REQUIRE(added);
    CHECK(std::get<edit::SetAir>(*added).value.cases.size() == 1);
    CHECK(edit::edited(fields.desk.house.model, *added).ok());
  }
}

TEST_CASE("louvres are put on gable walls where one clicks, and outlines are dragged whole") {
  Assessment house = test_viewer::assessed(test_viewer::demo("plain-gable"));
  const auto walls = panels::gable_walls(house);
  REQUIRE(walls.size() == 2);
  const auto& wall = walls[0];
  const scene::Ray ray{wall.start + 2.0 * wall.along + glm::dvec3(0, 0, 1.5) + 8.0 * wall.outward,
                       -wall.outward};
  REQUIRE(wall.under(ray));
  CHECK(glm::distance(*wall.under(ray), {2.0, 1.5}) < 1e-9);
  CHECK_FALSE(wall.under({ray.from - 20.0 * wall.outward, wall.outward}));  // from within

  // An obstacle in plan.
  model::Obstacle chimney;
  chimney.id = "stack";
  chimney.outline = {{4.0, 3.0}, {5.0, 3.0}, {5.0, 4.0}, {4.0, 4.0}};
  house.model.obstacles.push_back(chimney);
  const scene::Scene scene = scene::from_assessment(house);
  const scene::Viewport port{0.0, 0.0, 1000.0, 800.0};
  panels::State state = open_state();
  state.has_model = true;
  state.edit.has_fields = true;
  state.edit.products = {{"gable-60", "louvre", model::VentKind::gable_louvre}};
  state.edit.exhaust_product = "gable-60";
  state.camera =
      scene::fitted(scene::looking_from("south-east", 0.0).value(), scene.corners, port, 0.07);
  const panels::Look look{state, house, scene, 1000, 800};
  panels::Hand hand;
  const auto mouse = [&](glm::dvec2 at, bool down) {
    panels::Input input;
    input.at = at;
    input.left_down = down;
    return panels::edit_input(hand, input, look, port);
  };
  const auto all = panels::grips(house);
  const auto grip =
      std::find_if(all.begin(), all.end(), [](const auto& one) { return one.id == "stack"; });
  REQUIRE(grip != all.end());
  {
    const scene::Lens lens{state.camera, port};
    const glm::dvec2 from = *lens.pixel(grip->at);
    const glm::dvec2 to = *lens.pixel(grip->at + glm::dvec3(0.5, 0.0, 0.0));
    mouse(from, true);
    mouse((from + to) / 2.0, true);
    const auto asked = mouse(to, true);
    const auto* put = wished<panels::Do>(asked);
    REQUIRE(put != nullptr);
    const auto& outline = std::get<edit::PutObstacle>(put->edit).value.outline;
    CHECK(outline[0].x == Approx(4.5).margin(0.02));
    CHECK(outline[2].x - outline[0].x == Approx(1.0));
    CHECK(outline[2].y - outline[0].y == Approx(1.0));
    mouse(to, false);
  }
  state.edit.tool = panels::Tool::exhaust;
  const scene::Lens lens{state.camera, port};
  bool is_put = false;
  for (const panels::GableWall& one : walls) {
    const glm::dvec3 middle = one.start + one.length_m / 2 * one.along + glm::dvec3(0, 0, 1.0);
    const auto pixel = lens.pixel(middle);
    if (!pixel || glm::dot(one.outward, state.camera.axes().back) < 0.1) {
      continue;
    }
    mouse(*pixel, true);
    const auto asked = mouse(*pixel, false);
    const auto* put = wished<panels::Do>(asked);
    REQUIRE(put != nullptr);
    const auto& vent = std::get<edit::PutExhaust>(put->edit).value;
    CHECK(vent.wall == one.name);
    CHECK(vent.at.x == Approx(one.length_m / 2).margin(0.02));
    CHECK(vent.at.y == Approx(1.0).margin(0.02));
    is_put = true;
  }
  CHECK(is_put);
}

TEST_CASE("keys point where the next wall goes") {
  panels::PlanTool tool;
  tool.pointer_m = {0.4, 0.1};
  tool = panels::pointed(tool, {1.0, 0.0}, 0.5);
  CHECK(tool.is_keyed);
  CHECK(glm::distance(tool.pointer_m, {1.0, 0.0}) < 1e-12);
  tool = panels::redrawn(tool, {{2.0, 3.0}});
  tool = panels::pointed(tool, {0.0, 1.0}, 0.5);
  CHECK(glm::distance(tool.pointer_m, {2.0, 8.0}) < 1e-12);
  tool = panels::pointed(tool, {0.0, 1.0}, 0.5);
  CHECK(glm::distance(tool.pointer_m, {2.0, 8.5}) < 1e-12);
  tool = panels::pointed(tool, {0.0, -1.0}, 0.5);
  CHECK(glm::distance(tool.pointer_m, {2.0, 8.0}) < 1e-12);
  tool = panels::pointed(tool, {-1.0, 0.0}, 0.5);
  CHECK(glm::distance(tool.pointer_m, {-3.0, 3.0}) < 1e-12);
  // A typed length goes the way that is pointed.
  tool.typed = "4 m";
  const panels::Snap snap{tool.pointer_m, panels::Snap::To::nothing, {}};
  const auto place = panels::typed_place(tool, snap, units::LengthUnit::m);
  REQUIRE(place);
  CHECK(glm::distance(*place, {-2.0, 3.0}) < 1e-9);
}
