#include "conflicts/words.hpp"

#include "attic/names.hpp"
#include "base/polygon.hpp"
#include "units/area.hpp"
#include "units/length.hpp"
#include "vents/practice.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace ridgeward::conflicts {

namespace {

units::Style style_of(const Roof& roof) { return units::style_of(roof.model.unit); }

}  // namespace

std::string section_words(const Roof& roof, std::string codes::CodeSet::Sections::*subject) {
  return " (" +
         codes::or_practice(roof.code == nullptr ? std::string() : roof.code->sections.*subject) +
         ")";
}

std::string pitch_words(const Roof& roof, units::Pitch pitch) {
  return units::show_pitch(pitch, style_of(roof));
}

std::string length_words(const Roof& roof, double length_m) {
  return units::show(length_m, style_of(roof));
}

std::string length_up_words(const Roof& roof, double length_m) {
  const double step_m = style_of(roof) == units::Style::metric ? 0.001 : units::inch_m / 8.0;
  return length_words(roof, step_m * std::ceil(length_m / step_m - 1e-6));
}

std::string free_area_words(const Roof& roof, double area_m2) {
  return units::show_free_area(area_m2, style_of(roof));
}

std::string free_area_up_words(const Roof& roof, double area_m2) {
  constexpr double square_centimetre_m2 = 1e-4;
  const double step_m2 =
      style_of(roof) == units::Style::metric ? square_centimetre_m2 : units::square_inch_m2;
  return free_area_words(roof, step_m2 * std::ceil(area_m2 / step_m2 - 1e-6));
}

std::string to_each(const Roof& roof, CompartmentId compartment) {
  return roof.attic.compartments[compartment].is_rafter_space ? " to each rafter space" : "";
}

std::string free_area_per_length_words(const Roof& roof, double area_m) {
  return style_of(roof) == units::Style::metric
             ? units::show_free_area(area_m, units::Style::metric) + " a metre"
             : fmt::format("{:.1f} in2 a foot", area_m * units::foot_m / units::square_inch_m2);
}

std::string share_words(double share) { return fmt::format("{:.1f} %", 100.0 * share); }

glm::dvec3 middle_of(const vents::Slot& slot) { return 0.5 * (slot.from + slot.to); }

Beneath beneath(const Roof& roof, const vents::Slot& slot,
                const std::function<bool(const vents::SlotBay&)>& holds) {
  Beneath some;
  double low_m = HUGE_VAL;
  double high_m = -HUGE_VAL;
  for (const vents::SlotBay& part : slot.bays) {
    const framing::Bay& bay = roof.framing.bays[part.bay];
    if (holds(part)) {
      some.bays.push_back(part.bay);
      some.open_m += part.open_length_m;
      low_m = std::min(low_m, std::max(bay.from_u_m, slot.start_m));
      high_m = std::max(high_m, std::min(bay.to_u_m, slot.end_m));
    } else if (roof.vents.bays[part.bay].live) {
      some.is_all = false;
    }
  }
  const double share = some.is_all || some.bays.empty()
                           ? 0.5
                           : (0.5 * (low_m + high_m) - slot.start_m) / (slot.end_m - slot.start_m);
  some.at = slot.from + share * (slot.to - slot.from);
  return some;
}

std::string over_words(const Roof& roof, const vents::Slot& slot, const Beneath& some) {
  if (some.is_all) {
    return {};
  }
  double all_m = 0.0;
  for (const vents::SlotBay& part : slot.bays) {
    all_m += part.open_length_m;
  }
  return ", over " + attic::names_of_bays(roof.framing, some.bays) + ", " +
         length_words(roof, some.open_m) + " of its " + length_words(roof, all_m) + " clear";
}

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

bool serves_at_eave(const Roof& roof, const vents::Slot& slot, double room_m) {
  const model::Product* product = product_of(roof, slot.product);
  if (product == nullptr || slot.position != model::Position::upslope || slot.is_over_break ||
      std::find(product->positions.begin(), product->positions.end(), model::Position::eave) ==
          product->positions.end()) {
    return false;
  }
  const model::Part& part = roof.model.parts[roof.surface.planes[slot.plane].part];
  const double low_m = product->slot.lower_line_m;
  const bool is_outside = low_m + product->slot.width_m <= slot.wall_line_m + tolerance_m;
  const bool is_open = is_outside ? part.framing.blocking != model::Blocking::solid
                                  : low_m >= slot.inner_face_m - tolerance_m;
  return is_open && product->depth_m - vents::practice::over_edge_m <= room_m + tolerance_m;
}

bool has_vents(const Roof& roof) {
  return !roof.model.intake.empty() || !roof.model.exhaust.empty();
}

}  // namespace ridgeward::conflicts
