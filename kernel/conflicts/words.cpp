#include "conflicts/words.hpp"

#include "base/polygon.hpp"
#include "units/area.hpp"
#include "units/length.hpp"

#include <fmt/format.h>

namespace ridgeward::conflicts {

namespace {

units::Style style_of(const Roof& roof) {
  const units::LengthUnit unit = roof.model.unit;
  return unit == units::LengthUnit::m || unit == units::LengthUnit::mm ? units::Style::metric
                                                                       : units::Style::feet_inches;
}

}  // namespace

std::string length_words(const Roof& roof, double length_m) {
  return units::show(length_m, style_of(roof));
}

std::string free_area_words(const Roof& roof, double area_m2) {
  return units::show_free_area(area_m2, style_of(roof));
}

std::string share_words(double share) { return fmt::format("{:.1f} %", 100.0 * share); }

glm::dvec3 middle_of(const vents::Slot& slot) { return 0.5 * (slot.from + slot.to); }

glm::dvec3 place_of(const Roof& roof, CompartmentId compartment) {
  for (const vents::Exhaust& exhaust : roof.vents.exhausts) {
    if (vents::serves(exhaust, compartment)) {
      return 0.5 * (exhaust.from + exhaust.to);
    }
  }
  const attic::Compartment& space = roof.attic.compartments[compartment];
  const glm::dvec2 middle = polygon::centroid(space.outline.front());
  return {middle.x, middle.y, space.bottom_m};
}

bool has_vents(const Roof& roof) {
  return !roof.model.intake.empty() || !roof.model.exhaust.empty();
}

}  // namespace ridgeward::conflicts
