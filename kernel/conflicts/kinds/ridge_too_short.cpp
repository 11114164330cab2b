#include "conflicts/check.hpp"
#include "conflicts/words.hpp"

#include <algorithm>
#include <cmath>

namespace ridgeward::conflicts {

namespace {

/// What one kind of line vent gives over a compartment, and what its lines could give.
struct Lines {
  const model::Product* product = nullptr;
  double placed_m = 0.0;
  double placed_m2 = 0.0;
  double there_m = 0.0;
};

Lines lines_over(const Roof& roof, CompartmentId id) {
  Lines lines;
  for (const vents::Exhaust& exhaust : roof.vents.exhausts) {
    if (exhaust.compartment != id) {
      continue;
    }
    if (exhaust.line.is_none()) {
      return {};  // vents by the piece: there is room for more of them
    }
    lines.product = product_of(roof, exhaust.product);
    lines.placed_m += exhaust.length_m;
    lines.placed_m2 += exhaust.free_area_m2;
  }
  if (lines.product == nullptr) {
    return lines;
  }
  const surface::LineKind kind = lines.product->kind == model::VentKind::hip_vent
                                     ? surface::LineKind::hip
                                     : surface::LineKind::ridge;
  for (const surface::Line& line : roof.surface.lines) {
    const glm::dvec3 middle = 0.5 * (roof.surface.nodes[line.from] + roof.surface.nodes[line.to]);
    if (line.kind == kind && roof.attic.under({middle.x, middle.y}) == id) {
      lines.there_m += line.length_m;
    }
  }
  return lines;
}

std::vector<Finding> find_ridge_too_short(const Roof& roof) {
  std::vector<Finding> found;
  for (const CompartmentId id : roof.attic.compartments.ids()) {
    const Lines lines = lines_over(roof, id);
    // The share is asked of the reduced area alone, and is measured against it.
    const codes::Test* test = failing(roof, id, codes::Measure::high_share_of_required);
    if (lines.product == nullptr || lines.placed_m <= 0.0 || lines.placed_m2 <= 0.0 ||
        test == nullptr || !test->bounds.least || test->measured <= 0.0 ||
        test->measured >= *test->bounds.least) {
      continue;
    }
    const double reduced_m2 = roof.vents.totals[id].exhaust_m2 / test->measured;
    const double needed_m2 = *test->bounds.least * reduced_m2;
    const double needed_m = needed_m2 * lines.placed_m / lines.placed_m2;
    if (needed_m <= lines.there_m) {
      continue;  // there is enough: the run is short, not the line
    }
    const char* word = lines.product->kind == model::VentKind::hip_vent ? "hip" : "ridge";
    Finding finding;
    finding.kind = "ridge_too_short";
    finding.severity = weight_of(roof, *test);
    finding.at = place_of(roof, id);
    finding.measured = length_words(roof, lines.there_m) + " of " + word + ", " +
                       free_area_words(roof, lines.placed_m2) + " placed";
    finding.needed = length_words(roof, needed_m) + " of " + lines.product->id + " for " +
                     free_area_words(roof, needed_m2) + ", " + share_words(*test->bounds.least) +
                     " of the reduced area, " + free_area_words(roof, reduced_m2) + " (" +
                     test->section + ")";
    finding.message = "Compartment " + roof.attic.compartments[id].id + " has too little " + word +
                      " for the high share that the reduced area asks for.";
    finding.remedy = "Use a vent of at least " +
                     free_area_per_length_words(roof, needed_m2 / lines.placed_m) + " on the " +
                     length_words(roof, lines.placed_m) +
                     " that can be used, or vents by the piece high on the planes in its place.";
    found.push_back(std::move(finding));
  }
  return found;
}

}  // namespace

extern const Check ridge_too_short_kind;
const Check ridge_too_short_kind{
    "ridge_too_short", "ridges or hips too short for the exhaust that a compartment needs",
    find_ridge_too_short};

}  // namespace ridgeward::conflicts
