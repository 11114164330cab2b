#include "units/length.hpp"
#include "vents/around.hpp"
#include "vents/band.hpp"
#include "vents/pieces.hpp"

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

/// What the slot keeps clear of at one end of a stretch.
double hold_back_m(const Site& site, const surface::Plane& plane, const BandEnd& end,
                   const model::SlotGeometry& slot) {
  if (end.is_obstacle) {
    return 0.0;  // kept already
  }
  if (!end.line.is_none() && is_hip_or_wall(site.surface.lines[end.line].kind)) {
    return slot.hold_back_hip_m;
  }
  if (!end.line.is_none() && site.surface.lines[end.line].kind == surface::LineKind::pitch_break) {
    return 0.0;  // the seam of two planes that lie in one
  }
  return beyond_gable_wall_m(site, plane, end.u_m) + slot.hold_back_m;
}

/// Furthest u that the strip of vent reaches along a border line, between the eave and its own
/// upper edge.
double vent_end_m(const Site& site, const surface::Plane& plane, const BandEnd& end, double depth_m,
                  bool is_left) {
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
  const double low = at(0.0);
  const double high = at(std::max(0.0, depth_m - over_edge_m));
  return is_left ? std::min(low, high) : std::max(low, high);
}

/// The ends of the plane's eave in its u.
Asked eave_of(const Site& site, const surface::Plane& plane) {
  Asked eave{0.0, 0.0};
  bool is_first = true;
  for (const surface::Loop& loop : plane.loops) {
    for (const surface::LoopStep& step : loop) {
      const surface::Line& line = site.surface.lines[step.line];
      if (line.kind != surface::LineKind::eave) {
        continue;
      }
      for (const NodeId node : {line.from, line.to}) {
        const double u = plane.frame.uv(site.surface.nodes[node]).x;
        eave.from_m = is_first ? u : std::min(eave.from_m, u);
        eave.to_m = is_first ? u : std::max(eave.to_m, u);
        is_first = false;
      }
    }
  }
  return eave;
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
                const BandStretch& stretch, const Asked& asked);

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
                         PlaneId plane_id, const BandStretch& stretch, const Asked& asked) {
  const surface::Plane& plane = site_.surface.planes[plane_id];
  const double start = std::max(
      asked.from_m, stretch.left.u_m + hold_back_m(site_, plane, stretch.left, product.slot));
  const double end = std::min(
      asked.to_m, stretch.right.u_m - hold_back_m(site_, plane, stretch.right, product.slot));
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
  slot.from = plane.frame.at({start, slot.lower_line_m});
  slot.to = plane.frame.at({end, slot.lower_line_m});
  const double laid_from =
      std::max(asked.from_m, vent_end_m(site_, plane, stretch.left, product.depth_m, true));
  const double laid_to =
      std::min(asked.to_m, vent_end_m(site_, plane, stretch.right, product.depth_m, false));
  slot.vent_length_m = std::max(laid_to - laid_from, end - start);
  slot.is_over_overhang = slot.lower_line_m + slot.width_m <= plane.wall_line_v_m + near_m;
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
  const std::vector<BandStretch> all =
      stretches(site_.surface, site_.surface.planes[plane], product->slot.lower_line_m,
                product->slot.lower_line_m + product->slot.width_m);
  Asked reach = eave_of(site_, site_.surface.planes[plane]);
  for (const BandStretch& stretch : all) {
    reach.from_m = std::min(reach.from_m, stretch.left.u_m);
    reach.to_m = std::max(reach.to_m, stretch.right.u_m);
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
  for (const BandStretch& stretch :
       around_obstacles(site_, plane, product->slot.lower_line_m,
                        product->slot.lower_line_m + product->slot.width_m,
                        product->slot.hold_back_hip_m, all)) {
    cut_slot(run, *product, plane, stretch, asked);
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
