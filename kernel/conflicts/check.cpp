#include "conflicts/check.hpp"

namespace ridgeward::conflicts {

extern const std::span<const Check* const> all_kinds;

const char* word(Severity severity) {
  switch (severity) {
    case Severity::note:
      return "note";
    case Severity::warning:
      return "warning";
    case Severity::error:
      return "error";
  }
  return "error";
}

std::span<const Check* const> checks() { return all_kinds; }

std::vector<Finding> find(const Roof& roof) {
  std::vector<Finding> all;
  for (const Check* check : checks()) {
    for (Finding& finding : check->run(roof)) {
      all.push_back(std::move(finding));
    }
  }
  return all;
}

}  // namespace ridgeward::conflicts
