#include "conflicts/check.hpp"
#include "conflicts/words.hpp"

namespace ridgeward::conflicts {

namespace {

std::vector<Finding> find_exhaust_kinds_mixed(const Roof& roof) {
  std::vector<Finding> found;
  for (const CompartmentId id : roof.attic.compartments.ids()) {
    const vents::Exhaust* first = nullptr;
    for (const vents::Exhaust& exhaust : roof.vents.exhausts) {
      if (!vents::serves(exhaust, id)) {
        continue;
      }
      if (first == nullptr) {
        first = &exhaust;
      } else if (first->kind != exhaust.kind) {
        Finding finding;
        finding.kind = "exhaust_kinds_mixed";
        finding.compartment = id;
        finding.severity = Severity::warning;
        finding.at = 0.5 * (exhaust.from + exhaust.to);
        finding.plane = exhaust.plane;
        finding.measured = first->id + " (" + first->product + ") and " + exhaust.id + " (" +
                           exhaust.product + ")";
        finding.needed = "one kind";
        finding.message = "Two kinds of exhaust over " + roof.attic.compartments[id].id +
                          ": the nearer one can become the other's intake.";
        finding.remedy = "Keep one kind and close the other.";
        found.push_back(std::move(finding));
        break;
      }
    }
  }
  return found;
}

}  // namespace

extern const Check exhaust_kinds_mixed_kind;
const Check exhaust_kinds_mixed_kind{
    "exhaust_kinds_mixed", "two kinds of exhaust over one compartment", find_exhaust_kinds_mixed};

}  // namespace ridgeward::conflicts
