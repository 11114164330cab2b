#include "airflow/case_run.hpp"

#include "airflow/air.hpp"
#include "airflow/heat.hpp"
#include "airflow/solve.hpp"
#include "airflow/wind.hpp"

#include <algorithm>
#include <cmath>

namespace ridgeward::airflow {

namespace {

constexpr double deck_r = 0.2;       ///< inner face of the deck to the sol-air temperature
constexpr double snow_deck_r = 0.3;  ///< attic air to the underside of the snow
constexpr double snow_kgm3 = 200.0;
constexpr double summer_film = 17.0;
constexpr double winter_film = 34.0;
constexpr double outside_humidity = 0.8;
constexpr double role_tolerance = 0.02;
constexpr double settled_k = 0.01;
constexpr double answers_differ_k = 1.0;
constexpr int most_passes = 60;

double rad(double degrees) { return degrees * M_PI / 180.0; }

/// Of the rafters beside a bay; of usual ones where it has none.
double bay_depth_m(const Site& site, const framing::Bay& bay) {
  for (const MemberId member : {bay.left, bay.right}) {
    if (!member.is_none() && site.framing.members[member].depth_m > 0.0) {
      return site.framing.members[member].depth_m;
    }
  }
  return 0.15;
}

/// A clear summer noon of middle latitudes, the sun in the south.
Sun noon(double share) { return {rad(60.0), rad(180.0), 850.0 * share, 100.0 * share}; }

class Run {
 public:
  Run(const Site& site, const RoofNetwork& roof, const model::AirCase& conditions);
  void settle(double start_c);
  double air_c(const Space& space) const { return air_c_[space.node.value]; }
  CaseAir told(CaseKind kind) const;

 private:
  void blow();
  void switch_fans();
  void look_at_planes();
  AtticHeat heat_of(std::size_t space) const;
  AtticTemperatures temperatures_of(std::size_t space) const;
  std::vector<double> humidity_ratios() const;
  OpeningFlow flow_of(const Passage& passage) const;
  SpaceAir told_space(std::size_t index, const std::vector<double>& humidity) const;

  const Site& site_;
  const RoofNetwork& roof_;
  const model::AirCase& conditions_;
  Network network_;
  std::vector<double> air_c_;                   ///< by node
  std::vector<std::vector<DeckPlane>> planes_;  ///< by space
  double deck_r_ = deck_r;
  Solution solution_;
  bool is_solved_ = false;
};

Run::Run(const Site& site, const RoofNetwork& roof, const model::AirCase& conditions)
    : site_(site), roof_(roof), conditions_(conditions), network_(roof.network) {
  air_c_.assign(network_.nodes.size(), conditions.outside_c);
  air_c_[roof.house.value] = conditions.inside_c;
  network_.nodes[Network::outside()].temperature_k = kelvin(conditions.outside_c);
  network_.nodes[roof.house].temperature_k = kelvin(conditions.inside_c);
  if (conditions.snow_m > 0.0) {
    deck_r_ += conditions.snow_m / snow_conductivity(snow_kgm3);
  }
  blow();
  switch_fans();
  look_at_planes();
}

void Run::blow() {
  if (conditions_.wind_ms <= 0.0) {
    return;
  }
  const double speed = speed_at(conditions_.wind_ms, roof_.top_m,
                                terrain_named(site_.model.site.exposure), shelter_of(site_.model));
  const double q = 0.5 * density(kelvin(conditions_.outside_c)) * speed * speed;
  const double from = rad(conditions_.wind_from_deg);
  for (const Passage& passage : roof_.passages) {
    network_.links[passage.link].from.wind_pa = q * coefficient(passage.face, from);
  }
  for (const ShellLeak& leak : roof_.shell) {
    network_.links[leak.link].from.wind_pa = q * coefficient(leak.face, from);
  }
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
  for (const Space& space : roof_.spaces) {
    std::vector<DeckPlane> planes;
    for (const PlaneArea& one : space.planes) {
      const surface::Plane& plane = site_.surface.planes[one.plane];
      const double slope = plane.pitch.radians();
      const double light = has_snow ? 0.0 : irradiance_wm2(sun, slope, plane.azimuth_rad);
      planes.push_back({one.area_m2, sol_air_c(place, light, slope)});
    }
    planes_.push_back(std::move(planes));
  }
}

AtticHeat Run::heat_of(std::size_t index) const {
  const Space& space = roof_.spaces[index];
  AtticHeat heat;
  heat.planes = planes_[index];
  heat.deck_r = deck_r_;
  heat.ceiling_area_m2 = space.floor_area_m2;
  heat.ceiling_r = space.ceiling_r;
  heat.inside_c = conditions_.inside_c;
  for (const AirLinkId id : network_.links.ids()) {
    const Link& link = network_.links[id];
    const LinkFlow& f = solution_.links[id];
    if (link.to.node == space.node && f.forward_kgs > 0.0) {
      heat.inflow.push_back({f.forward_kgs * heat_capacity, air_c_[link.from.node.value]});
    }
    if (link.from.node == space.node && f.backward_kgs > 0.0) {
      heat.inflow.push_back({f.backward_kgs * heat_capacity, air_c_[link.to.node.value]});
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

/// Air, then heat, then air again; how far each pass goes follows from how the last one did
/// (Aitken's rule for vectors).
void Run::settle(double start_c) {
  for (const Space& space : roof_.spaces) {
    air_c_[space.node.value] = conditions_.attic_c.value_or(start_c);
  }
  double share = 0.5;
  std::vector<double> last_miss;
  for (int pass = 0; pass < most_passes; ++pass) {
    for (const Space& space : roof_.spaces) {
      network_.nodes[space.node].temperature_k = kelvin(air_c(space));
    }
    solution_ = solve(network_, is_solved_ ? &solution_ : nullptr);
    is_solved_ = true;
    std::vector<double> miss;
    double most = 0.0;
    for (std::size_t i = 0; i < roof_.spaces.size(); ++i) {
      miss.push_back(temperatures_of(i).air_c - air_c(roof_.spaces[i]));
      most = std::max(most, std::abs(miss.back()));
    }
    if (conditions_.attic_c || most <= settled_k) {
      return;
    }
    if (!last_miss.empty()) {
      double along = 0.0;
      double square = 0.0;
      for (std::size_t i = 0; i < miss.size(); ++i) {
        const double change = miss[i] - last_miss[i];
        along += last_miss[i] * change;
        square += change * change;
      }
      share = square > 0.0 ? std::clamp(-share * along / square, 0.1, 1.0) : share;
    }
    for (std::size_t i = 0; i < miss.size(); ++i) {
      air_c_[roof_.spaces[i].node.value] += share * miss[i];
    }
    last_miss = std::move(miss);
  }
}

OpeningFlow Run::flow_of(const Passage& passage) const {
  const Link& link = network_.links[passage.link];
  const LinkFlow& f = solution_.links[passage.link];
  const Way& way = roof_.ways[passage.way];
  const bool is_inward = link.from.node == Network::outside() || link.from.node == roof_.house;
  OpeningFlow flow;
  flow.in_kgs = is_inward ? f.forward_kgs : f.backward_kgs;
  flow.out_kgs = is_inward ? f.backward_kgs : f.forward_kgs;
  flow.mass_kgs = flow.in_kgs - flow.out_kgs;
  flow.pressure_pa = is_inward ? f.pressure_pa : -f.pressure_pa;
  const AirNodeId outer = is_inward ? link.from.node : link.to.node;
  const AirNodeId inner = is_inward ? link.to.node : link.from.node;
  const double rho = density(network_.nodes[flow.mass_kgs >= 0.0 ? outer : inner].temperature_k);
  flow.flow_m3s = flow.mass_kgs / rho;
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

SpaceAir Run::told_space(std::size_t index, const std::vector<double>& humidity) const {
  const Space& space = roof_.spaces[index];
  SpaceAir told;
  told.compartment = space.compartment;
  told.air_c = air_c(space);
  const AtticTemperatures found = temperatures_of(index);
  told.deck_c = found.deck_c.empty() ? told.air_c
                                     : *std::min_element(found.deck_c.begin(), found.deck_c.end());
  double intake = 0.0;
  double exhaust = 0.0;
  double house = 0.0;
  bool is_fan_running = false;
  for (const Passage& passage : roof_.passages) {
    const Way& way = roof_.ways[passage.way];
    if (way.compartment != space.compartment) {
      continue;
    }
    is_fan_running = is_fan_running || (passage.fan && conditions_.fans);
    const double in = flow_of(passage).in_kgs;
    (way.role == Role::intake ? intake : way.role == Role::exhaust ? exhaust : house) += in;
  }
  told.in_kgs = intake + exhaust + house;
  if (told.in_kgs > 0.0) {
    told.intake_share = intake / told.in_kgs;
    told.exhaust_fed_share = exhaust / told.in_kgs;
    told.house_share = house / told.in_kgs;
  }
  const double rho = density(kelvin(told.air_c));
  told.air_changes_per_h =
      space.volume_m3 > 0.0 ? 3600.0 * told.in_kgs / (rho * space.volume_m3) : 0.0;
  const double lift = (density(kelvin(conditions_.outside_c)) - rho) * gravity_ms2;
  if (conditions_.wind_ms <= 0.0 && !is_fan_running && std::abs(lift) > 1e-3) {
    told.neutral_level_m = -solution_.pressure_pa[space.node] / lift;
  }
  told.deck_humidity = vapour_pressure(humidity[space.node.value]) / saturation_pa(told.deck_c);
  if (conditions_.snow_m > 0.0) {
    told.melt_kg_m2_day = melt_kg_per_day(
        melt_wm2({told.air_c, conditions_.outside_c, snow_deck_r, conditions_.snow_m, snow_kgm3}));
  }
  return told;
}

CaseAir Run::told(CaseKind kind) const {
  CaseAir all;
  all.conditions = conditions_;
  all.kind = kind;
  const std::vector<double> humidity = humidity_ratios();
  double in_m3h = 0.0;
  double volume = 0.0;
  double largest = -1.0;
  all.spaces.resize(site_.attic.compartments.size());
  for (std::size_t i = 0; i < roof_.spaces.size(); ++i) {
    const Space& space = roof_.spaces[i];
    const SpaceAir air = told_space(i, humidity);
    in_m3h += air.air_changes_per_h * space.volume_m3;
    volume += space.volume_m3;
    if (space.volume_m3 > largest) {
      largest = space.volume_m3;
      all.attic_c = air.air_c;
      all.neutral_level_m = air.neutral_level_m;
    }
    all.spaces[space.compartment] = air;
  }
  all.air_changes_per_h = volume > 0.0 ? in_m3h / volume : 0.0;
  for (const Passage& passage : roof_.passages) {
    const Way& way = roof_.ways[passage.way];
    OpeningFlow flow = flow_of(passage);
    const double against =
        way.role == Role::exhaust ? std::max(flow.mass_kgs, 0.0) : std::max(-flow.mass_kgs, 0.0);
    flow.role_kept =
        way.role == Role::leak || against <= role_tolerance * all.spaces[way.compartment].in_kgs;
    for (const BayShare& part : way.bays) {
      const framing::Bay& bay = site_.framing.bays[part.bay];
      const double section = bay.clear_width_m * bay_depth_m(site_, bay);
      const double passes = part.share * flow.flow_m3s;
      all.bays.push_back(
          {part.bay, passes, section > 0.0 ? std::abs(passes) / section : 0.0,
           flow.mass_kgs >= 0.0 ? conditions_.outside_c : all.spaces[way.compartment].air_c});
    }
    all.openings.push_back(flow);
  }
  const double rise =
      density(kelvin(conditions_.outside_c)) - density(kelvin(conditions_.inside_c));
  all.house_pa = solution_.pressure_pa[roof_.house] + rise * gravity_ms2 * 0.5 * roof_.ceiling_m;
  return all;
}

}  // namespace

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

CaseAir run_case(const Site& site, const RoofNetwork& roof, const model::AirCase& conditions,
                 CaseKind kind) {
  constexpr double hot_k = 25.0;
  Run run(site, roof, conditions);
  run.settle(conditions.outside_c);
  CaseAir told = run.told(kind);
  if (!conditions.attic_c) {
    Run hot(site, roof, conditions);
    hot.settle(std::max(conditions.outside_c, conditions.inside_c) + hot_k);
    for (const Space& space : roof.spaces) {
      const double other = hot.air_c(space);
      if (std::abs(other - run.air_c(space)) > answers_differ_k) {
        told.spaces[space.compartment].other_air_c = other;
      }
    }
  }
  return told;
}

}  // namespace ridgeward::airflow
