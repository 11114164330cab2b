#include "codes/measures.hpp"

#include "units/length.hpp"
#include "units/pitch.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace ridgeward::codes {

namespace {

/// Lowest point of the exhausts of the compartment.
std::optional<double> lowest_exhaust(const Ventilated& space) {
  std::optional<double> lowest;
  for (const vents::Exhaust& exhaust : space.vents.exhausts) {
    const auto see = [&](double z) { lowest = lowest ? std::min(*lowest, z) : z; };
    if (exhaust.shares.empty() && exhaust.compartment == space.compartment) {
      see(std::min(exhaust.from.z, exhaust.to.z));
    }
    for (const vents::ExhaustShare& share : exhaust.shares) {
      if (share.compartment == space.compartment) {
        see(share.low_m);
      }
    }
  }
  return lowest;
}

bool serves(const Ventilated& space, const vents::Slot& slot) {
  return std::any_of(slot.bays.begin(), slot.bays.end(), [&](const vents::SlotBay& part) {
    return part.live && space.attic.bays[part.bay].compartment == space.compartment;
  });
}

/// Upper line of the highest slot that opens onto a live bay of the compartment.
std::optional<double> highest_intake(const Ventilated& space) {
  std::optional<double> highest;
  for (const vents::Slot& slot : space.vents.slots) {
    if (serves(space, slot)) {
      const double z = slot.from.z + slot.width_m * space.surface.planes[slot.plane].frame.up.z;
      highest = highest ? std::max(*highest, z) : z;
    }
  }
  return highest;
}

std::optional<double> least_space(const Ventilated& space) {
  std::optional<double> least;
  for (const vents::Slot& slot : space.vents.slots) {
    if (slot.space_over_insulation_m && serves(space, slot)) {
      least =
          least ? std::min(*least, *slot.space_over_insulation_m) : *slot.space_over_insulation_m;
    }
  }
  return least;
}

/// Of the planes with bays over the compartment, rise per run.
std::optional<double> lowest_slope(const Ventilated& space) {
  std::optional<double> lowest;
  for (const BayId id : space.framing.bays.ids()) {
    if (space.attic.bays[id].compartment == space.compartment) {
      const double slope = space.surface.planes[space.framing.bays[id].plane].pitch.tangent();
      lowest = lowest ? std::min(*lowest, slope) : slope;
    }
  }
  return lowest;
}

std::optional<double> share(double part, double whole) {
  return whole > 0.0 ? std::optional(part / whole) : std::nullopt;
}

bool is_share(Measure measure) {
  switch (measure) {
    case Measure::high_share_of_required:
    case Measure::low_share_of_required:
    case Measure::intake_height_share:
    case Measure::intake_share_of_total:
      return true;
    default:
      return false;
  }
}

}  // namespace

std::string figure(Measure measure, double value) {
  if (is_share(measure)) {
    return fmt::format("{:.4g} %", 100.0 * value);
  }
  if (measure == Measure::lowest_slope) {
    return units::show_pitch(units::Pitch::from_tangent(value));
  }
  return units::show(value, units::Style::feet_inches) + " (" +
         units::show(value, units::Style::metric) + ")";
}

std::optional<double> measured(const Ventilated& space, Measure measure, double required_m2) {
  const vents::CompartmentTotals& totals = space.vents.totals[space.compartment];
  const attic::Compartment& compartment = space.attic.compartments[space.compartment];
  const std::optional<double> low = highest_intake(space);
  const std::optional<double> high = lowest_exhaust(space);
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
      return least_space(space);
    case Measure::intake_share_of_total:
      return share(totals.intake_m2, totals.intake_m2 + totals.exhaust_m2);
    case Measure::lowest_slope:
      return lowest_slope(space);
  }
  return std::nullopt;
}

std::string needed_words(Measure measure, const Bounds& bounds) {
  if (bounds.least && bounds.most) {
    return figure(measure, *bounds.least) + " to " + figure(measure, *bounds.most);
  }
  if (bounds.least) {
    return "at least " + figure(measure, *bounds.least);
  }
  return bounds.most ? "at most " + figure(measure, *bounds.most) : "no bound";
}

}  // namespace ridgeward::codes
