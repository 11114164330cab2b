#include "conflicts/check.hpp"
#include "conflicts/words.hpp"

namespace ridgeward::conflicts {

namespace {

std::vector<Finding> find_opens_on_nothing(const Roof& roof) {
  std::vector<Finding> found;
  for (const ExhaustId id : roof.vents.exhausts.ids()) {
    const vents::Exhaust& exhaust = roof.vents.exhausts[id];
    if (vents::serves_any(exhaust)) {
      continue;
    }
    Finding finding = about_exhaust(roof, id, "opens_on_nothing", Severity::error);
    finding.measured = free_area_words(roof, exhaust.free_area_m2) + " over no compartment";
    finding.needed = "a compartment beneath";
    finding.message = "Exhaust " + exhaust.id + " lies over no attic space.";
    finding.remedy = "Move it over the compartment that it is to serve, or leave it out.";
    found.push_back(std::move(finding));
  }
  return found;
}

}  // namespace

extern const Check opens_on_nothing_kind;
const Check opens_on_nothing_kind{"opens_on_nothing", "an exhaust that serves no compartment",
                                  find_opens_on_nothing};

}  // namespace ridgeward::conflicts
