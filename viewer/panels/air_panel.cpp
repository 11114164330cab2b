#include "panels/air_panel.hpp"

#include "airflow/words.hpp"

#include "panels/texts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace ridgeward::panels {
namespace {

std::string percent(double share) { return fmt::format("{:.0f} %", 100.0 * share); }

/// Shares of what comes in, over all spaces.
struct Shares {
  double intake = 0.0;
  double exhaust = 0.0;
  double rooms = 0.0;
  double sum = 0.0;
};

Shares shares_of(const airflow::CaseAir& one) {
  Shares all;
  for (const airflow::SpaceAir& space : one.spaces) {
    all.intake += space.intake_share * space.in_kgs;
    all.exhaust += space.exhaust_fed_share * space.in_kgs;
    all.rooms += space.house_share * space.in_kgs;
    all.sum += space.in_kgs;
  }
  if (all.sum > 0.0) {
    all.intake /= all.sum;
    all.exhaust /= all.sum;
    all.rooms /= all.sum;
  }
  return all;
}

std::string plural(std::size_t count, const char* noun) {
  return fmt::format("{} {}{}", count, noun, count == 1 ? "" : "s");
}

/// Ids of vents through which the air goes the wrong way, each once.
std::vector<std::string> wrong_ways(const Assessment& a, const airflow::CaseAir& one) {
  std::vector<std::string> ids;
  for (std::size_t i = 0; i < a.airflow.openings.size() && i < one.openings.size(); ++i) {
    const std::string& id = a.airflow.openings[i].id;
    if (!one.openings[i].role_kept && std::find(ids.begin(), ids.end(), id) == ids.end()) {
      ids.push_back(id);
    }
  }
  return ids;
}

}  // namespace

AirIntent play_air(bool on) { return PlayAir{on}; }
AirIntent choose_air(std::size_t index) { return ChooseAir{index}; }
AirIntent set_air(model::AirCase conditions) { return SetAir{std::move(conditions)}; }

AirView applied(AirView view, const AirIntent& intent) {
  if (const auto* play = std::get_if<PlayAir>(&intent)) {
    view.plays = play->on;
  } else if (const auto* choice = std::get_if<ChooseAir>(&intent)) {
    view.chosen = choice->index;
    view.own.reset();
  } else {
    view.own = std::get<SetAir>(intent).conditions;
  }
  return view;
}

std::size_t shown_case(const AirView& view, const airflow::Airflow& air) {
  return view.chosen && !air.cases.empty() ? *view.chosen % air.cases.size()
                                           : scene::usual_case(air);
}

model::AirCase weather(const AirView& view, const airflow::Airflow& air) {
  return view.own ? *view.own : air.cases[shown_case(view, air)].conditions;
}

bool same_weather(const model::AirCase& one, const model::AirCase& other) {
  return one.outside_c == other.outside_c && one.inside_c == other.inside_c &&
         one.attic_c == other.attic_c && one.wind_ms == other.wind_ms &&
         one.wind_from_deg == other.wind_from_deg && one.sun == other.sun &&
         one.clear_sky == other.clear_sky && one.snow_m == other.snow_m && one.fans == other.fans;
}

AirShow shown_air(const Assessment& assessment, std::size_t index) {
  AirShow show;
  if (index < assessment.airflow.cases.size()) {
    show.one = assessment.airflow.cases[index];
    show.scene = scene::air_scene(assessment, show.one);
  }
  return show;
}

const char* compass_word(double degrees) {
  constexpr std::array<const char*, 16> words{"N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE",
                                              "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW"};
  const double turned = std::fmod(std::fmod(degrees, 360.0) + 360.0, 360.0);
  return words.at(static_cast<std::size_t>(std::lround(turned / 22.5)) % words.size());
}

std::vector<std::pair<std::string, std::string>> air_rows(const Assessment& assessment,
                                                          const airflow::CaseAir& one,
                                                          units::Style style) {
  const Shares shares = shares_of(one);
  double out_m3s = 0.0;
  for (std::size_t i = 0; i < assessment.airflow.openings.size() && i < one.openings.size(); ++i) {
    if (assessment.airflow.openings[i].role == airflow::Role::exhaust) {
      out_m3s += std::max(0.0, -one.openings[i].flow_m3s);
    }
  }
  return {{"Air under the roof", typeset(airflow::temperature_words(one.attic_c, style))},
          {"Changes an hour", fmt::format("{:.1f}", one.air_changes_per_h)},
          {"Out through exhaust", typeset(airflow::flow_words(out_m3s, style))},
          {"In through intake", percent(shares.intake)},
          {"In through exhaust", percent(shares.exhaust)},
          {"Up from the rooms", percent(shares.rooms)}};
}

std::string air_verdict(const Assessment& assessment, const AirShow& show) {
  const std::vector<std::string> wrong = wrong_ways(assessment, show.one);
  std::size_t dead = 0;
  std::size_t shut = 0;
  for (const scene::StillBay& bay : show.scene.still) {
    (bay.why == scene::StillWhy::blocked ? shut : dead) += 1;
  }
  std::string words;
  if (wrong.size() == 1) {
    words = "The air goes the wrong way through " + wrong.front() + ".";
  } else if (!wrong.empty()) {
    words = fmt::format("The air goes the wrong way through {} vents.", wrong.size());
  }
  if (shut + dead > 0) {
    words += words.empty() ? "" : " ";
    words += shut == 0   ? plural(dead, "bay") + " without moving air."
             : dead == 0 ? plural(shut, "bay") + " shut off."
                         : fmt::format("{} shut off, {} more without moving air.",
                                       plural(shut, "bay"), dead);
  }
  if (show.one.has_two_signs) {
    words += words.empty() ? "" : " ";
    words +=
        fmt::format("The wind may press or draw up the slope: {:.1f} to {:.1f} changes an hour.",
                    show.one.least_air_changes_per_h, show.one.most_air_changes_per_h);
  }
  // Above a quarter the rooms feed the attic rather than the weather (common practice, no source).
  const double rooms = shares_of(show.one).rooms;
  if (rooms > 0.25) {
    words += words.empty() ? "" : " ";
    words +=
        fmt::format("{:.0f} % of the air comes up from the rooms, warm and damp: seal the ceiling.",
                    100 * rooms);
  }
  return words.empty() ? "Every vent does its part." : words;
}

}  // namespace ridgeward::panels
