#include "papers/air.hpp"

#include "airflow/words.hpp"
#include "papers/json_pieces.hpp"
#include "papers/schema_pieces.hpp"
#include "papers/summary.hpp"
#include "papers/text_table.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>

namespace ridgeward::papers {

namespace {

using airflow::CaseKind;
using json_schema::flag;
using json_schema::Json;
using json_schema::list;
using json_schema::number;
using json_schema::number_or_none;
using json_schema::object;
using json_schema::word;

const char* word(CaseKind kind) {
  switch (kind) {
    case CaseKind::winter:
      return "winter";
    case CaseKind::frost:
      return "frost";
    case CaseKind::summer:
      return "summer";
    case CaseKind::ice:
      return "ice";
    case CaseKind::wind:
      return "wind";
    case CaseKind::own:
      return "own";
  }
  return "own";
}

Json openings(const Assessment& a, const airflow::CaseAir& one) {
  Json all = Json::array();
  for (std::size_t i = 0; i < a.airflow.openings.size(); ++i) {
    const airflow::Way& way = a.airflow.openings[i];
    const airflow::OpeningFlow& flow = one.openings[i];
    all.push_back({{"id", way.id},
                   {"role", airflow::word(way.role)},
                   {"compartment", a.attic.compartments[way.compartment].id},
                   {"flow_m3s", flow.flow_m3s},
                   {"least_m3s", flow.least_m3s},
                   {"most_m3s", flow.most_m3s},
                   {"pressure_pa", flow.pressure_pa},
                   {"speed_ms", flow.speed_ms},
                   {"role_kept", flow.role_kept},
                   {"sign_unsure", flow.is_sign_unsure},
                   {"wind_unsure", way.is_wind_unsure}});
  }
  return all;
}

Json bays(const Assessment& a, const airflow::CaseAir& one) {
  Json all = Json::array();
  for (const airflow::BayFlow& bay : one.bays) {
    all.push_back({{"bay", a.framing.bays[bay.bay].id},
                   {"flow_m3s", bay.flow_m3s},
                   {"speed_ms", bay.speed_ms},
                   {"temperature_c", bay.temperature_c}});
  }
  return all;
}

Json spaces(const Assessment& a, const airflow::CaseAir& one) {
  Json all = Json::array();
  for (const airflow::SpaceAir& space : one.spaces) {
    if (space.compartment.is_none()) {
      continue;
    }
    all.push_back({{"id", a.attic.compartments[space.compartment].id},
                   {"air_c", space.air_c},
                   {"deck_c", space.deck_c},
                   {"in_kgs", space.in_kgs},
                   {"air_changes_per_h", space.air_changes_per_h},
                   {"neutral_level_m", or_none(space.neutral_level_m)},
                   {"intake_share", space.intake_share},
                   {"exhaust_fed_share", space.exhaust_fed_share},
                   {"house_share", space.house_share},
                   {"deck_humidity", space.deck_humidity},
                   {"melt_kg_m2_day", space.melt_kg_m2_day},
                   {"other_air_c", or_none(space.other_air_c)}});
  }
  return all;
}

std::vector<std::string> compartment_ids(const Assessment& a) {
  std::vector<std::string> ids;
  for (const attic::Compartment& one : a.attic.compartments) {
    ids.push_back(one.id);
  }
  return ids;
}

units::Style style_of(const Assessment& a) {
  return a.model.unit == units::LengthUnit::m || a.model.unit == units::LengthUnit::mm
             ? units::Style::metric
             : units::Style::feet_inches;
}

std::string percent(double share) { return fmt::format("{:.0f} %", 100.0 * share); }

/// Shares of the air of all compartments together.
struct Shares {
  double intake = 0.0;
  double exhaust = 0.0;
  double house = 0.0;
};

Shares shares_of(const airflow::CaseAir& one) {
  Shares sum;
  double all = 0.0;
  for (const airflow::SpaceAir& space : one.spaces) {
    all += space.in_kgs;
    sum.intake += space.intake_share * space.in_kgs;
    sum.exhaust += space.exhaust_fed_share * space.in_kgs;
    sum.house += space.house_share * space.in_kgs;
  }
  if (all > 0.0) {
    sum = {sum.intake / all, sum.exhaust / all, sum.house / all};
  }
  return sum;
}

std::vector<std::string> row_of(const airflow::CaseAir& one, const std::string& name,
                                units::Style style) {
  const Shares shares = shares_of(one);
  return {name,
          airflow::temperature_words(one.conditions.outside_c, style),
          airflow::temperature_words(one.attic_c, style),
          fmt::format("{:.1f}", one.air_changes_per_h),
          percent(shares.intake),
          percent(shares.exhaust),
          percent(shares.house)};
}

}  // namespace

Json air_json(const Assessment& a) {
  Json cases = Json::array();
  for (std::size_t i = 0; i < a.airflow.cases.size(); ++i) {
    const airflow::CaseAir& one = a.airflow.cases[i];
    // Bay by bay for the worst of the standard winds only: sixteen times the same list helps
    // nobody.
    const bool has_bays = one.kind != CaseKind::wind || a.airflow.worst_wind == i;
    cases.push_back({{"name", one.conditions.name},
                     {"kind", word(one.kind)},
                     {"outside_c", one.conditions.outside_c},
                     {"inside_c", one.conditions.inside_c},
                     {"attic_c", one.attic_c},
                     {"wind_ms", one.conditions.wind_ms},
                     {"wind_from_deg", one.conditions.wind_from_deg},
                     {"fans", one.conditions.fans},
                     {"openings", openings(a, one)},
                     {"bays", has_bays ? bays(a, one) : Json::array()},
                     {"compartments", spaces(a, one)},
                     {"air_changes_per_h", one.air_changes_per_h},
                     {"least_air_changes_per_h", one.least_air_changes_per_h},
                     {"most_air_changes_per_h", one.most_air_changes_per_h},
                     {"neutral_level_m", or_none(one.neutral_level_m)},
                     {"house_pa", one.house_pa}});
  }
  Json winds = Json::array();
  for (std::size_t i = 0; i < a.airflow.winds.size(); ++i) {
    if (a.airflow.winds[i].winds > 0) {
      winds.push_back({{"id", a.airflow.openings[i].id},
                       {"winds", a.airflow.winds[i].winds},
                       {"role_kept", a.airflow.winds[i].kept},
                       {"sign_unsure", a.airflow.winds[i].unsure}});
    }
  }
  const auto worst = a.airflow.worst_wind;
  return {{"cases", cases},
          {"winds", winds},
          {"worst_wind", worst ? Json(a.airflow.cases[*worst].conditions.name) : Json()},
          {"words", airflow::in_words(a.airflow, compartment_ids(a), style_of(a))}};
}

Json air_schema() {
  const Json opening =
      object({{"id", word("of the slot, of the exhaust; \"ceiling of attic\" for leaks")},
              {"role", {{"enum", {"intake", "exhaust", "leak"}}}},
              {"compartment", word("")},
              {"flow_m3s", number("net, positive into the roof space, at the density of the air")},
              {"least_m3s", number("the least where the wind may press or draw; else the same")},
              {"most_m3s", number("the most")},
              {"pressure_pa", number("outside less inside, at the opening")},
              {"speed_ms", number("through the free area")},
              {"role_kept", flag("no air goes the wrong way, but for 2 % of the compartment's")},
              {"sign_unsure", flag("the role hangs on whether the wind presses or draws there")},
              {"wind_unsure", flag("no table covers the wind there: valley, wall, higher roof")}});
  const Json bay = object({{"bay", word("")},
                           {"flow_m3s", number("up the bay positive")},
                           {"speed_ms", number("under the deck")},
                           {"temperature_c", number("mean of the air in it")}});
  const Json space = object(
      {{"id", word("")},
       {"air_c", number("")},
       {"deck_c", number("inner face of the coldest plane")},
       {"in_kgs", number("air that comes in")},
       {"air_changes_per_h", number("")},
       {"neutral_level_m", number_or_none("where inside and outside press alike; calm only")},
       {"intake_share", number("of the air that comes in: through intake")},
       {"exhaust_fed_share", number("through exhaust")},
       {"house_share", number("up through the ceiling")},
       {"deck_humidity", number("relative, at the coldest deck, steady; 1 and more: wet")},
       {"melt_kg_m2_day", number("snow melted from beneath")},
       {"other_air_c", number_or_none("a second answer that the heat allows")}});
  const Json one =
      object({{"name", word("")},
              {"kind", {{"enum", {"winter", "frost", "summer", "ice", "wind", "own"}}}},
              {"outside_c", number("")},
              {"inside_c", number("of the rooms")},
              {"attic_c", number("of the largest compartment")},
              {"wind_ms", number("at 10 m in open country")},
              {"wind_from_deg", number("compass, clockwise from north")},
              {"fans", flag("whether powered vents run")},
              {"openings", list(opening)},
              {"bays", list(bay)},
              {"compartments", list(space)},
              {"air_changes_per_h", number("of all compartments together")},
              {"least_air_changes_per_h", number("over both signs of the wind")},
              {"most_air_changes_per_h", number("likewise")},
              {"neutral_level_m", number_or_none("of the largest compartment")},
              {"house_pa", number("rooms less outside, half way up the walls")}});
  return object(
      {{"cases", list(one)},
       {"winds", list(object({{"id", word("of the opening")},
                              {"winds", number("standard winds")},
                              {"role_kept", number("winds under which it does its part")},
                              {"sign_unsure", number("winds under which that can't be told")}}))},
       {"worst_wind",
        {{"type", Json::array({"string", "null"})},
         {"description", "case in which the least comes in by intake"}}},
       {"words", list(word("the same for people"))}});
}

std::vector<std::string> all_cautions(const Assessment& a) {
  std::vector<std::string> all = cautions();
  all.insert(all.end(), a.airflow.cautions.begin(), a.airflow.cautions.end());
  return all;
}

std::vector<std::vector<std::string>> air_rows(const Assessment& a, units::Style style) {
  std::vector<std::vector<std::string>> rows;
  for (std::size_t i = 0; i < a.airflow.cases.size(); ++i) {
    const airflow::CaseAir& one = a.airflow.cases[i];
    if (one.kind != CaseKind::wind) {
      rows.push_back(row_of(one, one.conditions.name, style));
    } else if (a.airflow.worst_wind == i) {
      rows.push_back(row_of(one, airflow::case_words(one, style) + ", the worst", style));
    }
  }
  return rows;
}

std::vector<std::string> air_words(const Assessment& a, units::Style style) {
  return airflow::in_words(a.airflow, compartment_ids(a), style);
}

std::string balance_words(const airflow::CaseAir& one, const airflow::Airflow& air,
                          units::Style style) {
  double vents = 0.0;
  double rooms = 0.0;
  double out = 0.0;
  for (std::size_t i = 0; i < one.openings.size(); ++i) {
    const double flow = one.openings[i].flow_m3s;
    if (flow < 0.0) {
      out -= flow;
    } else if (air.openings[i].role == airflow::Role::leak) {
      rooms += flow;
    } else {
      vents += flow;
    }
  }
  const auto flow = [&](double m3s) { return airflow::flow_words(m3s, style); };
  return fmt::format(
      "In by vents {}, in from the rooms {}, out {}: in and out weigh the same. Air swells as it "
      "warms, here from {} outside to {} in the attic.",
      flow(vents), flow(rooms), flow(out),
      airflow::temperature_words(one.conditions.outside_c, style),
      airflow::temperature_words(one.attic_c, style));
}

std::string air_text(const Assessment& a, units::Style style, std::size_t columns) {
  if (a.airflow.cases.empty()) {
    return {};
  }
  std::string out =
      "\n" + wrap("AIRFLOW (a model: count on half as much or half as much again, in wind on more)",
                  0, columns);
  Table table({"weather", "outside", "attic", "changes/h", "intake", "exhaust", "rooms"});
  for (std::vector<std::string>& row : air_rows(a, style)) {
    table.add(std::move(row));
  }
  out += table.text(2, 1, columns);
  out += wrap("Intake, exhaust, rooms: by which of them the air comes in.", 2, columns);
  for (const std::string& words : air_words(a, style)) {
    out += wrap(words, 2, columns);
  }
  return out;
}

}  // namespace ridgeward::papers
