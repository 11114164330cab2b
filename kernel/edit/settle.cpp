// What has no place any more on the roof as it is now.
#include "base/polygon.hpp"
#include "surface/stage.hpp"
#include "units/length.hpp"

#include "edit/pieces.hpp"

#include <algorithm>
#include <charconv>
#include <string_view>

namespace ridgeward::edit {

namespace {

constexpr double near_m = 1e-6;

/// Along an eave or a line.
struct Reach {
  double from_m = 0.0;
  double to_m = 0.0;
};

/// How far the eaves of a plane reach; none where it ends in no eave.
std::optional<Reach> eave_reach(const surface::Surface& surface, PlaneId id) {
  std::optional<Reach> reach;
  const surface::Plane& plane = surface.planes[id];
  for (const surface::Loop& loop : plane.loops) {
    for (const surface::LoopStep& step : loop) {
      const surface::Line& line = surface.lines[step.line];
      if (line.kind != surface::LineKind::eave) {
        continue;
      }
      const double a = plane.frame.uv(surface.nodes[line.from]).x;
      const double b = plane.frame.uv(surface.nodes[line.to]).x;
      reach = {std::min({a, b, reach ? reach->from_m : a}),
               std::max({a, b, reach ? reach->to_m : b})};
    }
  }
  return reach;
}

bool is_inside(const surface::Surface& surface, PlaneId id, glm::dvec2 at) {
  const surface::Plane& plane = surface.planes[id];
  polygon::Loops border;
  for (const surface::Loop& loop : plane.loops) {
    border.push_back(surface::corners_uv(surface, plane.frame, loop));
  }
  return polygon::contains(border, at);
}

class Settler {
 public:
  /// `before`: the model as it was, and its surface where it had one.
  Settler(const model::RoofModel& before, const surface::Surface* surface_before,
          const surface::Surface& now, model::RoofModel& model, Said& said)
      : before_(before), surface_before_(surface_before), now_(now), model_(model), said_(said) {}

  void settle() {
    std::erase_if(model_.intake, [this](model::IntakeRun& run) { return is_lost(run); });
    std::erase_if(model_.exhaust, [this](model::ExhaustVent& vent) { return is_lost(vent); });
  }

 private:
  bool lost(const std::string& thing, const std::string& why) {
    said_.push_back(thing + " is taken out: " + why + ".");
    return true;
  }

  /// Keeps a stretch within where it may lie; true when nothing is left of it. Runs that reached
  /// beyond the old one (over an overhang) may do so by as much.
  template <class Run>
  bool is_cut_off(Run& run, const std::string& thing, Reach now, Reach before) {
    const double from_m = std::min(now.from_m, now.from_m + run.from_m - before.from_m);
    const double to_m = std::max(now.to_m, now.to_m + run.to_m - before.to_m);
    if (run.from_m >= from_m - near_m && run.to_m <= to_m + near_m) {
      return false;
    }
    run.from_m = units::on_grid(std::max(run.from_m, from_m));
    run.to_m = units::on_grid(std::min(run.to_m, to_m));
    if (run.to_m - run.from_m < units::inch_m) {
      return lost(thing, "what it lies along has become too short");
    }
    const bool is_metric =
        model_.unit == units::LengthUnit::m || model_.unit == units::LengthUnit::mm;
    const units::Style style = is_metric ? units::Style::metric : units::Style::feet_inches;
    said_.push_back(thing + " is cut short: it now goes from " + units::show(run.from_m, style) +
                    " to " + units::show(run.to_m, style) + ".");
    return false;
  }

  bool is_lost(model::IntakeRun& run) {
    const std::string thing = "Intake run " + run.id;
    const PlaneId plane = now_.plane_named(run.plane);
    if (plane.is_none()) {
      return lost(thing, "plane " + run.plane + " is gone");
    }
    const auto reach = eave_reach(now_, plane);
    if (!reach) {
      return lost(thing, "plane " + run.plane + " has no eave any more");
    }
    const auto old = old_reach(run.id);
    return !run.whole && old && is_cut_off(run, thing, *reach, *old);
  }

  /// Edges may have other numbers now: what was is found by the vent's id.
  std::optional<Reach> old_reach(const std::string& run_id) const {
    for (const model::IntakeRun& run : before_.intake) {
      if (run.id == run_id && surface_before_ != nullptr) {
        const PlaneId plane = surface_before_->plane_named(run.plane);
        return plane.is_none() ? std::nullopt : eave_reach(*surface_before_, plane);
      }
    }
    return std::nullopt;
  }

  /// Null where it lay on none.
  const surface::Line* old_line(const std::string& vent_id) const {
    for (const model::ExhaustVent& vent : before_.exhaust) {
      if (vent.id == vent_id && surface_before_ != nullptr) {
        const LineId line = surface_before_->line_named(vent.line);
        return line.is_none() ? nullptr : &surface_before_->lines[line];
      }
    }
    return nullptr;
  }

  bool is_lost(model::ExhaustVent& vent) {
    const std::string thing = "Exhaust vent " + vent.id;
    if (!vent.line.empty()) {
      return is_line_lost(vent, thing);
    }
    if (!vent.plane.empty()) {
      const PlaneId plane = now_.plane_named(vent.plane);
      return (plane.is_none() || !is_inside(now_, plane, vent.at)) &&
             lost(thing, "its place on plane " + vent.plane + " is gone");
    }
    return !is_gable(vent.wall) && lost(thing, "wall " + vent.wall + " is no gable any more");
  }

  bool is_line_lost(model::ExhaustVent& vent, const std::string& thing) {
    const LineId line = now_.line_named(vent.line);
    if (line.is_none()) {
      return lost(thing, "line " + vent.line + " is gone");
    }
    const surface::LineKind kind = now_.lines[line].kind;
    const surface::Line* old = old_line(vent.id);
    const bool is_other = old != nullptr && old->kind != kind;
    if (is_other || (kind != surface::LineKind::ridge && kind != surface::LineKind::hip)) {
      return lost(thing, "line " + vent.line + " is a " + surface::word(kind) + " now");
    }
    const double length_m = now_.lines[line].length_m;
    return !vent.whole && old != nullptr &&
           is_cut_off(vent, thing, {0.0, length_m}, {0.0, old->length_m});
  }

  bool is_gable(const std::string& wall) const {
    const std::size_t slash = wall.find('/');
    std::size_t edge = 0;
    const auto part = std::find_if(model_.parts.begin(), model_.parts.end(), [&](const auto& one) {
      return one.id == wall.substr(0, slash);
    });
    if (slash == std::string::npos || part == model_.parts.end()) {
      return false;
    }
    const auto [end, error] =
        std::from_chars(wall.data() + slash + 1, wall.data() + wall.size(), edge);
    return error == std::errc() && edge < part->edge_count() &&
           part->edge(edge).kind == model::EdgeKind::gable;
  }

  const model::RoofModel& before_;
  const surface::Surface* surface_before_;
  const surface::Surface& now_;
  model::RoofModel& model_;
  Said& said_;
};

/// The obstacle that a fault is about.
std::optional<std::size_t> obstacle_of(const Fault& fault) {
  constexpr std::string_view list = "/obstacles/";
  std::size_t index = 0;
  if (!fault.where.starts_with(list)) {
    return std::nullopt;
  }
  const char* const begin = fault.where.data() + list.size();
  const auto [end, error] = std::from_chars(begin, fault.where.data() + fault.where.size(), index);
  return error == std::errc() ? std::optional(index) : std::nullopt;
}

}  // namespace

Result<surface::Surface> settle(const model::RoofModel& before, model::RoofModel& model,
                                Said& said) {
  auto raised = surface::raise(model);
  while (!raised) {
    const auto index = obstacle_of(raised.faults().front());
    if (!index || *index >= model.obstacles.size()) {
      return raised.faults();
    }
    said.push_back("Obstacle " + model.obstacles[*index].id +
                   " is taken out: it no longer stands on the roof.");
    model.obstacles.erase(model.obstacles.begin() + static_cast<std::ptrdiff_t>(*index));
    raised = surface::raise(model);
  }
  if (!model.intake.empty() || !model.exhaust.empty()) {
    const auto old = surface::raise(before);
    Settler(before, old ? &old.value() : nullptr, raised.value(), model, said).settle();
  }
  return raised;
}

}  // namespace ridgeward::edit
