#include "panels/hand.hpp"

#include "edit/stage.hpp"
#include "panels/commands.hpp"
#include "panels/named.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::panels {
namespace {

constexpr double line_reach_px = 7.0;
constexpr double least_run_m = units::foot_m;

/// Whole inches or centimetres; as it is with Shift.
double stepped(double length_m, const Look& look, const Input& input) {
  const double step = look.state.style == units::Style::metric ? 0.01 : units::inch_m;
  return units::on_grid(input.shift ? length_m : std::round(length_m / step) * step);
}

/// Where the pointer's ray meets a plane of the roof, on the plane.
std::optional<glm::dvec2> uv_under(const surface::Frame& frame, const scene::Ray& ray) {
  const double facing = glm::dot(frame.normal, ray.direction);
  if (std::abs(facing) < 1e-6) {
    return std::nullopt;
  }
  const double distance = glm::dot(frame.normal, frame.origin - ray.from) / facing;
  return distance > 0 ? std::optional(frame.uv(ray.from + distance * ray.direction)) : std::nullopt;
}

/// Along a line in space from `from`: the place of it nearest to the pointer's ray.
double along_under(glm::dvec3 from, glm::dvec3 way, const scene::Ray& ray) {
  const glm::dvec3 across = glm::cross(way, ray.direction);
  const glm::dvec3 normal = glm::cross(ray.direction, across);
  const double facing = glm::dot(normal, way);
  return std::abs(facing) < 1e-9 ? 0.0 : glm::dot(normal, ray.from - from) / facing;
}

const surface::Plane* plane_named(const Look& look, const std::string& name) {
  const PlaneId id = look.assessment.surface.plane_named(name);
  return id.is_none() ? nullptr : &look.assessment.surface.planes[id];
}

Intent wish(edit::Edit edit, std::string name, std::string merge) {
  return EditIntent(Wish(Do{std::move(edit), std::move(name), std::move(merge), {}}));
}

Target::What target_of(Grip::What what) {
  return what == Grip::What::intake    ? Target::What::intake
         : what == Grip::What::exhaust ? Target::What::exhaust
                                       : Target::What::obstacle;
}

// Taking hold and dragging.

/// The run as it is, with ends where it takes the whole eave.
model::IntakeRun run_with_ends(const Assessment& a, const std::string& id) {
  model::IntakeRun run = *find(a.model.intake, id);
  if (!run.whole) {
    return run;
  }
  for (const vents::Slot& slot : a.vents.slots) {
    if (slot.run == id) {
      run.from_m = run.whole ? slot.start_m : std::min(run.from_m, slot.start_m);
      run.to_m = run.whole ? slot.end_m : std::max(run.to_m, slot.end_m);
      run.whole = false;
    }
  }
  return run;
}

void take_hold(Hand& hand, const Grip& grip, const Look& look, const scene::Ray& ray) {
  hand.grip = grip;
  std::string plane;
  if (grip.what == Grip::What::intake) {
    hand.run = run_with_ends(look.assessment, grip.id);
    plane = hand.run.plane;
  } else if (grip.what == Grip::What::exhaust) {
    hand.vent = vent_with_ends(look.assessment, grip.id);
    plane = hand.vent.plane;
  } else {
    hand.obstacle = *find(look.assessment.model.obstacles, grip.id);
    plane = hand.obstacle.plane;
  }
  if (const surface::Plane* on = plane_named(look, plane)) {
    hand.from_uv = uv_under(on->frame, ray).value_or(glm::dvec2(0.0));
  } else if (grip.what == Grip::What::exhaust && !hand.vent.wall.empty()) {
    hand.from_uv = under_wall(look, hand.vent.wall, ray).value_or(hand.vent.at);
  } else if (grip.what == Grip::What::obstacle && !hand.obstacle.outline.empty()) {
    hand.from_uv = plan_under(grip.at.z, ray).value_or(glm::dvec2(0.0));
  }
}

/// Ends of a stretch moved by `by`.
template <class Run>
void move_ends(Run& run, Grip::End end, double by, const Look& look, const Input& input) {
  if (end != Grip::End::to) {
    run.from_m = stepped(run.from_m + by, look, input);
  }
  if (end != Grip::End::from) {
    run.to_m = stepped(run.to_m + by, look, input);
  }
}

Intents drag_intake(const Hand& hand, const Input& input, const Look& look, const scene::Ray& ray) {
  const surface::Plane* plane = plane_named(look, hand.run.plane);
  const auto uv = plane == nullptr ? std::nullopt : uv_under(plane->frame, ray);
  if (!uv) {
    return {};
  }
  model::IntakeRun run = hand.run;
  move_ends(run, hand.grip.value_or(Grip{}).end, uv->x - hand.from_uv.x, look, input);
  return run.to_m - run.from_m < units::inch_m
             ? Intents{}
             : Intents{wish(edit::PutIntake{run}, "Move run " + run.id, "drag/" + run.id)};
}

Intents drag_exhaust(const Hand& hand, const Input& input, const Look& look,
                     const scene::Lens& lens) {
  model::ExhaustVent vent = hand.vent;
  const scene::Ray ray = lens.ray(input.at);
  const surface::Plane* plane = plane_named(look, vent.plane);
  if (plane != nullptr || !vent.wall.empty()) {
    const auto uv =
        plane != nullptr ? uv_under(plane->frame, ray) : under_wall(look, vent.wall, ray);
    if (!uv) {
      return {};
    }
    vent.at = {stepped(vent.at.x + uv->x - hand.from_uv.x, look, input),
               stepped(vent.at.y + uv->y - hand.from_uv.y, look, input)};
    return {wish(edit::PutExhaust{vent}, "Move vent " + vent.id, "drag/" + vent.id)};
  }
  for (const vents::Exhaust& exhaust : look.assessment.vents.exhausts) {
    if (exhaust.vent == vent.id && !exhaust.line.is_none() && exhaust.to_m > exhaust.from_m) {
      const glm::dvec3 way = glm::normalize(exhaust.to - exhaust.from);
      const double by = along_under(exhaust.from, way, ray) -
                        along_under(exhaust.from, way, lens.ray(hand.from_px));
      move_ends(vent, hand.grip.value_or(Grip{}).end, by, look, input);
      return vent.to_m - vent.from_m < units::inch_m
                 ? Intents{}
                 : Intents{wish(edit::PutExhaust{vent}, "Move vent " + vent.id, "drag/" + vent.id)};
    }
  }
  return {};
}

Intents drag_obstacle(const Hand& hand, const Input& input, const Look& look,
                      const scene::Ray& ray) {
  model::Obstacle obstacle = hand.obstacle;
  if (!obstacle.outline.empty()) {
    const auto at = plan_under(hand.grip.value_or(Grip{}).at.z, ray);
    if (!at) {
      return {};
    }
    const glm::dvec2 first = obstacle.outline.front();
    const glm::dvec2 to{stepped(first.x + at->x - hand.from_uv.x, look, input),
                        stepped(first.y + at->y - hand.from_uv.y, look, input)};
    for (glm::dvec2& corner : obstacle.outline) {
      corner += to - first;
    }
    return {wish(edit::PutObstacle{obstacle}, "Move " + obstacle.id, "drag/" + obstacle.id)};
  }
  const surface::Plane* plane = plane_named(look, obstacle.plane);
  const auto uv = plane == nullptr ? std::nullopt : uv_under(plane->frame, ray);
  if (!uv) {
    return {};
  }
  obstacle.at = {stepped(obstacle.at.x + uv->x - hand.from_uv.x, look, input),
                 stepped(obstacle.at.y + uv->y - hand.from_uv.y, look, input)};
  return {wish(edit::PutObstacle{obstacle}, "Move " + obstacle.id, "drag/" + obstacle.id)};
}

/// A run that is being drawn, from where the mouse went down to where it is.
Intents draw_run(const Hand& hand, const Input& input, const Look& look, const scene::Ray& ray) {
  const surface::Plane* plane = plane_named(look, hand.plane);
  const auto uv = plane == nullptr ? std::nullopt : uv_under(plane->frame, ray);
  if (!uv || std::abs(uv->x - hand.from_uv.x) < least_run_m) {
    return {};
  }
  model::IntakeRun run = hand.run;
  run.from_m = stepped(std::min(uv->x, hand.from_uv.x), look, input);
  run.to_m = stepped(std::max(uv->x, hand.from_uv.x), look, input);
  return {wish(edit::PutIntake{run}, "Add run " + run.id, "drag/" + run.id)};
}

// Putting new things.

/// The pointer's place on a plane of the roof.
Spot place_under(const Look& look, const scene::Lens& lens, glm::dvec2 pixel, bool with_lines) {
  const scene::Picked picked =
      scene::pick(look.scene, lens, pixel, with_lines ? line_reach_px : -1.0);
  Spot place;
  place.line = picked.line;
  if (!picked.plane.is_none()) {
    place.plane = &look.assessment.surface.planes[picked.plane];
    place.uv = place.plane->frame.uv(picked.at);
  }
  return place;
}

/// Whether the exhaust in the hand is for gable walls.
bool takes_wall(const Look& look) {
  const EditState& edit = look.state.edit;
  const auto product = find(edit.products, edit.exhaust_product);
  return product != edit.products.end() && product->kind == model::VentKind::gable_louvre;
}

Intents put_exhaust(const Look& look, const Input& input, const Spot& spot) {
  const EditState& edit = look.state.edit;
  const auto product = find(edit.products, edit.exhaust_product);
  if (product == edit.products.end()) {
    return {};
  }
  model::ExhaustVent vent;
  vent.id = edit::free_id(look.assessment.model, "vent");
  vent.product = product->id;
  if (product->kind == model::VentKind::gable_louvre) {
    if (spot.wall.empty()) {
      return {};
    }
    vent.wall = spot.wall;
    vent.at = {stepped(spot.uv.x, look, input), stepped(spot.uv.y, look, input)};
  } else if (model::runs_along(product->kind)) {
    if (spot.line.is_none()) {
      return {};
    }
    vent.line = look.assessment.surface.lines[spot.line].id;
    vent.whole = true;
  } else {
    if (spot.plane == nullptr) {
      return {};
    }
    vent.plane = spot.plane->id;
    vent.at = {stepped(spot.uv.x, look, input), stepped(spot.uv.y, look, input)};
  }
  return {wish(edit::PutExhaust{vent}, "Add vent " + vent.id, {}),
          EditIntent(SetTarget{{Target::What::exhaust, vent.id, 0}})};
}

Intents put_obstacle(const Look& look, const Input& input, const Spot& place) {
  if (place.plane == nullptr) {
    return {};
  }
  model::Obstacle obstacle;
  obstacle.kind = look.state.edit.obstacle_kind;
  obstacle.id = edit::free_id(look.assessment.model, model::word(obstacle.kind));
  obstacle.plane = place.plane->id;
  using units::foot_m;
  using units::inch_m;
  switch (obstacle.kind) {  // common sizes, no source
    case model::ObstacleKind::chimney:
      obstacle.size = {2 * foot_m, 2 * foot_m};
      obstacle.clearance_m = 2 * inch_m;
      break;
    case model::ObstacleKind::skylight:
      obstacle.size = {2 * foot_m, 4 * foot_m};
      break;
    case model::ObstacleKind::pipe:
      obstacle.size = {4 * inch_m, 4 * inch_m};
      obstacle.clearance_m = inch_m;
      break;
    case model::ObstacleKind::solar:
      obstacle.size = {3.5 * foot_m, 5.5 * foot_m};
      break;
  }
  obstacle.at = {stepped(place.uv.x - obstacle.size.x / 2, look, input),
                 stepped(place.uv.y - obstacle.size.y / 2, look, input)};
  return {wish(edit::PutObstacle{obstacle}, "Add " + obstacle.id, {}),
          EditIntent(SetTarget{{Target::What::obstacle, obstacle.id, 0}})};
}

model::IntakeRun new_run(const Look& look, const surface::Plane& plane) {
  model::IntakeRun run;
  run.id = edit::free_id(look.assessment.model, "run");
  run.product = look.state.edit.intake_product;
  run.plane = plane.id;
  return run;
}

Intents put_whole(model::IntakeRun run) {
  run.whole = true;
  return {wish(edit::PutIntake{run}, "Add run " + run.id, {})};
}

void start_run(Hand& hand, const Look& look, const Spot& place) {
  hand.is_new = true;
  hand.plane = place.plane->id;
  hand.from_uv = place.uv;
  hand.run = new_run(look, *place.plane);
  hand.grip = Grip{Grip::What::intake, Grip::End::all, hand.run.id, {}, {}};
}

bool is_of_model(const Grip& grip, const model::RoofModel& model) {
  return grip.what == Grip::What::intake    ? find(model.intake, grip.id) != model.intake.end()
         : grip.what == Grip::What::exhaust ? find(model.exhaust, grip.id) != model.exhaust.end()
                                            : true;
}

/// The mouse goes down on the drawing.
void press(Hand& hand, const Input& input, const Look& look, const scene::Lens& lens) {
  hand = {};
  hand.from_px = input.at;
  const Tool tool = look.state.edit.tool;
  // Who only looks must not move things by a slip of the hand.
  const bool edits =
      (look.state.edit.has_fields && !look.state.sight.is_measuring) || tool != Tool::look;
  const auto grip = edits ? grip_under(look, lens, input.at) : std::nullopt;
  if (grip && is_of_model(*grip, look.assessment.model)) {
    take_hold(hand, *grip, look, lens.ray(input.at));
  } else if (tool == Tool::intake) {
    if (const Spot place = place_under(look, lens, input.at, false); place.plane != nullptr) {
      start_run(hand, look, place);
    }
  } else if (tool == Tool::exhaust || tool == Tool::obstacle) {
    hand.is_new = true;
    hand.grip = Grip{};
  }
}

Intents drag(Hand& hand, const Input& input, const Look& look, const scene::Lens& lens) {
  hand.is_moving = hand.is_moving || glm::distance(input.at, hand.from_px) > click_reach_px;
  if (!hand.is_moving) {
    return {};
  }
  const Grip grip = hand.grip.value_or(Grip{});
  Intents intents;
  if (hand.is_new) {
    intents = look.state.edit.tool == Tool::intake ? draw_run(hand, input, look, lens.ray(input.at))
                                                   : Intents{};
  } else if (grip.what == Grip::What::intake) {
    intents = drag_intake(hand, input, look, lens.ray(input.at));
  } else if (grip.what == Grip::What::exhaust) {
    intents = drag_exhaust(hand, input, look, lens);
  } else {
    intents = drag_obstacle(hand, input, look, lens.ray(input.at));
  }
  // The fields are about what moves, from the first pixel on.
  const Target target{target_of(grip.what), grip.id, 0};
  if (!intents.empty() && !(look.state.edit.target == target)) {
    intents.emplace_back(EditIntent(SetTarget{target}));
  }
  return intents;
}

Intents release(const Hand& hand, const Input& input, const Look& look, const scene::Lens& lens) {
  Intents intents;
  const Tool tool = look.state.edit.tool;
  if (hand.is_new && tool == Tool::exhaust) {
    Spot spot = place_under(look, lens, input.at, true);
    if (const auto gable = takes_wall(look) ? gable_under(look, lens, input.at) : std::nullopt) {
      spot.wall = gable->first;
      spot.uv = gable->second;
    }
    intents = put_exhaust(look, input, spot);
  } else if (hand.is_new && tool == Tool::obstacle) {
    intents = put_obstacle(look, input, place_under(look, lens, input.at, false));
  } else if (hand.is_new && !hand.is_moving) {  // a click: the whole eave
    intents = put_whole(hand.run);
  }
  intents.emplace_back(EditIntent(Wish(LetGo{})));
  if (hand.grip && !hand.grip->id.empty()) {
    intents.emplace_back(EditIntent(SetTarget{{target_of(hand.grip->what), hand.grip->id, 0}}));
    intents.emplace_back(EditIntent(ShowFields{true}));
  }
  return intents;
}

bool has_dialog(const EditState& edit) {
  return edit.has_palette || edit.browser.is_shown || edit.asks_unsaved || edit.found_work ||
         !edit.asks_replace.empty();
}

/// What keys ask for. A question or a list over all else has them alone; in the tool that draws,
/// letters and digits are lengths.
Intents keys(const Input& input, const Look& look) {
  Intents intents;
  const EditState& edit = look.state.edit;
  for (const std::string& key : input.pressed) {
    const bool is_escape = key == "Esc";
    const bool is_heard = !input.typing || is_heard_while_typing(key);
    const bool is_chord = key.starts_with("Ctrl+") || key.starts_with("Alt+");
    const bool is_for_length = edit.tool == Tool::draw && !is_escape && !is_chord && key != "F1";
    if (has_dialog(edit) ? is_escape : is_heard && !is_for_length) {
      const Intents asked = asked_by(key, look.state);
      intents.insert(intents.end(), asked.begin(), asked.end());
    }
  }
  return intents;
}

}  // namespace

model::ExhaustVent vent_with_ends(const Assessment& a, const std::string& id) {
  model::ExhaustVent vent = *find(a.model.exhaust, id);
  for (const vents::Exhaust& exhaust : a.vents.exhausts) {
    if (exhaust.vent == id && vent.whole) {
      vent.from_m = exhaust.from_m;
      vent.to_m = exhaust.to_m;
      vent.whole = false;
    }
  }
  return vent;
}

Intents put_on(const Look& look, Tool tool, const Spot& spot) {
  const Input by_keys;
  if (tool == Tool::intake && spot.plane != nullptr) {
    Intents intents = put_whole(new_run(look, *spot.plane));
    const std::string id = edit::free_id(look.assessment.model, "run");
    intents.emplace_back(EditIntent(SetTarget{{Target::What::intake, id, 0}}));
    return intents;
  }
  return tool == Tool::exhaust    ? put_exhaust(look, by_keys, spot)
         : tool == Tool::obstacle ? put_obstacle(look, by_keys, spot)
                                  : Intents{};
}

Intents edit_input(Hand& hand, Input& input, const Look& look, const scene::Viewport& viewport) {
  const EditState& edit = look.state.edit;
  Intents intents = keys(input, look);
  if (look.state.lesson.is_open && !has_dialog(edit)) {
    return intents;  // the house shown may be one with mistakes
  }
  if (has_dialog(edit)) {
    input.over_panel = true;
  }
  const bool is_down = input.left_down;
  const bool starts = is_down && !hand.was_down;
  const scene::Lens lens{look.state.camera, viewport};
  Intents mine;
  if (starts && !input.over_panel && !shows_plan(edit) && look.state.has_model && !input.shift) {
    press(hand, input, look, lens);
  } else if (hand.grip && is_down) {
    mine = drag(hand, input, look, lens);
  } else if (hand.grip && hand.was_down) {
    mine = release(hand, input, look, lens);
  }
  if (hand.grip) {
    input.left_down = false;  // the view stays where it is
  }
  if (!is_down) {
    hand.grip.reset();
  }
  hand.was_down = is_down;
  intents.insert(intents.end(), mine.begin(), mine.end());
  return intents;
}

}  // namespace ridgeward::panels
