#include "conflicts/check.hpp"
#include "conflicts/words.hpp"
#include "units/pitch.hpp"

namespace ridgeward::conflicts {

namespace {

bool is_outside(const Roof& roof, const std::string& name, PlaneId plane) {
  const auto product = roof.catalogue.products.find(name);
  if (plane.is_none() || product == roof.catalogue.products.end()) {
    return false;
  }
  const double pitch = roof.surface.planes[plane].pitch.tangent();
  const double least = product->second.pitch_min.tangent();
  const double most = product->second.pitch_max.tangent();
  return pitch < least - tolerance || (most > 0.0 && pitch > most + tolerance);
}

Finding finding_for(const Roof& roof, const std::string& name, PlaneId plane,
                    const std::string& vent) {
  const model::Product& product = roof.catalogue.products.at(name);
  Finding finding;
  finding.kind = "pitch_outside_vent_range";
  finding.severity = Severity::error;
  finding.plane = plane;
  finding.measured = pitch_words(roof, roof.surface.planes[plane].pitch);
  finding.needed =
      pitch_words(roof, product.pitch_min) + " to " + pitch_words(roof, product.pitch_max);
  finding.message = "Vent " + vent + " (" + name + ") is not made for the pitch of " +
                    roof.surface.planes[plane].id + ".";
  finding.remedy = "Choose a product for this pitch.";
  return finding;
}

std::vector<Finding> find_pitch_outside_vent_range(const Roof& roof) {
  std::vector<Finding> found;
  for (const SlotId id : roof.vents.slots.ids()) {
    const vents::Slot& slot = roof.vents.slots[id];
    if (is_outside(roof, slot.product, slot.plane)) {
      found.push_back(finding_for(roof, slot.product, slot.plane, slot.id));
      found.back().slot = id;
      found.back().at = middle_of(slot);
    }
  }
  for (const ExhaustId id : roof.vents.exhausts.ids()) {
    const vents::Exhaust& exhaust = roof.vents.exhausts[id];
    std::vector<PlaneId> planes{exhaust.plane};
    if (!exhaust.line.is_none()) {
      const surface::Line& line = roof.surface.lines[exhaust.line];
      planes = {line.left_plane(), line.right_plane()};
    }
    for (const PlaneId plane : planes) {
      if (is_outside(roof, exhaust.product, plane)) {
        found.push_back(finding_for(roof, exhaust.product, plane, exhaust.id));
        found.back().at = 0.5 * (exhaust.from + exhaust.to);
        found.back().exhaust = id;
        break;
      }
    }
  }
  return found;
}

}  // namespace

extern const Check pitch_outside_vent_range_kind;
const Check pitch_outside_vent_range_kind{"pitch_outside_vent_range",
                                          "a vent on a slope that it is not made for",
                                          find_pitch_outside_vent_range};

}  // namespace ridgeward::conflicts
