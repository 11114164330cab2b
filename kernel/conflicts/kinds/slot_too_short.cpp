#include "conflicts/check.hpp"
#include "conflicts/words.hpp"

#include <algorithm>
#include <optional>

namespace ridgeward::conflicts {

namespace {

bool has_slot(const Roof& roof, const std::string& run) {
  return std::any_of(roof.vents.slots.begin(), roof.vents.slots.end(),
                     [&](const vents::Slot& slot) { return slot.run == run; });
}

bool has_exhaust(const Roof& roof, const std::string& vent) {
  return std::any_of(roof.vents.exhausts.begin(), roof.vents.exhausts.end(),
                     [&](const vents::Exhaust& exhaust) { return exhaust.vent == vent; });
}

Finding nothing(std::string message) {
  Finding finding;
  finding.kind = "slot_too_short";
  finding.severity = Severity::error;
  finding.measured = "no opening";
  finding.needed = "an opening";
  finding.message = std::move(message);
  finding.remedy = "Lengthen it, or put it on a longer eave or ridge.";
  return finding;
}

/// A vent deeper than the overhang whose soffit it is to lie in; nothing where that is not why.
std::optional<Finding> deeper_than_overhang(const Roof& roof, const model::IntakeRun& run) {
  const model::Product* product = product_of(roof, run.product);
  const PlaneId id = roof.surface.plane_named(run.plane);
  if (product == nullptr || id.is_none() || !model::is_in_soffit(product->kind)) {
    return std::nullopt;
  }
  const surface::Plane& plane = roof.surface.planes[id];
  const double overhang_m = std::max(0.0, plane.wall_line_v_m / plane.pitch.slope_factor());
  if (overhang_m >= product->depth_m - tolerance_m) {
    return std::nullopt;
  }
  Finding finding = nothing("Run " + run.id + " has no room in the soffit of " + plane.id + ": " +
                            product->id + " is " + length_words(roof, product->depth_m) +
                            " deep, the overhang " + length_words(roof, overhang_m) + ".");
  finding.measured = length_words(roof, overhang_m) + " of overhang";
  finding.needed = "at least " + length_words(roof, product->depth_m);
  finding.remedy = "Use a vent that is less deep, or an over-deck intake.";
  return finding;
}

/// `name`: "Slot south/1"; nothing where it is long enough.
std::optional<Finding> shorter_than_piece(const Roof& roof, const std::string& product_id,
                                          const std::string& name, double length_m) {
  const model::Product* product = product_of(roof, product_id);
  if (product == nullptr || length_m >= product->least_piece_m - tolerance_m) {
    return std::nullopt;
  }
  Finding finding;
  finding.kind = "slot_too_short";
  finding.severity = Severity::warning;
  finding.measured = length_words(roof, length_m);
  finding.needed = "at least " + length_words(roof, product->least_piece_m);
  finding.message = name + " is shorter than the least workable piece.";
  finding.remedy = "Leave it out, or make it longer.";
  return finding;
}

void add_short_pieces(const Roof& roof, std::vector<Finding>& found) {
  for (const SlotId id : roof.vents.slots.ids()) {
    const vents::Slot& slot = roof.vents.slots[id];
    if (auto finding =
            shorter_than_piece(roof, slot.product, "Slot " + slot.id, slot.end_m - slot.start_m)) {
      finding->at = middle_of(slot);
      finding->plane = slot.plane;
      finding->slot = id;
      found.push_back(*std::move(finding));
    }
  }
  for (const ExhaustId id : roof.vents.exhausts.ids()) {
    const vents::Exhaust& vent = roof.vents.exhausts[id];
    if (vent.line.is_none()) {
      continue;  // vents on a plane or a wall come whole
    }
    if (auto finding =
            shorter_than_piece(roof, vent.product, "Exhaust " + vent.id, vent.length_m)) {
      finding->at = (vent.from + vent.to) / 2.0;
      finding->exhaust = id;
      found.push_back(*std::move(finding));
    }
  }
}

std::vector<Finding> find_slot_too_short(const Roof& roof) {
  std::vector<Finding> found;
  add_short_pieces(roof, found);
  for (const model::IntakeRun& run : roof.model.intake) {
    if (!has_slot(roof, run.id)) {
      found.push_back(deeper_than_overhang(roof, run).value_or(
          nothing("Run " + run.id + " leaves no room for a slot between its hold-backs.")));
      found.back().plane = roof.surface.plane_named(run.plane);
    }
  }
  for (const model::ExhaustVent& vent : roof.model.exhaust) {
    if (!has_exhaust(roof, vent.id)) {
      found.push_back(
          nothing("Vent " + vent.id + " leaves no room for a slot between its hold-backs."));
    }
  }
  for (Finding& finding : found) {
    if (!finding.plane.is_none() && finding.slot.is_none()) {
      finding.at = roof.surface.planes[finding.plane].frame.origin;
    }
  }
  return found;
}

}  // namespace

extern const Check slot_too_short_kind;
const Check slot_too_short_kind{
    "slot_too_short",
    "a run or vent that gives no opening, or a slot or vent shorter than the least workable piece",
    find_slot_too_short};

}  // namespace ridgeward::conflicts
