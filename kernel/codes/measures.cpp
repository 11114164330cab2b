#include "codes/measures.hpp"

#include "codes/figures.hpp"
#include "codes/stage.hpp"
#include "units/area.hpp"
#include "units/length.hpp"
#include "units/pitch.hpp"
#include "vents/shared_bays.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace ridgeward::codes {

namespace {

/// Lowest point of the exhausts of the compartment.
std::optional<double> lowest_exhaust(const Ventilated& space) {
  std::optional<double> lowest;
  for (const vents::Exhaust& exhaust : space.vents.exhausts) {
    const auto see = [&](double z) { lowest = lowest ? std::min(*lowest, z) : z; };
    if (exhaust.shares.empty() && exhaust.compartment == space.space.compartment) {
      see(std::min(exhaust.from.z, exhaust.to.z));
    }
    for (const vents::ExhaustShare& share : exhaust.shares) {
      if (share.compartment == space.space.compartment) {
        see(share.low_m);
      }
    }
  }
  return lowest;
}

}  // namespace

double top_of(const surface::Surface& surface, const vents::Slot& slot) {
  return slot.from.z + (model::is_in_soffit(slot.kind)
                            ? 0.0
                            : slot.width_m * surface.planes[slot.plane].frame.up.z);
}

namespace {

bool serves(const Ventilated& space, const vents::Slot& slot) {
  return std::any_of(slot.bays.begin(), slot.bays.end(), [&](const vents::SlotBay& part) {
    return part.live && space.space.attic.bays[part.bay].compartment == space.space.compartment;
  });
}

/// Upper line of the highest slot that opens onto a live bay of the compartment.
std::optional<double> highest_intake(const Ventilated& space) {
  std::optional<double> highest;
  for (const vents::Slot& slot : space.vents.slots) {
    if (serves(space, slot)) {
      const double z = top_of(space.space.surface, slot);
      highest = highest ? std::max(*highest, z) : z;
    }
  }
  return highest;
}

/// Of its own bays: what a slot has over other spaces is no matter to this one.
std::optional<double> least_space(const Ventilated& space) {
  std::optional<double> least;
  for (const vents::Slot& slot : space.vents.slots) {
    for (const vents::SlotBay& part : slot.bays) {
      const std::optional<double> open_m = part.least_open_m();
      const bool is_own = space.space.attic.bays[part.bay].compartment == space.space.compartment;
      if (open_m && is_own && part.is_judged()) {
        least = least ? std::min(*least, *open_m) : *open_m;
      }
    }
  }
  return least;
}

std::optional<double> share(double part, double whole) {
  return whole > 0.0 ? std::optional(part / whole) : std::nullopt;
}

/// Intake of each plane over its eave or its area: the least.
std::optional<double> least_of_sides(const Ventilated& what, Measure measure) {
  std::optional<double> least;
  const IndexedVector<BayId, double> held =
      vents::held_back_m2(what.space.framing, what.space.attic, what.vents);
  for (const Side& side : sides_of(what.space)) {
    double intake_m2 = 0.0;
    for (const BayId id : held.ids()) {
      const bool counts = what.space.framing.bays[id].plane == side.plane &&
                          what.space.attic.bays[id].compartment == what.space.compartment;
      intake_m2 -= counts ? held[id] : 0.0;
    }
    for (const vents::Slot& slot : what.vents.slots) {
      for (const vents::SlotBay& part : slot.bays) {
        const bool counts = part.live && slot.plane == side.plane &&
                            what.space.attic.bays[part.bay].compartment == what.space.compartment;
        intake_m2 += counts ? part.free_area_m2 : 0.0;
      }
    }
    const double over = measure == Measure::intake_per_eave_m ? side.eave_m : side.area_m2;
    const std::optional<double> own = share(intake_m2, over);
    least = own && least ? std::min(*own, *least) : (own ? own : least);
  }
  return least;
}

bool is_share(Measure measure) {
  switch (measure) {
    case Measure::high_share_of_required:
    case Measure::low_share_of_required:
    case Measure::intake_height_share:
    case Measure::intake_share_of_total:
    case Measure::intake_share_of_slope:
    case Measure::exhaust_share_of_roof:
      return true;
    default:
      return false;
  }
}

}  // namespace

std::string figure(Measure measure, double value, std::optional<units::Style> style) {
  const bool has_feet = style != units::Style::metric;
  const bool has_metres = style != units::Style::feet_inches;
  const auto in_styles = [&](const std::string& feet, const std::string& metres, bool feet_first) {
    if (!has_feet || !has_metres) {
      return has_feet ? feet : metres;
    }
    return feet_first ? feet + " (" + metres + ")" : metres + " (" + feet + ")";
  };
  if (is_share(measure)) {
    return fmt::format("{:.4g} %", 100.0 * value);
  }
  if (measure == Measure::lowest_slope) {
    const units::Pitch pitch = units::Pitch::from_tangent(value);
    return in_styles(units::show_pitch(pitch, units::Style::feet_inches),
                     units::show_pitch(pitch, units::Style::metric), true);
  }
  if (measure == Measure::slope_directions) {
    return fmt::format("{:g}", value);
  }
  if (measure == Measure::intake_per_eave_m || measure == Measure::exhaust_per_ridge_m) {
    return in_styles(fmt::format("{:.2f} in2/ft", value * units::foot_m / units::square_inch_m2),
                     fmt::format("{:.0f} mm2/m", 1.0e6 * value), false);
  }
  return in_styles(units::show(value, units::Style::feet_inches),
                   units::show(value, units::Style::metric), true);
}

std::optional<double> measured(const Ventilated& what, Measure measure, double required_m2) {
  const Space& space = what.space;
  const vents::CompartmentTotals& totals = what.vents.totals[space.compartment];
  const attic::Compartment& compartment = space.attic.compartments[space.compartment];
  const std::optional<double> low = highest_intake(what);
  const std::optional<double> high = lowest_exhaust(what);
  switch (measure) {
    case Measure::high_share_of_required:
      return share(totals.exhaust_m2, required_m2);
    case Measure::low_share_of_required:
      return share(totals.intake_m2, required_m2);
    case Measure::exhaust_below_top_m:
      return high ? std::optional(compartment.top_m - *high) : std::nullopt;
    case Measure::intake_height_share:
      return low ? share(std::max(0.0, *low - compartment.bottom_m),
                         compartment.top_m - compartment.bottom_m)
                 : std::nullopt;
    case Measure::exhaust_above_intake_m:
      return low && high ? std::optional(*high - *low) : std::nullopt;
    case Measure::space_over_insulation_m:
      return least_space(what);
    case Measure::intake_share_of_total:
      return share(totals.intake_m2, totals.intake_m2 + totals.exhaust_m2);
    case Measure::intake_per_eave_m:
    case Measure::intake_share_of_slope:
      return least_of_sides(what, measure);
    case Measure::exhaust_per_ridge_m:
      return share(totals.exhaust_m2, top_line_m(space));
    case Measure::exhaust_share_of_roof:
      return share(totals.exhaust_m2, roof_area_m2(space));
    case Measure::lowest_slope:
    case Measure::span_m:
    case Measure::rafter_length_m:
    case Measure::slope_directions:
      return measured_of_space(space, measure);
  }
  return std::nullopt;
}

std::string needed_words(Measure measure, const Bounds& bounds, std::optional<units::Style> style) {
  const auto said = [&](double value) { return figure(measure, value, style); };
  if (bounds.least && bounds.most) {
    return said(*bounds.least) + " to " + said(*bounds.most);
  }
  if (bounds.least) {
    return "at least " + said(*bounds.least);
  }
  return bounds.most ? "at most " + said(*bounds.most) : "no bound";
}

std::string figure(Measure measure, double value) { return figure(measure, value, std::nullopt); }

std::string needed_words(Measure measure, const Bounds& bounds) {
  return needed_words(measure, bounds, std::nullopt);
}

}  // namespace ridgeward::codes
