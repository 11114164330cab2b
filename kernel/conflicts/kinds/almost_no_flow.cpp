#include "conflicts/air_words.hpp"
#include "conflicts/words.hpp"
#include "units/length.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace ridgeward::conflicts {

namespace {

/// Of the middle bay's flow, foot for foot of slot.
constexpr double dead_share = 0.01;
/// Of what a compartment's share of the floor would give it.
constexpr double starved_share = 0.25;

/// Flow a metre of each live bay under a slot, by bay.
std::map<BayId, double> flow_along(const Roof& roof, const airflow::CaseAir& one) {
  std::map<BayId, double> open_m;
  for (const vents::Slot& slot : roof.vents.slots) {
    for (const vents::SlotBay& part : slot.bays) {
      // A bay whose air can't pass the insulation is told by little_over_insulation.
      const bool is_free = part.least_open_m().value_or(units::inch_m) >= units::inch_m;
      if (part.live && is_free && part.open_length_m > 0.0) {
        open_m[part.bay] += part.open_length_m;
      }
    }
  }
  std::map<BayId, double> flow;
  for (const auto& [bay, length] : open_m) {
    flow[bay] = 0.0;
  }
  for (const airflow::BayFlow& bay : one.bays) {
    if (const auto found = open_m.find(bay.bay); found != open_m.end()) {
      flow[bay.bay] += std::abs(bay.flow_m3s) / found->second;
    }
  }
  return flow;
}

double middle(const std::map<BayId, double>& flow) {
  std::vector<double> all;
  all.reserve(flow.size());
  for (const auto& [bay, one] : flow) {
    all.push_back(one);
  }
  std::nth_element(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(all.size() / 2),
                   all.end());
  return all[all.size() / 2];
}

/// Bays that hardly any air passes, winter or summer: in one weather alone a bay between one that
/// draws and one that blows may happen to stand still.
std::set<BayId> still_bays(const Roof& roof) {
  std::map<BayId, std::size_t> times;
  const std::vector<const airflow::CaseAir*> calm = calm_cases(roof);
  for (const airflow::CaseAir* one : calm) {
    const std::map<BayId, double> flow = flow_along(roof, *one);
    const double usual = flow.empty() ? 0.0 : middle(flow);
    for (const auto& [bay, along] : flow) {
      times[bay] += along < dead_share * usual ? 1 : 0;
    }
  }
  std::set<BayId> still;
  for (const auto& [bay, count] : times) {
    if (count == calm.size()) {
      still.insert(bay);
    }
  }
  return still;
}

void find_bays(const Roof& roof, std::vector<Finding>& found) {
  std::map<PlaneId, std::vector<BayId>> still;
  for (const BayId bay : still_bays(roof)) {
    still[roof.framing.bays[bay].plane].push_back(bay);
  }
  for (const auto& [plane, bays] : still) {
    std::string names;
    for (const BayId bay : bays) {
      names += (names.empty() ? "" : ", ") + roof.framing.bays[bay].id;
    }
    const framing::Bay& first = roof.framing.bays[bays.front()];
    Finding finding;
    finding.kind = "almost_no_flow";
    finding.severity = Severity::warning;
    finding.plane = plane;
    finding.at = roof.surface.planes[plane].frame.at(first.outline.front());
    finding.measured = std::to_string(bays.size()) + (bays.size() == 1 ? " bay" : " bays");
    finding.needed = "air in every bay under a slot";
    finding.message = "Hardly any air moves in bay " + names + as_modelled + ".";
    finding.remedy = "Open the way from these bays to an exhaust, or end the slot before them.";
    found.push_back(std::move(finding));
  }
}

void find_compartments(const Roof& roof, const airflow::CaseAir& one, std::vector<Finding>& found) {
  double flow = 0.0;
  double floor = 0.0;
  for (const CompartmentId id : roof.attic.compartments.ids()) {
    flow += one.spaces[id].in_kgs;
    floor += roof.attic.compartments[id].floor_area_m2;
  }
  for (const CompartmentId id : roof.attic.compartments.ids()) {
    const attic::Compartment& space = roof.attic.compartments[id];
    if (flow <= 0.0 || floor <= 0.0 || space.floor_area_m2 <= 0.0 ||
        !has_role(roof, id, airflow::Role::intake) || !has_role(roof, id, airflow::Role::exhaust)) {
      continue;
    }
    const double of_flow = one.spaces[id].in_kgs / flow;
    const double of_floor = space.floor_area_m2 / floor;
    if (of_flow >= starved_share * of_floor) {
      continue;
    }
    Finding finding;
    finding.kind = "almost_no_flow";
    finding.severity = Severity::warning;
    finding.at = place_of(roof, id);
    finding.measured = share_words(of_flow) + " of the air";
    finding.needed = "near its share of the floor, " + share_words(of_floor);
    finding.message = "Hardly any air moves through " + space.id + " on the " +
                      one.conditions.name + as_modelled + ".";
    finding.remedy = "Add intake and exhaust there, or open it to the space beside it.";
    found.push_back(std::move(finding));
  }
}

std::vector<Finding> find_almost_no_flow(const Roof& roof) {
  std::vector<Finding> found;
  const airflow::CaseAir* summer = roof.airflow.first(airflow::CaseKind::summer);
  if (has_vents(roof) && summer != nullptr) {
    find_bays(roof, found);
    find_compartments(roof, *summer, found);
  }
  return found;
}

}  // namespace

extern const Check almost_no_flow_kind;
const Check almost_no_flow_kind{"almost_no_flow", "bays or compartments that hardly any air passes",
                                find_almost_no_flow};

}  // namespace ridgeward::conflicts
