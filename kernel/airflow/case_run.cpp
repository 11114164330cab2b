#include "airflow/air.hpp"
#include "airflow/run.hpp"
#include "airflow/wind.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace ridgeward::airflow {

namespace {

constexpr double summer_film = 17.0;
constexpr double winter_film = 34.0;
constexpr double settled_k = 0.05;
constexpr double near_enough_k = 0.3;  ///< to tell whether a second start ends elsewhere
constexpr double answers_differ_k = 1.0;
constexpr int most_passes = 40;
constexpr std::size_t no_vault = static_cast<std::size_t>(-1);

double rad(double degrees) { return degrees * M_PI / 180.0; }

/// A clear summer noon of middle latitudes, the sun in the south.
Sun noon(double share) { return {rad(60.0), rad(180.0), 850.0 * share, 100.0 * share}; }

}  // namespace

Run::Run(const Site& site, const RoofNetwork& roof, const model::AirCase& conditions)
    : site_(site), roof_(roof), conditions_(conditions), network_(roof.network) {
  air_c_.assign(network_.nodes.size(), conditions.outside_c);
  air_c_[roof.house.value] = conditions.inside_c;
  is_joint_.assign(network_.nodes.size(), true);
  is_joint_[Network::outside_index] = false;
  is_joint_[roof.house.value] = false;
  for (const Room& room : roof.rooms) {
    is_joint_[room.node.value] = false;
  }
  vault_of_link_.assign(network_.links.size(), no_vault);
  for (std::size_t i = 0; i < roof.vaults.size(); ++i) {
    if (!roof.vaults[i].link.is_none()) {
      vault_of_link_[roof.vaults[i].link.value] = i;
    }
  }
  if (conditions.snow_m > 0.0) {
    deck_r_ += conditions.snow_m / snow_conductivity(snow_kgm3);
  }
  blow(Sign::mean);
  switch_fans();
  look_at_planes();
}

void Run::blow(Sign sign) {
  if (conditions_.wind_ms <= 0.0) {
    return;
  }
  const double speed = speed_at(conditions_.wind_ms, roof_.top_m,
                                terrain_named(site_.model.site.exposure), shelter_of(site_.model));
  const double q = 0.5 * density(kelvin(conditions_.outside_c)) * speed * speed;
  const double from = rad(conditions_.wind_from_deg);
  const auto press = [&](AirLinkId id, const Face& face) {
    const Signs signs = coefficients(face, from);
    const double taken = sign == Sign::least  ? signs.low
                         : sign == Sign::most ? signs.high
                                              : coefficient(face, from);
    has_two_signs_ = has_two_signs_ || signs.is_unsure();
    Link& link = network_.links[id];
    (link.from.node == Network::outside() ? link.from : link.to).wind_pa = q * taken;
  };
  for (const Passage& passage : roof_.passages) {
    if (passage.face.kind != Face::Kind::none) {
      press(passage.link, passage.face);
    }
  }
  for (const OuterLink& one : roof_.outer) {
    press(one.link, one.face);
  }
}

void Run::turn(Sign sign, double within_k) {
  blow(sign);
  go_on(within_k);
}

/// A running fan stands in place of its opening and blows out; the link still runs inward, so both
/// ends change places.
void Run::switch_fans() {
  for (const Passage& passage : roof_.passages) {
    if (conditions_.fans && passage.fan) {
      Link& link = network_.links[passage.link];
      std::swap(link.from, link.to);
      link.law = *passage.fan;
    }
  }
}

void Run::look_at_planes() {
  const Sun sun = noon(conditions_.sun);
  const bool has_snow = conditions_.snow_m > 0.0;
  const SolAir place{conditions_.outside_c, site_.model.air.absorptance,
                     conditions_.sun > 0.0 ? summer_film : winter_film,
                     conditions_.clear_sky && !has_snow};
  const auto felt_c = [&](PlaneId id) {
    const surface::Plane& plane = site_.surface.planes[id];
    const double slope = plane.pitch.radians();
    return sol_air_c(place, has_snow ? 0.0 : irradiance_wm2(sun, slope, plane.azimuth_rad), slope);
  };
  for (const Room& room : roof_.rooms) {
    std::vector<DeckPlane> planes;
    planes.reserve(room.planes.size());
    for (const PlaneArea& one : room.planes) {
      planes.push_back({one.area_m2, felt_c(one.plane)});
    }
    planes_.push_back(std::move(planes));
  }
  for (const Vault& vault : roof_.vaults) {
    vault_sol_air_c_.push_back(felt_c(vault.plane));
  }
}

/// Temperature of the air that a link brings to one of its ends.
double Run::carried_c(AirLinkId id, bool is_forward) const {
  const std::size_t vault = vault_of_link_[id.value];
  if (vault != no_vault) {
    return vault_c_[vault].outlet_c;
  }
  const Link& link = network_.links[id];
  return air_c_[(is_forward ? link.from : link.to).node.value];
}

AtticHeat Run::heat_of(std::size_t index) const {
  const Room& room = roof_.rooms[index];
  AtticHeat heat;
  heat.planes = planes_[index];
  heat.deck_r = deck_r_;
  heat.ceiling_area_m2 = room.floor_area_m2;
  heat.ceiling_r = room.ceiling_r;
  heat.inside_c = conditions_.inside_c;
  for (const AirLinkId id : network_.links.ids()) {
    const Link& link = network_.links[id];
    const LinkFlow& f = solution_.links[id];
    if (link.to.node == room.node && f.forward_kgs > 0.0) {
      heat.inflow.push_back({f.forward_kgs * heat_capacity, carried_c(id, true)});
    }
    if (link.from.node == room.node && f.backward_kgs > 0.0) {
      heat.inflow.push_back({f.backward_kgs * heat_capacity, carried_c(id, false)});
    }
  }
  return heat;
}

AtticTemperatures Run::temperatures_of(std::size_t index) const {
  AtticHeat heat = heat_of(index);
  if (conditions_.attic_c) {
    heat.inflow = {{1e12, *conditions_.attic_c}};  // held there, whatever it takes
  }
  return attic_temperatures(heat);
}

VaultAir Run::vault_air(std::size_t index) const {
  const Vault& vault = roof_.vaults[index];
  BayHeat bay;
  bay.width_m = vault.width_m;
  bay.length_m = vault.length_m;
  bay.deck_u = 1.0 / (deck_r_ + inner_film_r);
  bay.ceiling_u = vault.ceiling_u;
  bay.sol_air_c = vault_sol_air_c_[index];
  bay.inside_c = conditions_.inside_c;
  bay.enters_c = air_c_[vault.foot.value];
  if (!vault.link.is_none()) {
    const double mass = solution_.links[vault.link].mass_kgs;
    bay.mass_kgs = std::abs(mass);
    bay.enters_c = air_c_[(mass >= 0.0 ? vault.foot : vault.head).value];
  }
  const BayTemperatures found = bay_temperatures(bay);
  return {found.mean_c, found.outlet_c};
}

/// Ends of bays and gaps: what comes in mixes. One after the other, so that each takes what the one
/// before it has; the passes do the rest.
void Run::mix_joints() {
  std::vector<double> mass(air_c_.size(), 0.0);
  std::vector<double> heat(air_c_.size(), 0.0);
  for (const AirLinkId id : network_.links.ids()) {
    const Link& link = network_.links[id];
    const LinkFlow& f = solution_.links[id];
    mass[link.to.node.value] += f.forward_kgs;
    heat[link.to.node.value] += f.forward_kgs * carried_c(id, true);
    mass[link.from.node.value] += f.backward_kgs;
    heat[link.from.node.value] += f.backward_kgs * carried_c(id, false);
  }
  for (std::size_t node = 0; node < air_c_.size(); ++node) {
    if (is_joint_[node] && mass[node] > 1e-12) {
      air_c_[node] = heat[node] / mass[node];
    }
  }
}

/// Where the attic's temperature is given only soffits take that of the air that comes in.
void Run::mix_boxes() {
  const std::vector<double> given_c = air_c_;
  mix_joints();
  std::vector<double> mixed_c = std::exchange(air_c_, given_c);
  for (const AirNodeId box : roof_.boxes) {
    air_c_[box.value] = mixed_c[box.value];
  }
}

void Run::start_at(double start_c) {
  const double air_c = conditions_.attic_c.value_or(start_c);
  vault_c_.assign(roof_.vaults.size(), {air_c, air_c});
  for (std::size_t node = 0; node < air_c_.size(); ++node) {
    if (node != Network::outside_index && node != roof_.house.value) {
      air_c_[node] = air_c;
    }
  }
  for (const AirNodeId box : roof_.boxes) {
    air_c_[box.value] = conditions_.outside_c;
  }
}

void Run::set_temperatures() {
  for (std::size_t node = 0; node < air_c_.size(); ++node) {
    network_.nodes[AirNodeId(node)].temperature_k = kelvin(air_c_[node]);
  }
  for (std::size_t i = 0; i < roof_.vaults.size(); ++i) {
    if (!roof_.vaults[i].link.is_none()) {
      std::get<Channel>(network_.links[roof_.vaults[i].link].law).air_k =
          kelvin(vault_c_[i].mean_c);
    }
  }
}

/// How far each room and each bay is from what the heat asks for.
std::vector<double> Run::misses() {
  std::vector<double> all;
  for (std::size_t i = 0; i < roof_.rooms.size(); ++i) {
    all.push_back(temperatures_of(i).air_c - air_c_[roof_.rooms[i].node.value]);
  }
  for (std::size_t i = 0; i < roof_.vaults.size(); ++i) {
    const VaultAir found = vault_air(i);
    vault_c_[i].outlet_c = found.outlet_c;
    all.push_back(found.mean_c - vault_c_[i].mean_c);
  }
  return all;
}

void Run::settle(double start_c, double within_k) {
  start_at(start_c);
  go_on(within_k);
}

/// Air, then heat, then air again. How far each temperature goes follows from how its own last step
/// did (a secant): rooms and bays hang together through their own flow far more than with each
/// other.
void Run::go_on(double within_k) {
  std::vector<double> share(roof_.rooms.size() + roof_.vaults.size(), 0.5);
  std::vector<double> last_miss;
  for (int pass = 0; pass < most_passes; ++pass) {
    set_temperatures();
    solution_ = solve(network_, is_solved_ ? &solution_ : nullptr);
    is_solved_ = true;
    if (conditions_.attic_c) {
      if (pass > 0) {
        return;
      }
      mix_boxes();
      continue;
    }
    mix_joints();
    std::vector<double> miss = misses();
    double most = 0.0;
    for (std::size_t i = 0; i < miss.size(); ++i) {
      most = std::max(most, std::abs(miss[i]));
      const double change = last_miss.empty() ? 0.0 : miss[i] - last_miss[i];
      if (std::abs(change) > 1e-9) {
        share[i] = std::clamp(-share[i] * last_miss[i] / change, 0.2, 1.0);
      }
    }
    if (most <= within_k) {
      return;
    }
    for (std::size_t i = 0; i < miss.size(); ++i) {
      const std::size_t rooms = roof_.rooms.size();
      (i < rooms ? air_c_[roof_.rooms[i].node.value] : vault_c_[i - rooms].mean_c) +=
          share[i] * miss[i];
    }
    last_miss = std::move(miss);
  }
}

double shelter_of(const model::RoofModel& model) {
  const std::string& exposure = model.site.exposure;
  const model::Shelter usual = exposure == "flat" || exposure == "open" ? model::Shelter::none
                               : exposure == "city"                     ? model::Shelter::rows
                                                                        : model::Shelter::scattered;
  switch (model.air.shelter.value_or(usual)) {
    case model::Shelter::none:
      return 1.0;
    case model::Shelter::scattered:
      return 0.7;
    case model::Shelter::rows:
      return 0.5;
    case model::Shelter::close:
      return 0.3;
  }
  return 1.0;
}

namespace {

/// Takes what a run with another sign of the wind tells into the ranges of `told`.
void widen(const CaseAir& other, CaseAir& told) {
  told.least_air_changes_per_h = std::min(told.least_air_changes_per_h, other.air_changes_per_h);
  told.most_air_changes_per_h = std::max(told.most_air_changes_per_h, other.air_changes_per_h);
  for (std::size_t i = 0; i < told.openings.size(); ++i) {
    OpeningFlow& flow = told.openings[i];
    const OpeningFlow& turned = other.openings[i];
    flow.least_m3s = std::min(flow.least_m3s, turned.flow_m3s);
    flow.most_m3s = std::max(flow.most_m3s, turned.flow_m3s);
    flow.is_sign_unsure = flow.is_sign_unsure || flow.role_kept != turned.role_kept;
  }
}

}  // namespace

CaseAir run_case(const Site& site, const RoofNetwork& roof, const model::AirCase& conditions,
                 CaseKind kind) {
  constexpr double hot_k = 25.0;
  Run run(site, roof, conditions);
  run.settle(conditions.outside_c, settled_k);
  CaseAir told = run.told(kind);
  told.has_two_signs = run.has_two_signs();
  if (told.has_two_signs) {
    for (const Run::Sign sign : {Run::Sign::least, Run::Sign::most}) {
      run.turn(sign, settled_k);
      widen(run.told(kind), told);
    }
  }
  if (!conditions.attic_c) {
    Run hot(site, roof, conditions);
    hot.settle(std::max(conditions.outside_c, conditions.inside_c) + hot_k, near_enough_k);
    for (SpaceAir& space : told.spaces) {
      const double other = hot.space_c(space.compartment);
      if (std::abs(other - space.air_c) > answers_differ_k) {
        space.other_air_c = other;
      }
    }
  }
  return told;
}

}  // namespace ridgeward::airflow
