#include "airflow/words.hpp"

#include "airflow/case_run.hpp"
#include "units/length.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace ridgeward::airflow {

namespace {

constexpr double much_house_air = 0.2;
constexpr double damp = 0.8;  ///< relative humidity at which mould grows in the long run

double total(const Airflow& air, const CaseAir& one, Role role, double OpeningFlow::*part) {
  double sum = 0.0;
  for (std::size_t i = 0; i < air.openings.size(); ++i) {
    sum += air.openings[i].role == role ? one.openings[i].*part : 0.0;
  }
  return sum;
}

bool any_space(const CaseAir* one, bool (*is)(const SpaceAir&)) {
  return one != nullptr && std::any_of(one->spaces.begin(), one->spaces.end(), is);
}

bool has_fan(const Airflow& air) {
  return std::any_of(air.openings.begin(), air.openings.end(),
                     [](const Way& way) { return way.is_fan; });
}

bool has_vents(const Airflow& air) {
  return std::any_of(air.openings.begin(), air.openings.end(),
                     [](const Way& way) { return way.role != Role::leak; });
}

bool ever_reversed(const Airflow& air) {
  return std::any_of(air.cases.begin(), air.cases.end(), [&](const CaseAir& one) {
    return std::any_of(one.openings.begin(), one.openings.end(),
                       [](const OpeningFlow& flow) { return !flow.role_kept; });
  });
}

void say_cautions(const Site& site, Airflow& air) {
  air.cautions.emplace_back(
      "The airflow is a model of steady, typical weather: count on half as much or half as much "
      "again, in wind on more. It approves nothing, and no air was measured.");
  const CaseAir* winter = air.first(CaseKind::winter);
  if (any_space(winter, [](const SpaceAir& s) { return s.house_share > much_house_air; }) ||
      any_space(air.first(CaseKind::frost),
                [](const SpaceAir& s) { return s.deck_humidity >= damp; })) {
    air.cautions.emplace_back(
        "Much of the attic's air comes up from the rooms, or the deck gets damp in the model's "
        "winter night: seal the ceiling before adding vents. Damp, mould or trouble with health "
        "belong to a specialist. Bath, kitchen and dryer ducts must end outdoors, away from the "
        "intake.");
  }
  if (has_fan(air)) {
    air.cautions.emplace_back(
        "A powered vent can draw the flue gas of heaters into the rooms: carbon monoxide kills. A "
        "qualified person must test the worst case. No figure here is such a test.");
  }
  if (has_vents(air) && ever_reversed(air)) {
    air.cautions.emplace_back(
        "Some winds turn a vent round in the model: rain, snow and embers can come in there. In "
        "wildfire country use listed ember-resistant vents, whose mesh lets less air through.");
  }
  if (site.model.site.snow) {
    air.cautions.emplace_back(
        "The model leaves every vent free of snow. Sites with heavy snow need a designer.");
  }
  air.cautions.emplace_back(
      "Unvented or spray-foamed roofs, flat roofs, pools and cold stores are outside this model: "
      "ask a licensed designer. Do not climb or enter an attic because of a figure here.");
}

void say_assumptions(const Site& site, Airflow& air) {
  const model::Air& given = site.model.air;
  air.assumptions.push_back(fmt::format(
      "Airflow: ceiling leaks {:g} and house leaks {:g} cm2 for each m2 of ceiling (at 4 Pa), "
      "rooms {:g} C in winter and {:g} C in summer, sun on a roofing that takes in {:.0f} % of it, "
      "shelter factor {:g} on the wind, heights counted from the model's zero as the ground.",
      given.ceiling_leakage_cm2_m2, given.house_leakage_cm2_m2, given.inside_winter_c,
      given.inside_summer_c, 100.0 * given.absorptance, shelter_of(site.model)));
  const bool lacks_insulation =
      std::any_of(site.attic.compartments.begin(), site.attic.compartments.end(),
                  [](const attic::Compartment& one) { return one.insulation_m <= 0.0; });
  if (lacks_insulation) {
    air.assumptions.emplace_back(
        "Airflow: where no insulation is given the ceiling keeps heat as 150 mm (6 in) of it "
        "would.");
  }
}

}  // namespace

void say_limits(const Site& site, Airflow& air) {
  say_assumptions(site, air);
  say_cautions(site, air);
}

std::string temperature_words(double c, units::Style style) {
  return style == units::Style::metric ? fmt::format("{:.0f} C", c)
                                       : fmt::format("{:.0f} F", 1.8 * c + 32.0);
}

std::string flow_words(double flow_m3s, units::Style style) {
  constexpr double cubic_foot_m3 = units::foot_m * units::foot_m * units::foot_m;
  return style == units::Style::metric ? fmt::format("{:.0f} m3/h", 3600.0 * flow_m3s)
                                       : fmt::format("{:.0f} cfm", 60.0 * flow_m3s / cubic_foot_m3);
}

std::string told(const Airflow& air, const CaseAir& one, units::Style style) {
  const double in = total(air, one, Role::intake, &OpeningFlow::in_kgs);
  const double back = total(air, one, Role::intake, &OpeningFlow::out_kgs);
  const double fed = total(air, one, Role::exhaust, &OpeningFlow::in_kgs);
  const double house = total(air, one, Role::leak, &OpeningFlow::in_kgs);
  const double all = in + fed + house;
  const auto share = [&](double part) { return all > 0.0 ? 100.0 * part / all : 0.0; };
  std::string text = fmt::format("{:.1f} air changes an hour, attic {}", one.air_changes_per_h,
                                 temperature_words(one.attic_c, style));
  if (all > 0.0) {
    text += fmt::format("; {:.0f} % comes in through the intake, {:.0f} % up from the rooms",
                        share(in), share(house));
    if (share(fed) >= 1.0) {
      text += fmt::format(", {:.0f} % through the exhaust", share(fed));
    }
    if (share(back) >= 1.0) {
      text += fmt::format("; {:.0f} % goes out through the intake", share(back));
    }
  }
  return text;
}

}  // namespace ridgeward::airflow
