#include "conflicts/check.hpp"
#include "conflicts/words.hpp"

#include <algorithm>

namespace ridgeward::conflicts {

namespace {

std::vector<Finding> find_exhaust_too_low(const Roof& roof) {
  std::vector<Finding> found;
  for (const ExhaustId id : roof.vents.exhausts.ids()) {
    const vents::Exhaust& exhaust = roof.vents.exhausts[id];
    const codes::Test* test =
        exhaust.compartment.is_none()
            ? nullptr
            : failing(roof, exhaust.compartment, codes::Measure::exhaust_below_top_m);
    if (test == nullptr || !test->bounds.most) {
      continue;
    }
    const attic::Compartment& space = roof.attic.compartments[exhaust.compartment];
    const double below_m = space.top_m - std::min(exhaust.from.z, exhaust.to.z);
    const double over_m = below_m - *test->bounds.most;
    if (over_m <= tolerance_m) {
      continue;
    }
    Finding finding = about_exhaust(roof, id, "exhaust_too_low", weight_of(roof, *test));
    finding.measured = length_words(roof, below_m) + " below the highest point of " + space.id;
    finding.needed =
        "at most " + length_words(roof, *test->bounds.most) + " (" + test->section + ")";
    finding.message = "Exhaust " + exhaust.id + " lies too far below the top.";
    finding.remedy = "Set it " + length_words(roof, over_m) +
                     " higher or more, measured plumb, or leave it out: openings this low do not "
                     "count as upper ones.";
    found.push_back(std::move(finding));
  }
  return found;
}

}  // namespace

extern const Check exhaust_too_low_kind;
const Check exhaust_too_low_kind{
    "exhaust_too_low", "an exhaust further below the top of its space than the code asks for",
    find_exhaust_too_low};

}  // namespace ridgeward::conflicts
