// Plan tool, commands, fields and the state of editing: pure, no window.
#include "panels/commands.hpp"
#include "panels/fields.hpp"
#include "panels/hand.hpp"
#include "scene/from_assessment.hpp"
#include "support/houses.hpp"

#include <catch2/catch.hpp>
#include <glm/geometric.hpp>

#include <algorithm>
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
  CHECK(panels::typed_pitch("8") == units::Pitch::from_rise_run(8, 12));
  CHECK(panels::typed_pitch("7.5/12") == units::Pitch::from_rise_run(7.5, 12));
  CHECK(panels::typed_pitch("30 deg")->degrees() == Approx(30));
  CHECK_FALSE(panels::typed_pitch("steep"));
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
  CHECK(panels::matching(all, "dormer shed").size() == 1);
  CHECK(panels::matching(all, "no such thing").empty());
}

TEST_CASE("keys ask for commands; what can't be done asks for nothing") {
  panels::State state = open_state();
  CHECK(panels::asked_by({'Z', true, false, false}, state).empty());
  state.edit.undo_name = "Pitch";
  state.edit.redo_name = "Plate";
  CHECK(wished<panels::Undo>(panels::asked_by({'Z', true, false, false}, state)) != nullptr);
  CHECK(wished<panels::Redo>(panels::asked_by({'Z', true, true, false}, state)) != nullptr);
  CHECK(wished<panels::Redo>(panels::asked_by({'Y', true, false, false}, state)) != nullptr);
  CHECK(wished<panels::Save>(panels::asked_by({'S', true, false, false}, state)) != nullptr);
  CHECK(panels::asked_by({'Z', false, false, false}, state).empty());
  // Delete takes out a vent, and in plan a corner; never an edge.
  CHECK(panels::asked_by({0, false, false, true}, state).empty());
  state.edit.target = {panels::Target::What::intake, "south", 0};
  const auto remove = panels::asked_by({0, false, false, true}, state);
  REQUIRE(wished<panels::Do>(remove) != nullptr);
  CHECK(std::get<edit::Remove>(wished<panels::Do>(remove)->edit).id == "south");
  state.edit.tool = panels::Tool::plan;
  state.edit.target = {panels::Target::What::edge, "main", 2};
  state.edit.corner = 2;
  const auto corner = panels::asked_by({0, false, false, true}, state);
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
  CHECK(wished<panels::LetGo>(mouse(pixel - glm::dvec2{30.0, 0.0}, false).first) != nullptr);
}
