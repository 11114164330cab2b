#include "panels/keyed.hpp"

#include "base/overloaded.hpp"

#include "panels/commands.hpp"
#include "panels/hand.hpp"
#include "panels/named.hpp"
#include "scene/ribbon.hpp"

#include <glm/geometric.hpp>
#include <glm/trigonometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::panels {
namespace {

constexpr double rafter_thick_m = 0.2;  // nearer stops are the other face of the same rafter
constexpr double on_stop_m = 1e-3;

std::size_t next_index(std::size_t count, std::optional<std::size_t> now, bool is_back) {
  if (!now) {
    return is_back ? count - 1 : 0;
  }
  return (*now + (is_back ? count - 1 : 1)) % count;
}

Intents wish(edit::Edit edit, std::string name, const std::string& merge) {
  return {EditIntent(Wish(Do{std::move(edit), std::move(name), merge, {}}))};
}

// To the next of a kind.

/// Turns the house so that a plane is seen from its front, where it is not.
void turn_towards(PlaneId plane, const Look& look, Intents& intents) {
  if (!look.assessment.surface.planes.has(plane)) {
    return;
  }
  const glm::dvec3 normal = look.assessment.surface.planes[plane].frame.normal;
  const scene::Camera& camera = goal(look.state);
  if (glm::dot(normal, camera.axes().back) > 0.1) {
    return;
  }
  scene::Camera facing = camera;
  facing.azimuth_rad = std::atan2(normal.x, normal.y);
  facing.elevation_rad = camera.is_flat ? 0.0 : glm::radians(30.0);
  intents.emplace_back(LookFrom{scene::direction_word(facing, look.scene.north_deg)});
}

/// The middle of the plane's largest triangle: a place that is on it.
glm::dvec3 place_on(PlaneId plane, const scene::Scene& scene) {
  glm::dvec3 place{0.0};
  double most = 0.0;
  for (const scene::Face& face : scene.faces) {
    for (const scene::Triangle& t : face.triangles) {
      const double size = glm::length(glm::cross(t[1] - t[0], t[2] - t[0]));
      if (face.role == scene::FaceRole::roof && face.plane == plane && size > most) {
        most = size;
        place = (t[0] + t[1] + t[2]) / 3.0;
      }
    }
  }
  return place;
}

Intents step_plane(const StepTo& ask, const Look& look) {
  const auto& planes = look.assessment.surface.planes;
  if (planes.empty()) {
    return {};
  }
  const PlaneId now = look.state.selected.plane;
  const PlaneId next(next_index(
      planes.size(), planes.has(now) ? std::optional(now.value) : std::nullopt, ask.is_back));
  Intents intents{Select{{next, LineId(), place_on(next, look.scene)}}};
  turn_towards(next, look, intents);
  return intents;
}

Intents step_line(const StepTo& ask, const Look& look) {
  const Assessment& a = look.assessment;
  std::vector<LineId> order;
  for (const scene::RibbonEave& eave : scene::ribbon_of(a).eaves) {
    order.push_back(eave.line);
  }
  for (const scene::Stroke& stroke : look.scene.strokes) {
    if (!stroke.line.is_none() &&
        std::find(order.begin(), order.end(), stroke.line) == order.end()) {
      order.push_back(stroke.line);
    }
  }
  if (order.empty()) {
    return {};
  }
  const auto at = std::find(order.begin(), order.end(), look.state.selected.line);
  const LineId next = order[next_index(
      order.size(),
      at == order.end() ? std::nullopt
                        : std::optional(static_cast<std::size_t>(at - order.begin())),
      ask.is_back)];
  const surface::Line& line = a.surface.lines[next];
  const glm::dvec3 middle = (a.surface.nodes[line.from] + a.surface.nodes[line.to]) / 2.0;
  Intents intents{Select{{PlaneId(), next, middle}}};
  turn_towards(line.left_plane().is_none() ? line.right_plane() : line.left_plane(), look, intents);
  return intents;
}

Intents step_bay(const StepTo& ask, const Look& look) {
  const scene::Ribbon ribbon = scene::ribbon_of(look.assessment);
  std::vector<std::size_t> bays;
  std::optional<std::size_t> now;
  const BayId pointed = pointed_now(look.state, look.assessment).bay;
  for (std::size_t i = 0; i < ribbon.cells.size(); ++i) {
    if (!ribbon.cells[i].bay.is_none()) {
      now = ribbon.cells[i].bay == pointed ? std::optional(bays.size()) : now;
      bays.push_back(i);
    }
  }
  if (bays.empty()) {
    return {};
  }
  const scene::RibbonCell& cell = ribbon.cells[bays[next_index(bays.size(), now, ask.is_back)]];
  const scene::RibbonEave& eave = ribbon.eaves[cell.eave];
  const double u = eave.u_at((cell.from_m + cell.to_m) / 2);
  const glm::dvec3 at = look.assessment.surface.planes[eave.plane].frame.at({u, eave.v_m});
  Intents intents{RibbonIntent(PointRibbon{cell.bay, SlotId(), {eave.plane, LineId(), at}})};
  turn_towards(eave.plane, look, intents);
  return intents;
}

/// A run with its slot, a vent or an obstacle gets the fields and is pointed at.
Intents target_thing(const Target& target, const Look& look) {
  const Assessment& a = look.assessment;
  Intents intents{EditIntent(SetTarget{target}), EditIntent(ShowFields{true})};
  PointRibbon point;
  if (target.what == Target::What::intake) {
    for (const SlotId id : a.vents.slots.ids()) {
      const vents::Slot& slot = a.vents.slots[id];
      if (slot.run == target.id && point.slot.is_none()) {
        point.slot = id;
        point.selected = {slot.plane, LineId(), (slot.from + slot.to) / 2.0};
      }
    }
  } else if (target.what == Target::What::exhaust) {
    for (const vents::Exhaust& exhaust : a.vents.exhausts) {
      if (exhaust.vent == target.id && point.selected.is_nothing()) {
        point.selected = {exhaust.plane, exhaust.line, (exhaust.from + exhaust.to) / 2.0};
      }
    }
  }
  intents.emplace_back(RibbonIntent(point));
  turn_towards(point.selected.plane, look, intents);
  return intents;
}

Intents step_thing(const StepTo& ask, const Look& look) {
  const model::RoofModel& model = look.assessment.model;
  std::vector<Target> all;
  all.reserve(model.intake.size() + model.exhaust.size() + model.obstacles.size());
  for (const auto& run : model.intake) {
    all.push_back({Target::What::intake, run.id, 0});
  }
  for (const auto& vent : model.exhaust) {
    all.push_back({Target::What::exhaust, vent.id, 0});
  }
  for (const auto& obstacle : model.obstacles) {
    all.push_back({Target::What::obstacle, obstacle.id, 0});
  }
  if (all.empty()) {
    return {};
  }
  const auto at = std::find(all.begin(), all.end(), look.state.edit.target);
  return target_thing(
      all[next_index(all.size(),
                     at == all.end() ? std::nullopt
                                     : std::optional(static_cast<std::size_t>(at - all.begin())),
                     ask.is_back)],
      look);
}

/// In plan: the next edge of all outlines, or the next corner of the part.
Intents step_outline(const StepTo& ask, const Look& look) {
  const EditState& edit = look.state.edit;
  std::vector<Target> edges;
  for (const model::Part& part : look.assessment.model.parts) {
    for (std::size_t i = 0; i < part.outline.size(); ++i) {
      edges.push_back({Target::What::edge, part.id, i});
    }
  }
  if (edges.empty()) {
    return {};
  }
  const Target now{Target::What::edge, edit.target.id, edit.corner.value_or(edit.target.index)};
  const auto at = std::find(edges.begin(), edges.end(), now);
  const Target& next = edges[next_index(
      edges.size(),
      at == edges.end() ? std::nullopt
                        : std::optional(static_cast<std::size_t>(at - edges.begin())),
      ask.is_back)];
  Intents intents{EditIntent(SetTarget{next}), EditIntent(ShowFields{true})};
  if (ask.what == StepTo::What::line) {
    intents.emplace_back(EditIntent(SelectCorner{next.index}));
  }
  return intents;
}

Intents stepped_to(const StepTo& ask, const Look& look) {
  const bool is_flat = ask.what == StepTo::What::plane || ask.what == StepTo::What::line;
  if (shows_plan(look.state.edit) && is_flat) {
    return step_outline(ask, look);
  }
  switch (ask.what) {
    case StepTo::What::plane:
      return step_plane(ask, look);
    case StepTo::What::line:
      return step_line(ask, look);
    case StepTo::What::bay:
      return step_bay(ask, look);
    case StepTo::What::thing:
      return step_thing(ask, look);
  }
  return {};
}

// Moved and trimmed.

double step_m(const Nudge& ask, const Look& look) {
  const bool is_metric = look.state.style == units::Style::metric;
  return ask.is_far ? (is_metric ? 0.5 : 2 * units::foot_m) : (is_metric ? 0.01 : units::inch_m);
}

/// To the next stop that is not the other face of the same rafter.
double to_stop(const scene::Pull& pull, double from, int way) {
  double best = way > 0 ? pull.high_m : pull.low_m;
  for (const double stop : pull.stops) {
    const bool is_onward = (stop - from) * way > rafter_thick_m;
    if (is_onward && (stop - best) * way < 0.0) {
      best = stop;
    }
  }
  return best - from;
}

Intents nudge_intake(const Nudge& ask, const Look& look) {
  const Assessment& a = look.assessment;
  const std::string& id = look.state.edit.target.id;
  const auto run = find(a.model.intake, id);
  const auto slot = std::find_if(a.vents.slots.begin(), a.vents.slots.end(),
                                 [&](const vents::Slot& one) { return one.run == id; });
  if (run == a.model.intake.end() || slot == a.vents.slots.end() || ask.right == 0) {
    return {};
  }
  const auto grip = ask.end == Nudge::End::from ? scene::Grip::left
                    : ask.end == Nudge::End::to ? scene::Grip::right
                                                : scene::Grip::whole;
  const SlotId of(static_cast<std::size_t>(slot - a.vents.slots.begin()));
  const auto pull = scene::pull_of(a, scene::ribbon_of(a), of, grip);
  if (!pull) {
    return {};
  }
  const double step = step_m({ask.end, ask.right, ask.up, false}, look);
  const double end = grip == scene::Grip::right ? pull->to_m : pull->from_m;
  const double by = ask.is_far ? to_stop(*pull, end, ask.right) : ask.right * step;
  const auto [from, to] = scene::pulled(*pull, by, ask.is_far ? on_stop_m : 0.0, step);
  if (from == pull->from_m && to == pull->to_m) {
    return {};
  }
  model::IntakeRun moved = *run;
  moved.whole = false;
  moved.from_m = units::on_grid(from);
  moved.to_m = units::on_grid(to);
  return wish(edit::PutIntake{moved}, (ask.end == Nudge::End::all ? "Move run " : "Trim run ") + id,
              {});
}

Intents nudge_exhaust(const Nudge& ask, const Look& look) {
  const Assessment& a = look.assessment;
  const std::string& id = look.state.edit.target.id;
  if (find(a.model.exhaust, id) == a.model.exhaust.end()) {
    return {};
  }
  model::ExhaustVent vent = vent_with_ends(a, id);
  const double step = step_m(ask, look);
  if (vent.line.empty()) {
    if (ask.end != Nudge::End::all) {
      return {};
    }
    vent.at += step * glm::dvec2(ask.right, ask.up);
  } else if (ask.right == 0) {
    return {};
  } else {
    vent.from_m += ask.end == Nudge::End::to ? 0.0 : ask.right * step;
    vent.to_m += ask.end == Nudge::End::from ? 0.0 : ask.right * step;
    if (vent.to_m - vent.from_m < units::inch_m || vent.from_m < 0.0) {
      return {};
    }
  }
  return wish(edit::PutExhaust{vent}, "Move vent " + id, {});
}

Intents nudge_obstacle(const Nudge& ask, const Look& look) {
  const auto& all = look.assessment.model.obstacles;
  const auto found = find(all, look.state.edit.target.id);
  if (found == all.end() || ask.end != Nudge::End::all) {
    return {};
  }
  model::Obstacle obstacle = *found;
  const glm::dvec2 by = step_m(ask, look) * glm::dvec2(ask.right, ask.up);
  obstacle.at += obstacle.outline.empty() ? by : glm::dvec2(0.0);
  for (glm::dvec2& corner : obstacle.outline) {
    corner += by;
  }
  return wish(edit::PutObstacle{obstacle}, "Move " + obstacle.id, {});
}

/// In plan: the selected corner, or the selected edge square to itself.
Intents nudge_outline(const Nudge& ask, const Look& look) {
  const EditState& edit = look.state.edit;
  const auto part = find(look.assessment.model.parts, edit.target.id);
  if (part == look.assessment.model.parts.end() || ask.end != Nudge::End::all) {
    return {};
  }
  const glm::dvec2 by = step_m(ask, look) * glm::dvec2(ask.right, ask.up);
  const std::string name = part->id + "/" + std::to_string(edit.corner.value_or(edit.target.index));
  if (edit.corner && *edit.corner < part->outline.size()) {
    const glm::dvec2 to = part->outline[*edit.corner] + by;
    return wish(edit::MoveCorner{part->id, *edit.corner, to}, "Move corner " + name, {});
  }
  if (edit.target.what != Target::What::edge || edit.target.index >= part->outline.size()) {
    return {};
  }
  const double out_m = dragged_out_m(*part, edit.target.index, by);
  return std::abs(out_m) < 1e-6
             ? Intents{}
             : wish(edit::MoveEdge{part->id, edit.target.index, units::on_grid(out_m)},
                    "Move edge " + name, {});
}

Intents nudged(const Nudge& ask, const Look& look) {
  if (shows_plan(look.state.edit)) {
    return nudge_outline(ask, look);
  }
  switch (look.state.edit.target.what) {
    case Target::What::intake:
      return nudge_intake(ask, look);
    case Target::What::exhaust:
      return nudge_exhaust(ask, look);
    case Target::What::obstacle:
      return nudge_obstacle(ask, look);
    default:
      return {};
  }
}

// Put where something is selected.

/// The plane that is selected, or that the fields' edge bears; none otherwise.
PlaneId chosen_plane(const Look& look) {
  const Target& target = look.state.edit.target;
  const auto& planes = look.assessment.surface.planes;
  if (planes.has(look.state.selected.plane) || target.what != Target::What::edge) {
    return look.state.selected.plane;
  }
  return look.assessment.surface.plane_named(target.id + "/" + std::to_string(target.index));
}

Intents put_here(const Look& look) {
  const Assessment& a = look.assessment;
  const Tool tool = look.state.edit.tool;
  Spot spot;
  const PlaneId plane = chosen_plane(look);
  if (a.surface.planes.has(plane)) {
    spot.plane = &a.surface.planes[plane];
    spot.uv = spot.plane->frame.uv(place_on(plane, look.scene));
  }
  spot.line = look.state.selected.line;
  const Target& target = look.state.edit.target;
  for (const GableWall& wall : gable_walls(a)) {
    if (target.what == Target::What::edge &&
        wall.name == target.id + "/" + std::to_string(target.index)) {
      spot.wall = wall.name;
      spot.uv = {wall.length_m / 2, units::foot_m};
    }
  }
  return put_on(look, tool, spot);
}

}  // namespace

void follow_up(const Look& look, Intents& intents) {
  Intents all;
  for (Intent& intent : intents) {
    const auto* keyed = std::get_if<KeyedIntent>(&intent);
    if (keyed == nullptr) {
      all.push_back(std::move(intent));
      continue;
    }
    const Intents more =
        std::visit(Overloaded{[&](const StepTo& ask) { return stepped_to(ask, look); },
                              [&](const Nudge& ask) { return nudged(ask, look); },
                              [&](const PutHere&) { return put_here(look); },
                              [&](const BeginLesson&) { return begin_lesson(look); }},
                   *keyed);
    all.insert(all.end(), more.begin(), more.end());
  }
  intents = std::move(all);
  follow_selection(look, intents);
}

void add_keyed_commands(const State& state, std::vector<Command>& all) {
  const EditState& edit = state.edit;
  const auto add = [&](const char* id, const char* words, const char* keys, KeyedIntent ask,
                       bool can, const char* family) {
    all.push_back({id, words, keys, can ? Intents{ask} : Intents{}, {}, family});
  };
  using What = StepTo::What;
  const auto step = [&](const char* id, const char* words, const char* before, const char* key,
                        What what) {
    const std::string name = std::string("select/") + id;
    add((name + "-next").c_str(), words, key, StepTo{what, false}, state.has_model, id);
    add((name + "-before").c_str(), before, (std::string("Shift+") + key).c_str(),
        StepTo{what, true}, state.has_model, id);
  };
  step("plane", "Select the next plane (in plan: edge)", "Select the plane before", "W",
       What::plane);
  step("line", "Select the next line, eaves first (in plan: corner)", "Select the line before", "K",
       What::line);
  step("bay", "Select the next bay", "Select the bay before", "B", What::bay);
  step("thing", "Select the next run, vent or obstacle", "Select the run, vent or obstacle before",
       "R", What::thing);
  const bool puts = edit.is_open && (edit.tool == Tool::intake || edit.tool == Tool::exhaust ||
                                     edit.tool == Tool::obstacle);
  Intents enter;
  if (puts) {
    enter.emplace_back(KeyedIntent(PutHere{}));
  } else if (edit.is_open) {
    enter = {EditIntent(ShowFields{true}), FocusIntent(FocusOn{fields_focus})};
  }
  all.push_back({"edit/enter",
                 puts ? "Put it on what is selected" : "Go into the fields of what is selected",
                 "Enter", std::move(enter)});
  const bool can_move =
      edit.is_open &&
      (shows_plan(edit) || edit.target.what == Target::What::intake ||
       edit.target.what == Target::What::exhaust || edit.target.what == Target::What::obstacle);
  using End = Nudge::End;
  for (const bool is_far : {false, true}) {
    const std::string far = is_far ? "move/far-" : "move/";
    const std::string key = is_far ? "Ctrl+" : "Shift+";
    const std::string by = is_far ? " by a bay or 2 ft" : " by a step";
    const auto way = [&](const char* word, const char* arrow, int right, int up) {
      add((far + word).c_str(), (std::string("Move it ") + word + by).c_str(),
          (key + arrow).c_str(), Nudge{End::all, right, up, is_far}, can_move,
          is_far ? "far" : "move");
    };
    way("left", "Left", -1, 0);
    way("right", "Right", 1, 0);
    way("up", "Up", 0, 1);
    way("down", "Down", 0, -1);
  }
  const auto trim = [&](const char* id, const char* words, const char* key, End end, int right) {
    add(id, words, key, Nudge{end, right, 0, true}, can_move,
        end == End::from ? "trim-from" : "trim-to");
  };
  trim("move/from-left", "Left end further left, by a bay", "Alt+Left", End::from, -1);
  trim("move/from-right", "Left end further right, by a bay", "Alt+Right", End::from, 1);
  trim("move/to-left", "Right end further left, by a bay", "Ctrl+Shift+Left", End::to, -1);
  trim("move/to-right", "Right end further right, by a bay", "Ctrl+Shift+Right", End::to, 1);
}

}  // namespace ridgeward::panels
