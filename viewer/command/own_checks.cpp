#include "command/own_checks.hpp"

#include "papers/json.hpp"
#include "plugin/check.hpp"

#include <iterator>
#include <utility>

namespace ridgeward::command {

namespace {

/// The index of an id; none where there is no such thing.
template <class I, class Items>
I index_of(const Items& items, const std::string& id) {
  for (const I index : items.ids()) {
    if (!id.empty() && items[index].id == id) {
      return index;
    }
  }
  return {};
}

conflicts::Finding finding_of(const Assessment& assessment, const std::string& kind,
                              const plugin::Found3D& found) {
  conflicts::Finding finding;
  finding.kind = kind;
  finding.severity = found.severity == 0   ? conflicts::Severity::note
                     : found.severity == 1 ? conflicts::Severity::warning
                                           : conflicts::Severity::error;
  finding.at = {found.at[0], found.at[1], found.at[2]};
  finding.plane = index_of<PlaneId>(assessment.surface.planes, found.plane);
  finding.slot = index_of<SlotId>(assessment.vents.slots, found.slot);
  finding.member = index_of<MemberId>(assessment.framing.members, found.member);
  finding.exhaust = index_of<ExhaustId>(assessment.vents.exhausts, found.exhaust);
  finding.measured = found.measured;
  finding.needed = found.needed;
  finding.message = found.message;
  finding.remedy = found.remedy;
  return finding;
}

}  // namespace

Faults add_own_checks(const std::vector<std::string>& folders, Assessment& assessment) {
  if (folders.empty()) {
    return {};
  }
  const std::string json = papers::to_json(assessment);
  std::vector<conflicts::Finding> all;
  for (const std::string& folder : folders) {
    const Result<std::vector<std::string>> paths = plugin::checks_in(folder);
    if (!paths) {
      return paths.faults();
    }
    for (const std::string& path : paths.value()) {
      const Result<plugin::FoundByCheck> check = plugin::run_apart(path, json);
      if (!check) {
        return check.faults();
      }
      for (const plugin::Found3D& one : check.value().found) {
        all.push_back(finding_of(assessment, check.value().kind, one));
      }
    }
  }
  std::move(all.begin(), all.end(), std::back_inserter(assessment.findings));
  return {};
}

}  // namespace ridgeward::command
