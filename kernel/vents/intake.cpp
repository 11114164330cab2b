#include "base/polygon.hpp"
#include "units/length.hpp"
#include "vents/around.hpp"
#include "vents/band.hpp"
#include "vents/pieces.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::vents {

namespace {

constexpr double near_m = 1e-6;
/// Sections are set this far over the eave edge so that air enters from below (common practice).
constexpr double over_edge_m = units::inch_m;

/// Asked for along the eave; whole runs reach as far as the plane does.
struct Asked {
  double from_m = 0.0;
  double to_m = 0.0;
};

bool is_hip_or_wall(surface::LineKind kind) {
  switch (kind) {
    case surface::LineKind::hip:
    case surface::LineKind::valley:
    case surface::LineKind::headwall:
    case surface::LineKind::sidewall:
    case surface::LineKind::step_wall:
      return true;
    default:
      return false;
  }
}

/// Whether the planes beside a line lie in one.
bool is_seam_of_one_slope(const surface::Surface& surface, LineId id) {
  const surface::Line& line = surface.lines[id];
  constexpr double same_normal = 1e-7;
  return !line.left_plane().is_none() && !line.right_plane().is_none() &&
         glm::length(surface.planes[line.left_plane()].frame.normal -
                     surface.planes[line.right_plane()].frame.normal) < same_normal;
}

/// What the slot keeps clear of at one end of a stretch.
double hold_back_m(const Site& site, const surface::Plane& plane, const BandEnd& end,
                   double band_v_m, const model::SlotGeometry& slot) {
  if (end.is_obstacle) {
    return 0.0;  // kept already
  }
  if (!end.line.is_none() && is_hip_or_wall(site.surface.lines[end.line].kind)) {
    return slot.hold_back_hip_m;
  }
  if (!end.line.is_none() && site.surface.lines[end.line].kind == surface::LineKind::pitch_break) {
    const bool is_seam = is_seam_of_one_slope(site.surface, end.line);
    return is_seam ? 0.0 : slot.hold_back_hip_m;  // another roof that leans on this one
  }
  return beyond_gable_wall_m(site, plane, {end.u_m, band_v_m}) + slot.hold_back_m;
}

/// A strip of vent along an eave.
struct EaveStrip {
  double drip_v_m = 0.0;
  double depth_m = 0.0;
};

/// Furthest u that the strip of vent reaches along a border line, between the eave and its own
/// upper edge.
double vent_end_m(const Site& site, const surface::Plane& plane, const BandEnd& end,
                  EaveStrip strip, bool is_left) {
  if (end.line.is_none()) {
    return end.u_m;
  }
  const surface::Line& line = site.surface.lines[end.line];
  const glm::dvec2 a = plane.frame.uv(site.surface.nodes[line.from]);
  const glm::dvec2 b = plane.frame.uv(site.surface.nodes[line.to]);
  if (std::abs(b.y - a.y) <= near_m) {
    return end.u_m;
  }
  const auto at = [&](double v) { return a.x + (v - a.y) / (b.y - a.y) * (b.x - a.x); };
  const double low = at(strip.drip_v_m);
  const double high = at(strip.drip_v_m + std::max(0.0, strip.depth_m - over_edge_m));
  return is_left ? std::min(low, high) : std::max(low, high);
}

/// How far from `start`, in steps of `up`, the nearest side of `walls` is met; infinity for none.
double nearest_wall(const polygon::Loops& walls, glm::dvec2 start, glm::dvec2 up) {
  double nearest = HUGE_VAL;
  for (const polygon::Loop& loop : walls) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const glm::dvec2 a = loop[i] - start;
      const glm::dvec2 side = loop[(i + 1) % loop.size()] - loop[i];
      const double turn = up.x * side.y - up.y * side.x;
      const double on_side = turn != 0.0 ? (a.x * up.y - a.y * up.x) / turn : -1.0;
      const double far = turn != 0.0 ? (a.x * side.y - a.y * side.x) / turn : -1.0;
      if (on_side >= 0.0 && on_side <= 1.0 && far >= 0.0) {
        nearest = std::min(nearest, far);
      }
    }
  }
  return nearest;
}

/// Where, up the slope, the outer face of the wall stands under a plane: over the parts' walls from
/// the drip edge upward. Of one part it is that part's own.
double wall_line_v_m(const Site& site, const surface::Plane& plane, glm::dvec2 drip_uv) {
  if (site.surface.wall_outlines.size() < 2) {
    return plane.wall_line_v_m;
  }
  const glm::dvec2 start{plane.frame.at(drip_uv)};
  const glm::dvec2 up{plane.frame.up};
  double nearest = HUGE_VAL;
  for (const polygon::Loops& walls : site.surface.wall_outlines) {
    if (polygon::contains(walls, start + near_m * up)) {
      return drip_uv.y;
    }
    nearest = std::min(nearest, nearest_wall(walls, start, up));
  }
  return nearest < HUGE_VAL ? drip_uv.y + nearest : plane.wall_line_v_m;
}

/// A stretch with the height of its drip edge.
struct EaveStretch {
  double drip_v_m = 0.0;
  BandStretch stretch;
};

/// Along all eaves of a plane, from the left.
std::vector<EaveStretch> eave_stretches(const Site& site, const surface::Plane& plane,
                                        const std::vector<EaveLine>& eaves,
                                        const model::SlotGeometry& slot) {
  std::vector<EaveStretch> all;
  double done = -HUGE_VAL;
  for (const EaveLine& eave : eaves) {
    if (eave.v_m <= done + near_m) {
      continue;  // the same height as the one before
    }
    done = eave.v_m + 1e-5;
    for (const BandStretch& stretch : stretches(site.surface, plane, eave.v_m, slot.lower_line_m,
                                                slot.lower_line_m + slot.width_m)) {
      all.push_back({eave.v_m, stretch});
    }
  }
  std::stable_sort(all.begin(), all.end(), [](const EaveStretch& l, const EaveStretch& r) {
    return l.stretch.left.u_m < r.stretch.left.u_m;
  });
  return all;
}

class RunSetter {
 public:
  RunSetter(const Site& site, Vents& vents, Faults& faults)
      : site_(site), vents_(vents), faults_(faults) {}

  void set(const model::IntakeRun& run, const std::string& where);

 private:
  bool is_usable(const model::IntakeRun& run, const model::Product& product,
                 const std::string& where);
  void cut_slot(const model::IntakeRun& run, const model::Product& product, PlaneId plane,
                const EaveStretch& eave, const Asked& asked);

  const Site& site_;
  Vents& vents_;
  Faults& faults_;
};

bool RunSetter::is_usable(const model::IntakeRun& run, const model::Product& product,
                          const std::string& where) {
  if (!model::is_intake(product.kind)) {
    faults_.push_back({"vent.wrong_kind", where + "/product",
                       "Product " + product.id + " of run " + run.id + " is no intake vent.",
                       "Choose an intake product, or list the vent under exhaust."});
    return false;
  }
  if (product.kind != model::VentKind::over_deck_intake) {
    faults_.push_back({"vent.kind_not_yet", where + "/product",
                       "Run " + run.id + ": only over-deck intake vents can be set out.",
                       "Choose an over-deck intake product."});
    return false;
  }
  if (run.position != model::Position::eave) {
    faults_.push_back({"vent.position_not_yet", where + "/position",
                       "Run " + run.id + " asks for the upslope position.",
                       "Use \"eave\"; the upslope position can't be set out."});
    return false;
  }
  if (site_.surface.plane_named(run.plane).is_none()) {
    faults_.push_back(
        {"vent.plane_unknown", where + "/plane",
         "Run " + run.id + " lies on plane \"" + run.plane + "\", which is not there.",
         "Name a plane as part/edge, for example " +
             (site_.surface.planes.empty() ? std::string("main/0")
                                           : site_.surface.planes.begin()->id) +
             "."});
    return false;
  }
  return true;
}

void RunSetter::cut_slot(const model::IntakeRun& run, const model::Product& product,
                         PlaneId plane_id, const EaveStretch& eave, const Asked& asked) {
  const surface::Plane& plane = site_.surface.planes[plane_id];
  const BandEnd& left = eave.stretch.left;
  const BandEnd& right = eave.stretch.right;
  const double band_v = eave.drip_v_m + product.slot.lower_line_m;
  const double start =
      std::max(asked.from_m, left.u_m + hold_back_m(site_, plane, left, band_v, product.slot));
  const double end =
      std::min(asked.to_m, right.u_m - hold_back_m(site_, plane, right, band_v, product.slot));
  if (end - start <= near_m) {
    return;
  }
  Slot slot;
  slot.run = run.id;
  slot.product = product.id;
  slot.plane = plane_id;
  slot.position = run.position;
  slot.lower_line_m = product.slot.lower_line_m;
  slot.width_m = product.slot.width_m;
  slot.start_m = start;
  slot.end_m = end;
  slot.drip_v_m = eave.drip_v_m;
  slot.from = plane.frame.at({start, slot.lower_v_m()});
  slot.to = plane.frame.at({end, slot.lower_v_m()});
  slot.wall_line_m =
      wall_line_v_m(site_, plane, {0.5 * (start + end), eave.drip_v_m}) - eave.drip_v_m;
  const EaveStrip strip{eave.drip_v_m, product.depth_m};
  const double laid_from = std::max(asked.from_m, vent_end_m(site_, plane, left, strip, true));
  const double laid_to = std::min(asked.to_m, vent_end_m(site_, plane, right, strip, false));
  slot.vent_length_m = std::max(laid_to - laid_from, end - start);
  slot.is_over_overhang = slot.lower_line_m + slot.width_m <= slot.wall_line_m + near_m;
  slot.is_blocked = slot.is_over_overhang &&
                    site_.model.parts[plane.part].framing.blocking == model::Blocking::solid;
  open_slot(site_, product, vents_, slot);
  vents_.slots.push_back(std::move(slot));
}

void RunSetter::set(const model::IntakeRun& run, const std::string& where) {
  const model::Product* product = product_named(site_, run.product, where + "/product", faults_);
  if (product == nullptr || !is_usable(run, *product, where)) {
    return;
  }
  const PlaneId plane = site_.surface.plane_named(run.plane);
  const surface::Plane& below = site_.surface.planes[plane];
  const std::vector<EaveLine> eaves = eaves_of(site_.surface, below);
  if (eaves.empty()) {
    faults_.push_back({"vent.run_outside", where + "/plane",
                       "Run " + run.id + " needs an eave; plane " + run.plane + " has none.",
                       "Name a plane that ends in an eave."});
    return;
  }
  const std::vector<EaveStretch> all = eave_stretches(site_, below, eaves, product->slot);
  Asked reach{eaves.front().from_u_m, eaves.front().to_u_m};
  for (const EaveLine& eave : eaves) {
    reach = {std::min(reach.from_m, eave.from_u_m), std::max(reach.to_m, eave.to_u_m)};
  }
  for (const EaveStretch& one : all) {
    reach = {std::min(reach.from_m, one.stretch.left.u_m),
             std::max(reach.to_m, one.stretch.right.u_m)};
  }
  const Asked asked =
      run.whole ? Asked{reach.from_m - 1e3, reach.to_m + 1e3} : Asked{run.from_m, run.to_m};
  if (!run.whole && (asked.to_m - asked.from_m <= near_m || asked.from_m < reach.from_m - near_m ||
                     asked.to_m > reach.to_m + near_m)) {
    faults_.push_back(
        {"vent.run_outside", where + (asked.to_m > reach.to_m + near_m ? "/to" : "/from"),
         "Run " + run.id + " does not lie on the eave of " + run.plane + ", which is " +
             units::show(reach.to_m, site_.model.unit == units::LengthUnit::ft ||
                                             site_.model.unit == units::LengthUnit::in
                                         ? units::Style::feet_inches
                                         : units::Style::metric) +
             " long.",
         "Give from and to along the eave from its left end, from less than to."});
    return;
  }
  const std::size_t before = vents_.slots.size();
  for (const EaveStretch& eave : all) {
    const double low_v = eave.drip_v_m + product->slot.lower_line_m;
    for (const BandStretch& clear :
         around_obstacles(site_, plane, low_v, low_v + product->slot.width_m,
                          product->slot.hold_back_hip_m, {eave.stretch})) {
      cut_slot(run, *product, plane, {eave.drip_v_m, clear}, asked);
    }
  }
  for (std::size_t i = before; i < vents_.slots.size(); ++i) {
    vents_.slots[SlotId(i)].id = run.id + "/" + std::to_string(i - before + 1);
  }
}

}  // namespace

void set_slots(const Site& site, Vents& vents, Faults& faults) {
  RunSetter setter(site, vents, faults);
  for (std::size_t i = 0; i < site.model.intake.size(); ++i) {
    setter.set(site.model.intake[i], "/vents/intake/" + std::to_string(i));
  }
}

}  // namespace ridgeward::vents
