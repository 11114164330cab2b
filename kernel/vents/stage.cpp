#include "vents/stage.hpp"

#include "framing/stage.hpp"
#include "vents/pieces.hpp"
#include "vents/shared_bays.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

namespace ridgeward::vents {

namespace {

constexpr double near_m = 2e-6;

/// Says where a slot's way in over the plate can't be measured.
void tell_heels(const Site& site, Vents& vents) {
  std::map<std::size_t, std::vector<std::string>> runs;  // by the part of the wall
  for (const Slot& slot : vents.slots) {
    std::vector<std::string>& own = runs[slot.wall_part];
    if (slot.is_over_overhang && site.model.parts[slot.wall_part].heel_m <= 0.0 &&
        std::find(own.begin(), own.end(), slot.run) == own.end()) {
      own.push_back(slot.run);
    }
  }
  for (const auto& [part, names] : runs) {
    if (!names.empty()) {
      vents.assumptions.push_back(fmt::format(
          "The heel of {} is not given, so the way of {} {} over the plate's outer edge "
          "is not tested: only that over the insulation is.",
          site.model.parts[part].id, names.size() > 1 ? "runs" : "run", fmt::join(names, ", ")));
    }
  }
}

/// Slots that open on one bay come in by one way over the plate.
void bound_shared_bays(const Site& site, Vents& vents) {
  const IndexedVector<BayId, double> held = held_back_m2(site.framing, site.attic, vents);
  bool is_any = false;
  for (const BayId id : held.ids()) {
    if (held[id] > 0.0) {
      vents.totals[site.attic.bays[id].compartment].intake_m2 -= held[id];
      is_any = true;
    }
  }
  if (is_any) {
    vents.assumptions.emplace_back(
        "Slots that open on one bay count together no more than its way over the plate lets "
        "through: the intake of a compartment is less than the sum of its slots.");
  }
}

}  // namespace

double CompartmentTotals::intake_share() const {
  const double both = intake_m2 + exhaust_m2;
  return both > 0.0 ? intake_m2 / both : 0.0;
}

double beyond_gable_wall_m(const Site& site, const surface::Plane& plane, glm::dvec2 uv) {
  double most = 0.0;
  for (const framing::GableEnd& end : framing::gable_ends(site.model, site.surface, plane)) {
    const double low = std::min(end.wall_u_m, end.rake_u_m);
    const double high = std::max(end.wall_u_m, end.rake_u_m);
    const bool is_in = uv.x >= low - near_m && uv.x <= high + near_m &&
                       uv.y >= end.low_v_m - near_m && uv.y <= end.high_v_m + near_m;
    most = is_in ? std::max(most, std::abs(uv.x - end.wall_u_m)) : most;
  }
  return most;
}

const model::Product* product_named(const Site& site, const std::string& name,
                                    const std::string& where, Faults& faults) {
  const auto found = site.catalogue.products.find(name);
  if (found != site.catalogue.products.end()) {
    return &found->second;
  }
  std::string known;
  for (const auto& [id, product] : site.catalogue.products) {
    known += (known.empty() ? "" : ", ") + id;
  }
  faults.push_back(
      {"vent.product_unknown", where, "Product \"" + name + "\" is not in the catalogue.",
       known.empty() ? "Give a catalogue with products." : "Choose one of: " + known + "."});
  return nullptr;
}

Result<Vents> set_out(const model::RoofModel& model, const model::Catalogue& catalogue,
                      const surface::Surface& surface, const framing::Framing& framing,
                      const attic::Attic& attic) {
  const Site site{model, catalogue, surface, framing, attic};
  Vents vents;
  Faults faults;
  set_exhausts(site, vents, faults);
  share_exhausts(site, vents);
  tell_bays(site, vents);
  set_slots(site, vents, faults);
  if (!faults.empty()) {
    return faults;
  }
  vents.totals.resize(attic.compartments.size());
  for (const Slot& slot : vents.slots) {
    for (const SlotBay& part : slot.bays) {
      if (part.live) {
        vents.totals[attic.bays[part.bay].compartment].intake_m2 += part.free_area_m2;
      }
    }
  }
  bound_shared_bays(site, vents);
  for (const Exhaust& exhaust : vents.exhausts) {
    if (exhaust.shares.empty() && !exhaust.compartment.is_none()) {
      vents.totals[exhaust.compartment].exhaust_m2 += exhaust.free_area_m2;
    }
    for (const ExhaustShare& share : exhaust.shares) {
      vents.totals[share.compartment].exhaust_m2 += share.free_area_m2;
    }
  }
  if (!vents.slots.empty()) {
    vents.assumptions.emplace_back(
        "The free area of an intake counts, bay by bay, as the smaller of the vent's own over its "
        "share of length and the slot's clear opening, and only where the bay leads to an "
        "exhaust.");
  }
  tell_heels(site, vents);
  return vents;
}

std::vector<std::string> verify(const framing::Framing& framing, const Vents& vents) {
  std::vector<std::string> broken;
  for (const Slot& slot : vents.slots) {
    double covered = 0.0;
    for (const SlotBay& part : slot.bays) {
      covered += part.open_length_m;
    }
    for (const Crossing& crossing : slot.crossings) {
      const framing::Member& member = framing.members[crossing.member];
      if (crossing.covered_m > member.thickness_m + near_m) {
        broken.push_back("slot " + slot.id + " crosses more of " + member.id + " than there is");
      }
      covered += crossing.covered_m;
    }
    if (std::abs(covered - (slot.end_m - slot.start_m)) > near_m) {
      broken.push_back("open lengths and rafters do not sum to the length of slot " + slot.id);
    }
  }
  return broken;
}

}  // namespace ridgeward::vents
