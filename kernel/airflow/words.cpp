#include "airflow/words.hpp"

#include "airflow/case_run.hpp"
#include "units/length.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

namespace ridgeward::airflow {

namespace {

constexpr double much_house_air = 0.2;
constexpr double spill_pa = -2.0;  ///< of the rooms, below which flues may spill
constexpr double damp = 0.8;       ///< relative humidity at which mould grows in the long run

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

/// Winds of one vent, which may pass air at several places.
struct Counts {
  int least = std::numeric_limits<int>::max();
  int most = 0;
  void add(int count) {
    least = std::min(least, count);
    most = std::max(most, count);
  }
};

/// "front 8 to 9, back 7", each once, in the order of the openings.
std::string counts_in_words(const Airflow& air, std::map<std::string, Counts> counts) {
  std::string words;
  for (const Way& way : air.openings) {
    const auto found = counts.find(way.id);
    if (found == counts.end()) {
      continue;
    }
    const auto [least, most] = found->second;
    words += fmt::format("{}{} {}", words.empty() ? "" : ", ", way.id, least) +
             (most > least ? fmt::format(" to {}", most) : std::string());
    counts.erase(found);
  }
  return words;
}

struct Speaker {
  const Airflow& air;
  const std::vector<std::string>& spaces;  ///< ids of the compartments
  units::Style style;

  /// To an inch or a tenth of a metre: the model knows no better.
  std::string rough(double length_m) const {
    return style == units::Style::metric ? fmt::format("{:.1f} m", length_m)
                                         : units::feet_inches(length_m, 1);
  }
  void say_calm(std::vector<std::string>& all) const;
  void say_winds(std::vector<std::string>& all) const;
  void say_frost(std::vector<std::string>& all) const;
  void say_ice(std::vector<std::string>& all) const;
};

void Speaker::say_calm(std::vector<std::string>& all) const {
  const CaseAir* winter = air.first(CaseKind::winter);
  if (winter == nullptr) {
    return;
  }
  for (const SpaceAir& space : winter->spaces) {
    if (!space.neutral_level_m || space.air_c <= winter->conditions.outside_c) {
      continue;
    }
    all.push_back(fmt::format(
        "On a calm winter night air comes into {} below a height of {} and leaves it above.",
        spaces[space.compartment.value], rough(*space.neutral_level_m)));
    if (all.size() == 4) {
      break;  // a house of many spaces: the table has the rest
    }
  }
}

void Speaker::say_winds(std::vector<std::string>& all) const {
  double least = 0.0;
  double most = 0.0;
  double slow = 0.0;
  double fast = 0.0;
  int count = 0;
  for (const CaseAir& one : air.cases) {
    if (one.kind == CaseKind::wind) {
      const double speed = one.conditions.wind_ms;
      least = count == 0 ? one.air_changes_per_h : std::min(least, one.air_changes_per_h);
      most = std::max(most, one.air_changes_per_h);
      slow = count == 0 ? speed : std::min(slow, speed);
      fast = std::max(fast, speed);
      ++count;
    }
  }
  if (count == 0) {
    return;
  }
  all.push_back(fmt::format(
      "Under {} winds, from eight sides at {} and {}, the air changes {:.1f} to {:.1f} times an "
      "hour.",
      count, speed_words(slow, style), speed_words(fast, style), least, most));
  std::map<std::string, Counts> kept;
  std::map<std::string, Counts> in_doubt;
  for (std::size_t i = 0; i < air.winds.size(); ++i) {
    const std::string& id = air.openings[i].id;
    if (air.openings[i].role == Role::intake) {
      kept[id].add(air.winds[i].kept);
    }
    if (air.winds[i].unsure > 0) {
      in_doubt[id].add(air.winds[i].unsure);
    }
  }
  const std::string record = counts_in_words(air, kept);
  const std::string unsure = counts_in_words(air, in_doubt);
  if (!record.empty()) {
    all.push_back(fmt::format(
        "Each intake takes air in under so many of the {}: {}. On the lee side it blows out; that "
        "is no fault as long as the other sides draw.",
        count, record));
  }
  if (!unsure.empty()) {
    all.push_back(fmt::format(
        "Up a slope that faces the wind no table tells whether it presses or draws, so both were "
        "worked out. Under so many winds a vent may run either way: {}.",
        unsure));
  }
}

void Speaker::say_frost(std::vector<std::string>& all) const {
  const CaseAir* frost = air.first(CaseKind::frost);
  if (frost == nullptr) {
    return;
  }
  const SpaceAir* worst = nullptr;
  for (const SpaceAir& space : frost->spaces) {
    if (!space.compartment.is_none() &&
        (worst == nullptr || space.deck_humidity > worst->deck_humidity)) {
      worst = &space;
    }
  }
  if (worst == nullptr || worst->deck_humidity < damp) {
    return;
  }
  all.push_back(fmt::format(
      "On a clear winter night the deck over {} cools to {} and {}: {:.0f} % of the air comes up "
      "from the rooms. Wood takes up and gives back a good deal; a tight ceiling helps most.",
      spaces[worst->compartment.value], temperature_words(worst->deck_c, style),
      worst->deck_humidity >= 1.0 ? "gathers frost or dew" : "gets damp",
      100.0 * worst->house_share));
}

void Speaker::say_ice(std::vector<std::string>& all) const {
  const CaseAir* ice = air.first(CaseKind::ice);
  if (ice == nullptr) {
    return;
  }
  constexpr double pound_kg = 0.45359237;
  constexpr double square_foot_m2 = units::foot_m * units::foot_m;
  double most = 0.0;
  for (const SpaceAir& space : ice->spaces) {
    most = std::max(most, space.melt_kg_m2_day);
  }
  const std::string weather = fmt::format("At {} outside with {} of snow",
                                          temperature_words(ice->conditions.outside_c, style),
                                          rough(ice->conditions.snow_m));
  if (most <= 0.0) {
    all.push_back(weather + " the roof stays cold: no snow melts from beneath.");
    return;
  }
  const std::string melt = style == units::Style::metric
                               ? fmt::format("{:.1f} kg/m2", most)
                               : fmt::format("{:.2f} lb/ft2", most / pound_kg * square_foot_m2);
  all.push_back(fmt::format(
      "{} the attic is at {} and melts {} of it a day from beneath: ice can build at the eaves.",
      weather, temperature_words(ice->attic_c, style), melt));
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
  const bool is_drawn_down = std::any_of(
      air.cases.begin(), air.cases.end(),
      [](const CaseAir& one) { return one.conditions.wind_ms <= 0.0 && one.house_pa < spill_pa; });
  if (has_fan(air) || is_drawn_down) {
    air.cautions.push_back(
        std::string(has_fan(air) ? "A powered vent" : "Rooms at a lower pressure than outside") +
        " can draw the flue gas of heaters into the rooms: carbon monoxide kills. A "
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
  const bool in_feet =
      site.model.unit == units::LengthUnit::ft || site.model.unit == units::LengthUnit::in;
  const auto both = [&](double celsius) {
    const std::string si = temperature_words(celsius, units::Style::metric);
    return in_feet
               ? fmt::format("{} ({})", temperature_words(celsius, units::Style::feet_inches), si)
               : si;
  };
  const double ceiling = given.ceiling_leakage_cm2_m2;
  const double house = given.house_leakage_cm2_m2;
  // 1 cm2 for each m2 is 1e-4 of the area.
  constexpr double in2_ft2 = 1e-4 * units::foot_m * units::foot_m / (units::inch_m * units::inch_m);
  const std::string leaks =
      in_feet ? fmt::format(
                    "ceiling leaks {:.2g} and house leaks {:.2g} in2 for each ft2 of ceiling "
                    "at 4 Pa ({:g} and {:g} cm2 for each m2)",
                    in2_ft2 * ceiling, in2_ft2 * house, ceiling, house)
              : fmt::format(
                    "ceiling leaks {:g} and house leaks {:g} cm2 for each m2 of ceiling (at "
                    "4 Pa)",
                    ceiling, house);
  air.assumptions.push_back(fmt::format(
      "Airflow: {}, rooms {} in winter and {} in summer, sun on a roofing that takes in {:.0f} % "
      "of "
      "it, shelter factor {:g} on the wind, heights counted from the model's zero as the ground.",
      leaks, both(given.inside_winter_c), both(given.inside_summer_c), 100.0 * given.absorptance,
      shelter_of(site.model)));
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

std::string speed_words(double speed_ms, units::Style style) {
  constexpr double mile_m = 5280.0 * units::foot_m;
  return style == units::Style::metric ? fmt::format("{:g} m/s", speed_ms)
                                       : fmt::format("{:.0f} mph", 3600.0 * speed_ms / mile_m);
}

std::string case_words(const CaseAir& one, units::Style style) {
  const std::string& name = one.conditions.name;
  return one.kind == CaseKind::wind ? "wind " + speed_words(one.conditions.wind_ms, style) +
                                          name.substr(std::min(name.find(" from "), name.size()))
                                    : name;
}

std::vector<std::string> in_words(const Airflow& air, const std::vector<std::string>& spaces,
                                  units::Style style) {
  if (!has_vents(air)) {
    return {};
  }
  const Speaker speaker{air, spaces, style};
  std::vector<std::string> all;
  speaker.say_calm(all);
  speaker.say_winds(all);
  speaker.say_frost(all);
  speaker.say_ice(all);
  return all;
}

}  // namespace ridgeward::airflow
