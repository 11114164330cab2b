// What a case that has settled tells: openings, bays, compartments.
#include "airflow/air.hpp"
#include "airflow/run.hpp"

#include <algorithm>
#include <cmath>

namespace ridgeward::airflow {

namespace {

constexpr double snow_deck_r = 0.3;  ///< attic air to the underside of the snow
constexpr double outside_humidity = 0.8;
constexpr double role_tolerance = 0.02;

/// Of the rafters beside a bay; of usual ones where it has none.
double bay_depth_m(const Site& site, const framing::Bay& bay) {
  for (const MemberId member : {bay.left, bay.right}) {
    if (!member.is_none() && site.framing.members[member].depth_m > 0.0) {
      return site.framing.members[member].depth_m;
    }
  }
  return 0.15;
}

}  // namespace

OpeningFlow Run::flow_of(const Passage& passage) const {
  const Link& link = network_.links[passage.link];
  const LinkFlow& f = solution_.links[passage.link];
  const Way& way = roof_.ways[passage.way];
  const bool is_inward = !std::holds_alternative<Fan>(link.law);
  OpeningFlow flow;
  flow.in_kgs = passage.share * (is_inward ? f.forward_kgs : f.backward_kgs);
  flow.out_kgs = passage.share * (is_inward ? f.backward_kgs : f.forward_kgs);
  flow.mass_kgs = flow.in_kgs - flow.out_kgs;
  flow.pressure_pa = is_inward ? f.pressure_pa : -f.pressure_pa;
  if (!passage.outer.is_none()) {
    flow.pressure_pa += solution_.links[passage.outer].pressure_pa;
  }
  const AirNodeId outer = is_inward ? link.from.node : link.to.node;
  const AirNodeId inner = is_inward ? link.to.node : link.from.node;
  const double rho = density(network_.nodes[flow.mass_kgs >= 0.0 ? outer : inner].temperature_k);
  flow.flow_m3s = flow.least_m3s = flow.most_m3s = flow.mass_kgs / rho;
  flow.speed_ms = way.free_area_m2 > 0.0 ? std::abs(flow.flow_m3s) / way.free_area_m2 : 0.0;
  return flow;
}

/// Of the air in each node; what comes in mixes at once. Swept until nothing moves: air runs mostly
/// one way, so a few sweeps do.
std::vector<double> Run::humidity_ratios() const {
  const double outside = humidity_ratio(outside_humidity * saturation_pa(conditions_.outside_c));
  std::vector<double> ratio(network_.nodes.size(), outside);
  ratio[roof_.house.value] =
      humidity_ratio(site_.model.air.inside_humidity * saturation_pa(conditions_.inside_c));
  for (int sweep = 0; sweep < 100; ++sweep) {
    std::vector<double> mass(ratio.size(), 0.0);
    std::vector<double> vapour(ratio.size(), 0.0);
    for (const AirLinkId id : network_.links.ids()) {
      const Link& link = network_.links[id];
      const LinkFlow& f = solution_.links[id];
      mass[link.to.node.value] += f.forward_kgs;
      vapour[link.to.node.value] += f.forward_kgs * ratio[link.from.node.value];
      mass[link.from.node.value] += f.backward_kgs;
      vapour[link.from.node.value] += f.backward_kgs * ratio[link.to.node.value];
    }
    double most = 0.0;
    for (std::size_t node = 1; node < ratio.size(); ++node) {
      if (node == roof_.house.value || mass[node] <= 0.0) {
        continue;
      }
      const double mixed = vapour[node] / mass[node];
      most = std::max(most, std::abs(mixed - ratio[node]));
      ratio[node] = mixed;
    }
    if (most <= 1e-9) {
      break;
    }
  }
  return ratio;
}

/// Mean over the volume of its attics and rafter spaces.
double Run::space_c(CompartmentId id) const {
  double sum = 0.0;
  double volume = 0.0;
  constexpr double least_m3 = 1e-6;
  for (const Room& room : roof_.rooms) {
    if (room.compartment == id) {
      sum += std::max(room.volume_m3, least_m3) * air_c_[room.node.value];
      volume += std::max(room.volume_m3, least_m3);
    }
  }
  for (std::size_t i = 0; i < roof_.vaults.size(); ++i) {
    if (roof_.vaults[i].compartment == id) {
      sum += std::max(roof_.vaults[i].volume_m3, least_m3) * vault_c_[i].mean_c;
      volume += std::max(roof_.vaults[i].volume_m3, least_m3);
    }
  }
  return volume > 0.0 ? sum / volume : conditions_.outside_c;
}

bool Run::has_running_fan(CompartmentId id) const {
  return conditions_.fans &&
         std::any_of(roof_.passages.begin(), roof_.passages.end(), [&](const Passage& passage) {
           return passage.fan.has_value() && roof_.ways[passage.way].compartment == id;
         });
}

void Run::tell_inflow(SpaceAir& told) const {
  double intake = 0.0;
  double exhaust = 0.0;
  double house = 0.0;
  for (const Passage& passage : roof_.passages) {
    const Way& way = roof_.ways[passage.way];
    if (way.compartment == told.compartment) {
      const double in = flow_of(passage).in_kgs;
      (way.role == Role::intake ? intake : way.role == Role::exhaust ? exhaust : house) += in;
    }
  }
  told.in_kgs = intake + exhaust + house;
  if (told.in_kgs > 0.0) {
    told.intake_share = intake / told.in_kgs;
    told.exhaust_fed_share = exhaust / told.in_kgs;
    told.house_share = house / told.in_kgs;
  }
  const double rho = density(kelvin(told.air_c));
  const double volume = site_.attic.compartments[told.compartment].volume_m3;
  told.air_changes_per_h = volume > 0.0 ? 3600.0 * told.in_kgs / (rho * volume) : 0.0;
  constexpr double least_kgs = 1e-6;  // a sealed space has no level where the air turns
  if (conditions_.wind_ms <= 0.0 && !has_running_fan(told.compartment) && told.in_kgs > least_kgs) {
    tell_neutral_level(told);
  }
}

/// Of the compartment's largest room; only stack drives the air.
void Run::tell_neutral_level(SpaceAir& told) const {
  const Room* largest = nullptr;
  for (const Room& room : roof_.rooms) {
    if (room.compartment == told.compartment &&
        (largest == nullptr || room.volume_m3 > largest->volume_m3)) {
      largest = &room;
    }
  }
  if (largest == nullptr) {
    return;
  }
  const double lift =
      (density(kelvin(conditions_.outside_c)) - density(kelvin(air_c_[largest->node.value]))) *
      gravity_ms2;
  if (std::abs(lift) > 1e-3) {
    told.neutral_level_m = -solution_.pressure_pa[largest->node] / lift;
  }
}

/// Coldest deck, and the dampest place under one.
void Run::tell_decks(SpaceAir& told, const std::vector<double>& humidity) const {
  told.deck_c = told.air_c;
  const auto see = [&](double deck_c, AirNodeId node) {
    told.deck_c = std::min(told.deck_c, deck_c);
    told.deck_humidity =
        std::max(told.deck_humidity, vapour_pressure(humidity[node.value]) / saturation_pa(deck_c));
  };
  for (std::size_t i = 0; i < roof_.rooms.size(); ++i) {
    if (roof_.rooms[i].compartment == told.compartment) {
      for (const double deck_c : temperatures_of(i).deck_c) {
        see(deck_c, roof_.rooms[i].node);
      }
    }
  }
  for (std::size_t i = 0; i < roof_.vaults.size(); ++i) {
    if (roof_.vaults[i].compartment == told.compartment) {
      const double share = deck_r_ / (deck_r_ + inner_film_r);
      const double mean_c = vault_c_[i].mean_c;
      see(vault_sol_air_c_[i] + share * (mean_c - vault_sol_air_c_[i]), roof_.vaults[i].head);
    }
  }
}

SpaceAir Run::told_space(CompartmentId id, const std::vector<double>& humidity) const {
  SpaceAir told;
  told.compartment = id;
  told.air_c = space_c(id);
  tell_inflow(told);
  tell_decks(told, humidity);
  if (conditions_.snow_m > 0.0) {
    told.melt_kg_m2_day = melt_kg_per_day(
        melt_wm2({told.air_c, conditions_.outside_c, snow_deck_r, conditions_.snow_m, snow_kgm3}));
  }
  return told;
}

/// Rafter spaces by what flows along them, bays of attics by their part of what the slot passes.
std::vector<BayFlow> Run::told_bays(const std::vector<OpeningFlow>& openings) const {
  std::vector<BayFlow> all;
  std::vector<bool> is_vault(site_.framing.bays.size(), false);
  for (std::size_t i = 0; i < roof_.vaults.size(); ++i) {
    const Vault& vault = roof_.vaults[i];
    is_vault[vault.bay.value] = true;
    const double mass = vault.link.is_none() ? 0.0 : solution_.links[vault.link].mass_kgs;
    const double flow = mass / density(kelvin(vault_c_[i].mean_c));
    const double section = vault.width_m * vault.depth_m;
    all.push_back(
        {vault.bay, flow, section > 0.0 ? std::abs(flow) / section : 0.0, vault_c_[i].mean_c});
  }
  for (std::size_t i = 0; i < openings.size(); ++i) {
    const Way& way = roof_.ways[i];
    for (const BayShare& part : way.bays) {
      if (is_vault[part.bay.value]) {
        continue;
      }
      const framing::Bay& bay = site_.framing.bays[part.bay];
      const double section = bay.clear_width_m * bay_depth_m(site_, bay);
      const double passes = part.share * openings[i].flow_m3s;
      all.push_back({part.bay, passes, section > 0.0 ? std::abs(passes) / section : 0.0,
                     passes >= 0.0 ? conditions_.outside_c : space_c(way.compartment)});
    }
  }
  return all;
}

CaseAir Run::told(CaseKind kind) const {
  CaseAir all;
  all.conditions = conditions_;
  all.kind = kind;
  const std::vector<double> humidity = humidity_ratios();
  double in_m3h = 0.0;
  double volume = 0.0;
  double largest = -1.0;
  for (const CompartmentId id : site_.attic.compartments.ids()) {
    const SpaceAir air = told_space(id, humidity);
    const double own_m3 = site_.attic.compartments[id].volume_m3;
    in_m3h += air.air_changes_per_h * own_m3;
    volume += own_m3;
    if (own_m3 > largest) {
      largest = own_m3;
      all.attic_c = air.air_c;
      all.neutral_level_m = air.neutral_level_m;
    }
    all.spaces.push_back(air);
  }
  all.air_changes_per_h = volume > 0.0 ? in_m3h / volume : 0.0;
  all.least_air_changes_per_h = all.most_air_changes_per_h = all.air_changes_per_h;
  all.openings.resize(roof_.ways.size());
  for (const Passage& passage : roof_.passages) {
    const Way& way = roof_.ways[passage.way];
    OpeningFlow flow = flow_of(passage);
    const double against =
        way.role == Role::exhaust ? std::max(flow.mass_kgs, 0.0) : std::max(-flow.mass_kgs, 0.0);
    flow.role_kept =
        way.role == Role::leak || against <= role_tolerance * all.spaces[way.compartment].in_kgs;
    all.openings[passage.way] = flow;
  }
  all.bays = told_bays(all.openings);
  const double rise =
      density(kelvin(conditions_.outside_c)) - density(kelvin(conditions_.inside_c));
  all.house_pa = solution_.pressure_pa[roof_.house] + rise * gravity_ms2 * 0.5 * roof_.ceiling_m;
  return all;
}

}  // namespace ridgeward::airflow
