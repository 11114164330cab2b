#include "conflicts/words.hpp"

#include "base/polygon.hpp"
#include "units/area.hpp"
#include "units/length.hpp"

#include <fmt/format.h>

#include <algorithm>

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

std::string free_area_per_length_words(const Roof& roof, double area_m) {
  return style_of(roof) == units::Style::metric
             ? units::show_free_area(area_m, units::Style::metric) + " a metre"
             : fmt::format("{:.1f} in2 a foot", area_m * units::foot_m / units::square_inch_m2);
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

const codes::Test* failing(const Roof& roof, CompartmentId compartment, codes::Measure measure) {
  for (const codes::Test& test : roof.tests.tests) {
    if (test.compartment == compartment && test.measure == measure && !test.holds &&
        test.is_measured) {
      return &test;
    }
  }
  return nullptr;
}

Severity weight_of(const Roof& roof, const codes::Test& test) {
  const auto is_area = [&](const codes::Test& other) {
    return other.compartment == test.compartment && other.test == "required_area" && other.holds;
  };
  const bool is_enough = std::any_of(roof.tests.tests.begin(), roof.tests.tests.end(), is_area);
  return test.is_condition && is_enough ? Severity::note : Severity::warning;
}

const model::Product* product_of(const Roof& roof, const std::string& name) {
  const auto found = roof.catalogue.products.find(name);
  return found == roof.catalogue.products.end() ? nullptr : &found->second;
}

Finding about_slot(const Roof& roof, SlotId id, const char* kind, Severity severity) {
  const vents::Slot& slot = roof.vents.slots[id];
  Finding finding;
  finding.kind = kind;
  finding.severity = severity;
  finding.at = middle_of(slot);
  finding.plane = slot.plane;
  finding.slot = id;
  return finding;
}

Finding about_exhaust(const Roof& roof, ExhaustId id, const char* kind, Severity severity) {
  const vents::Exhaust& exhaust = roof.vents.exhausts[id];
  Finding finding;
  finding.exhaust = id;
  finding.kind = kind;
  finding.severity = severity;
  finding.at = 0.5 * (exhaust.from + exhaust.to);
  finding.plane = exhaust.plane;
  return finding;
}

std::vector<glm::dvec2> band_of(const vents::Slot& slot) {
  const double low = slot.lower_v_m();
  const double high = low + slot.width_m;
  return {{slot.start_m, low}, {slot.end_m, low}, {slot.end_m, high}, {slot.start_m, high}};
}

bool has_vents(const Roof& roof) {
  return !roof.model.intake.empty() || !roof.model.exhaust.empty();
}

}  // namespace ridgeward::conflicts
