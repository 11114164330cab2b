#include "airflow/stage.hpp"

#include "airflow/case_run.hpp"
#include "airflow/roof_network.hpp"
#include "airflow/words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace ridgeward::airflow {

namespace {

constexpr std::array<const char*, 8> directions{"N", "NE", "E", "SE", "S", "SW", "W", "NW"};

struct Planned {
  model::AirCase conditions;
  CaseKind kind = CaseKind::own;
};

model::AirCase winter_night(const model::RoofModel& model) {
  model::AirCase one;
  one.name = "calm winter night";
  one.outside_c = model.site.winter_c;
  one.inside_c = model.air.inside_winter_c;
  return one;
}

/// The sky draws heat out of the deck: it may be colder than the air outside, and the attic's air
/// then sinks. Frost forms on such nights.
model::AirCase clear_night(const model::RoofModel& model) {
  model::AirCase one = winter_night(model);
  one.name = "clear winter night";
  one.clear_sky = true;
  return one;
}

model::AirCase summer_noon(const model::RoofModel& model) {
  model::AirCase one;
  one.name = "calm summer noon";
  one.outside_c = model.site.summer_c;
  one.inside_c = model.air.inside_summer_c;
  one.sun = 1.0;
  one.clear_sky = true;
  one.fans = true;
  return one;
}

/// The design weather of the army's cold regions laboratory: 22 F outside, snow on the roof.
model::AirCase ice_weather(const model::RoofModel& model) {
  model::AirCase one;
  one.name = "ice-dam weather";
  one.outside_c = -5.6;
  one.inside_c = model.air.inside_winter_c;
  one.snow_m = 0.3;
  return one;
}

std::vector<Planned> standard_cases(const model::RoofModel& model) {
  std::vector<Planned> all{{winter_night(model), CaseKind::winter},
                           {clear_night(model), CaseKind::frost},
                           {summer_noon(model), CaseKind::summer}};
  if (model.site.snow) {
    all.push_back({ice_weather(model), CaseKind::ice});
  }
  for (const double share : {1.0, 0.5}) {
    for (std::size_t i = 0; i < directions.size(); ++i) {
      model::AirCase one;
      one.wind_ms = share * model.air.wind_ms;
      one.wind_from_deg = 45.0 * static_cast<double>(i);
      one.name = fmt::format("wind {:g} m/s from {}", one.wind_ms, directions[i]);
      one.outside_c = 0.5 * (model.site.winter_c + model.site.summer_c);
      one.inside_c = model.air.inside_winter_c;
      all.push_back({one, CaseKind::wind});
    }
  }
  return all;
}

double through_intake(const Airflow& air, const CaseAir& one) {
  double sum = 0.0;
  for (std::size_t i = 0; i < air.openings.size(); ++i) {
    sum += air.openings[i].role == Role::intake ? one.openings[i].in_kgs : 0.0;
  }
  return sum;
}

void judge_winds(Airflow& air) {
  air.winds.resize(air.openings.size());
  double least = 0.0;
  for (std::size_t c = 0; c < air.cases.size(); ++c) {
    const CaseAir& one = air.cases[c];
    if (one.kind != CaseKind::wind) {
      continue;
    }
    for (std::size_t i = 0; i < air.openings.size(); ++i) {
      if (air.openings[i].role != Role::leak) {
        ++air.winds[i].winds;
        const bool is_unsure = one.openings[i].is_sign_unsure;
        air.winds[i].kept += one.openings[i].role_kept && !is_unsure ? 1 : 0;
        air.winds[i].unsure += is_unsure ? 1 : 0;
      }
    }
    const bool has_intake = std::any_of(air.openings.begin(), air.openings.end(),
                                        [](const Way& way) { return way.role == Role::intake; });
    const double in = through_intake(air, one);
    if (has_intake && (!air.worst_wind || in < least)) {
      air.worst_wind = c;
      least = in;
    }
  }
}

}  // namespace

const char* word(Role role) {
  switch (role) {
    case Role::intake:
      return "intake";
    case Role::exhaust:
      return "exhaust";
    case Role::leak:
      return "leak";
  }
  return "leak";
}

const CaseAir* Airflow::first(CaseKind kind) const {
  const auto found = std::find_if(cases.begin(), cases.end(),
                                  [&](const CaseAir& one) { return one.kind == kind; });
  return found == cases.end() ? nullptr : &*found;
}

Airflow breathe(const Site& site) {
  Airflow air;
  const RoofNetwork roof = network_of(site);
  air.openings = roof.ways;
  if (roof.is_empty()) {
    return air;
  }
  for (const Planned& planned : standard_cases(site.model)) {
    air.cases.push_back(run_case(site, roof, planned.conditions, planned.kind));
  }
  for (const model::AirCase& own : site.model.air.cases) {
    air.cases.push_back(run_case(site, roof, own, CaseKind::own));
  }
  judge_winds(air);
  say_limits(site, air);
  return air;
}

std::vector<std::string> verify(const Airflow& air) {
  std::vector<std::string> broken;
  for (const CaseAir& one : air.cases) {
    std::vector<double> surplus(one.spaces.size(), 0.0);
    std::vector<double> in(one.spaces.size(), 0.0);
    // Every opening has a node behind it that may keep what `verify` of a solution lets it.
    std::vector<double> left_over(one.spaces.size(), 1e-11);
    for (std::size_t i = 0; i < air.openings.size(); ++i) {
      const OpeningFlow& flow = one.openings[i];
      surplus[air.openings[i].compartment.value] += flow.mass_kgs;
      in[air.openings[i].compartment.value] += flow.in_kgs;
      left_over[air.openings[i].compartment.value] += 1e-11;
      if (!(flow.in_kgs >= 0.0) || !(flow.out_kgs >= 0.0)) {
        broken.push_back(one.conditions.name + ": a flow of " + air.openings[i].id +
                         " is no number over 0");
      }
    }
    for (std::size_t space = 0; space < surplus.size(); ++space) {
      if (std::abs(surplus[space]) > 1e-9 * in[space] + left_over[space]) {
        broken.push_back(one.conditions.name +
                         ": a compartment takes in more or less than it gives");
      }
    }
  }
  return broken;
}

}  // namespace ridgeward::airflow
