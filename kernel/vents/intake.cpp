#include "units/length.hpp"
#include "vents/around.hpp"
#include "vents/intake_bands.hpp"
#include "vents/practice.hpp"
#include "vents/strip.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::vents {

namespace {

constexpr double near_m = 1e-6;

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

/// Why a plane can't bear a run. Rows of shingles, and with them both chalk lines, are counted from
/// a level foot; over a valley there is none, and water of two slopes meets there.
Fault no_foot(const model::IntakeRun& run, bool has_break, const std::string& where) {
  if (has_break) {
    return {"vent.run_outside", where + "/position",
            "Run " + run.id + " in the eave position needs an eave; plane " + run.plane +
                " rises from a pitch break.",
            "Use the upslope position, counted from the break, or an eave of the slope below."};
  }
  return {
      "vent.run_outside", where + "/plane",
      "Run " + run.id + " lies on plane " + run.plane +
          ", which has no eave and no pitch break at its foot: the slot's lines are counted in "
          "courses from one, and where a slope ends in valleys water of two slopes meets.",
      "Name a plane beside it that has an eave: where the valley is framed, its slot serves the "
      "same attic."};
}

class RunSetter {
 public:
  RunSetter(const Site& site, Vents& vents, Faults& faults)
      : site_(site), vents_(vents), faults_(faults) {}

  void set(const model::IntakeRun& run, const std::string& where);

 private:
  bool is_usable(const model::IntakeRun& run, const model::Product& product,
                 const std::string& where);
  bool is_on_eave(const model::IntakeRun& run, const Asked& eave, const Asked& reach,
                  const std::string& where);
  void cut_slots(const model::IntakeRun& run, const model::Product& product, PlaneId plane,
                 const IntakeBand& band, const Asked& asked);
  Slot slot_in(const model::IntakeRun& run, const model::Product& product, PlaneId plane,
               const IntakeBand& band) const;
  void lay_vent(const model::Product& product, const IntakeBand& band, const Asked& asked,
                Slot& slot) const;
  void find_block(Slot& slot) const;

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
  if (std::find(product.positions.begin(), product.positions.end(), run.position) ==
      product.positions.end()) {
    const bool is_eave = run.position == model::Position::eave;
    faults_.push_back(
        {"vent.position", where + "/position",
         "Run " + run.id + " asks for the " + (is_eave ? "eave" : "upslope") +
             " position, for which " + product.id + " is not made.",
         std::string("Use \"") + (is_eave ? "upslope" : "eave") + "\", or another product."});
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

/// What a closed soffit shuts off; blocking and insulation are judged with the bays.
void RunSetter::find_block(Slot& slot) const {
  const surface::Plane& plane = site_.surface.planes[slot.plane];
  const model::Soffit soffit = site_.model.parts[plane.part].edge(plane.edge).soffit;
  if (model::is_in_soffit(slot.kind) &&
      (soffit == model::Soffit::closed || soffit == model::Soffit::none)) {
    slot.block = Block::closed_soffit;
    slot.is_blocked = true;
  }
}

/// The slot with all that does not depend on its ends.
Slot RunSetter::slot_in(const model::IntakeRun& run, const model::Product& product,
                        PlaneId plane_id, const IntakeBand& band) const {
  Slot slot;
  slot.run = run.id;
  slot.product = product.id;
  slot.kind = product.kind;
  slot.plane = plane_id;
  slot.position = run.position;
  slot.lower_line_m = band.low_m;
  slot.width_m = band.high_m - band.low_m;
  slot.drip_v_m = band.drip_v_m;
  slot.courses = band.courses;
  slot.is_over_break = band.is_over_break;
  return slot;
}

/// The strip of vent over a slot whose ends are known.
void RunSetter::lay_vent(const model::Product& product, const IntakeBand& band, const Asked& asked,
                         Slot& slot) const {
  const surface::Plane& plane = site_.surface.planes[slot.plane];
  if (model::is_in_soffit(product.kind)) {
    slot.vent_low_m = slot.lower_line_m;
    slot.vent_from_m = slot.start_m;
    slot.vent_to_m = slot.end_m;
  } else {
    slot.vent_low_m =
        band.courses.has_value() ? band.courses->faced_row_butt_m : -practice::over_edge_m;
    const double low_v = band.drip_v_m + slot.vent_low_m;
    // What hangs over the edge is not on the plane.
    const Strip strip{std::max(low_v, band.drip_v_m),
                      std::max(low_v + product.depth_m, band.drip_v_m)};
    const BandEnd& left = band.stretch.left;
    const BandEnd& right = band.stretch.right;
    const double left_m = vent_end_m(site_, plane, left, strip, true);
    const double right_m = vent_end_m(site_, plane, right, strip, false);
    const std::optional<Mitre> left_mitre = mitre_at(site_, plane, left, product.depth_m);
    const std::optional<Mitre> right_mitre = mitre_at(site_, plane, right, product.depth_m);
    // A run that ends over the slant of a hip or valley follows it to its end: a square one would
    // lie on the plane beside it.
    const double left_inner_m =
        left_mitre ? vent_end_m(site_, plane, left, strip, false) - near_m : left_m;
    const double right_inner_m =
        right_mitre ? vent_end_m(site_, plane, right, strip, true) + near_m : right_m;
    const bool is_left_whole = asked.from_m <= std::max(left_m + near_m, left_inner_m);
    const bool is_right_whole = asked.to_m >= std::min(right_m - near_m, right_inner_m);
    slot.vent_from_m = is_left_whole ? left_m : asked.from_m;
    slot.vent_to_m = is_right_whole ? right_m : asked.to_m;
    // Where the plane's ends meet within the vent's depth no strip can follow both of them.
    const bool follows_ends = slot.vent_to_m - slot.vent_from_m >= slot.end_m - slot.start_m;
    if (!follows_ends) {
      slot.vent_from_m = slot.start_m;
      slot.vent_to_m = slot.end_m;
    }
    // A run that ends before the valley or hip is cut square.
    if (follows_ends && is_left_whole) {
      slot.left_mitre = left_mitre;
    }
    if (follows_ends && is_right_whole) {
      slot.right_mitre = right_mitre;
    }
  }
  slot.vent_length_m = slot.vent_to_m - slot.vent_from_m;
}

/// Pieces in a row, or the one slot as it is.
std::vector<Asked> pieces_within(const model::IntakeRun& run, const model::Product& product,
                                 double start_m, double end_m) {
  if (product.kind != model::VentKind::soffit_piece) {
    return {{start_m, end_m}};
  }
  const double every_m = std::max(run.every_m, product.length_m);
  const double room_m = end_m - start_m - product.length_m;
  std::vector<Asked> all;
  if (room_m < -near_m) {
    return all;
  }
  const auto more = static_cast<int>(std::floor((room_m + near_m) / every_m));
  const double first_m = start_m + 0.5 * std::max(0.0, room_m - more * every_m);
  all.reserve(static_cast<std::size_t>(more) + 1);
  for (int i = 0; i <= more; ++i) {
    all.push_back({first_m + i * every_m, first_m + i * every_m + product.length_m});
  }
  return all;
}

void RunSetter::cut_slots(const model::IntakeRun& run, const model::Product& product,
                          PlaneId plane_id, const IntakeBand& band, const Asked& asked) {
  const surface::Plane& plane = site_.surface.planes[plane_id];
  const BandEnd& left = band.stretch.left;
  const BandEnd& right = band.stretch.right;
  const double band_v = band.drip_v_m + band.low_m;
  const double start =
      std::max(asked.from_m, left.u_m + hold_back_m(site_, plane, left, band_v, product.slot));
  const double end =
      std::min(asked.to_m, right.u_m - hold_back_m(site_, plane, right, band_v, product.slot));
  if (end - start <= near_m) {
    return;
  }
  for (const Asked& piece : pieces_within(run, product, start, end)) {
    Slot slot = slot_in(run, product, plane_id, band);
    slot.start_m = piece.from_m;
    slot.end_m = piece.to_m;
    slot.from = plane.frame.at({slot.start_m, slot.lower_v_m()});
    slot.to = plane.frame.at({slot.end_m, slot.lower_v_m()});
    if (model::is_in_soffit(product.kind)) {
      // A soffit is level, at the height of the drip edge.
      slot.from.z = slot.to.z = plane.frame.at({0.0, slot.drip_v_m}).z;
    }
    const surface::WallLine wall = surface::wall_line_at(
        site_.surface, plane, {0.5 * (slot.start_m + slot.end_m), band.drip_v_m});
    const model::Part& part = site_.model.parts[wall.part];
    slot.wall_part = wall.part;
    if (!band.is_over_break) {
      slot.wall_line_m = wall.v_m - band.drip_v_m;
      slot.inner_face_m = slot.wall_line_m + part.wall_thickness_m * plane.pitch.slope_factor();
    }
    if (has_ice_barrier(site_.model) && !band.is_over_break) {
      slot.ice_barrier_m = ice_barrier_reach_m(site_.model, part, plane.pitch,
                                               slot.wall_line_m / plane.pitch.slope_factor());
    }
    lay_vent(product, band, asked, slot);
    slot.is_over_overhang = slot.upper_line_m() <= slot.wall_line_m + near_m;
    find_block(slot);
    open_slot(site_, product, vents_, slot);
    vents_.slots.push_back(std::move(slot));
  }
}

bool RunSetter::is_on_eave(const model::IntakeRun& run, const Asked& eave, const Asked& reach,
                           const std::string& where) {
  if (run.whole || (run.to_m - run.from_m > near_m && run.from_m >= reach.from_m - near_m &&
                    run.to_m <= reach.to_m + near_m)) {
    return true;
  }
  const bool is_imperial =
      site_.model.unit == units::LengthUnit::ft || site_.model.unit == units::LengthUnit::in;
  const auto length = [&](double m) {
    return units::show(m, is_imperial ? units::Style::feet_inches : units::Style::metric);
  };
  const std::string goes_on =
      reach.to_m > eave.to_m + near_m
          ? "; at the height of the slot the plane goes on to " + length(reach.to_m)
          : std::string();
  faults_.push_back({"vent.run_outside", where + (run.to_m > reach.to_m + near_m ? "/to" : "/from"),
                     "Run " + run.id + " does not lie on the eave of " + run.plane +
                         ", which goes from " + length(eave.from_m) + " to " + length(eave.to_m) +
                         goes_on + ".",
                     "Give from and to along the eave from its left end, from less than to."});
  return false;
}

void RunSetter::set(const model::IntakeRun& run, const std::string& where) {
  const model::Product* product = product_named(site_, run.product, where + "/product", faults_);
  if (product == nullptr || !is_usable(run, *product, where)) {
    return;
  }
  const PlaneId plane = site_.surface.plane_named(run.plane);
  const surface::Plane& below = site_.surface.planes[plane];
  const std::vector<EaveLine> eaves = run.position == model::Position::upslope
                                          ? feet_of(site_.surface, below)
                                          : eaves_of(site_.surface, below);
  if (eaves.empty()) {
    faults_.push_back(no_foot(run, !feet_of(site_.surface, below).empty(), where));
    return;
  }
  const std::vector<IntakeBand> all = intake_bands(site_, below, eaves, *product, run.position);
  Asked reach{eaves.front().from_u_m, eaves.front().to_u_m};
  for (const EaveLine& eave : eaves) {
    reach = {std::min(reach.from_m, eave.from_u_m), std::max(reach.to_m, eave.to_u_m)};
  }
  const Asked eave_ends = reach;
  for (const IntakeBand& one : all) {
    reach = {std::min(reach.from_m, one.stretch.left.u_m),
             std::max(reach.to_m, one.stretch.right.u_m)};
  }
  if (!is_on_eave(run, eave_ends, reach, where)) {
    return;
  }
  const Asked asked =
      run.whole ? Asked{reach.from_m - 1e3, reach.to_m + 1e3} : Asked{run.from_m, run.to_m};
  const std::size_t before = vents_.slots.size();
  for (IntakeBand band : all) {
    const BandStretch whole = band.stretch;
    for (const BandStretch& clear :
         around_obstacles(site_, plane, band.drip_v_m + band.low_m, band.drip_v_m + band.high_m,
                          product->slot.hold_back_at_obstacle_m(), {whole})) {
      band.stretch = clear;
      cut_slots(run, *product, plane, band, asked);
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
