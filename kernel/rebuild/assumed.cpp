#include "rebuild/assumed.hpp"

#include "model/read.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <map>

namespace ridgeward::rebuild {

namespace {

using Json = nlohmann::json;

constexpr std::size_t most_named = 6;

/// "Part a", "All 3 parts", "Parts a, b and 4 more".
std::string named(const std::vector<std::string>& ids, std::size_t all) {
  if (ids.size() == 1) {
    return "Part " + ids.front();
  }
  if (ids.size() == all) {
    return fmt::format("All {} parts", all);
  }
  std::string text = "Parts ";
  for (std::size_t i = 0; i < std::min(ids.size(), most_named); ++i) {
    text += (i > 0 ? ", " : "") + ids[i];
  }
  return text +
         (ids.size() > most_named ? fmt::format(" and {} more", ids.size() - most_named) : "");
}

/// Lines "Part a: words" that share their words become one, where the first of them stood.
std::vector<std::string> gathered(const std::vector<std::string>& lines,
                                  const model::RoofModel& model) {
  std::map<std::string, std::string> id_of;  // by "Part a: "
  for (const model::Part& part : model.parts) {
    id_of["Part " + part.id + ": "] = part.id;
  }
  std::vector<std::string> order;
  std::map<std::string, std::vector<std::string>> ids;
  for (const std::string& line : lines) {
    const std::size_t colon = line.find(": ");
    const auto part =
        colon == std::string::npos ? id_of.end() : id_of.find(line.substr(0, colon + 2));
    const std::string words = part == id_of.end() ? line : line.substr(colon);
    if (!ids.contains(words)) {
      order.push_back(words);
    }
    auto& sharing = ids[words];
    if (part != id_of.end()) {
      sharing.push_back(part->second);
    }
  }
  std::vector<std::string> all;
  for (const std::string& words : order) {
    const std::vector<std::string>& sharing = ids.at(words);
    all.push_back(sharing.empty() ? words : named(sharing, model.parts.size()) + words);
  }
  return all;
}

bool lacks(const Json& object, const char* key) {
  return !object.is_object() || !object.contains(key);
}

void add_site(const Json& site, const model::Site& said, std::vector<std::string>& all) {
  const auto fahrenheit = [](double celsius) { return celsius * 9.0 / 5.0 + 32.0; };
  const auto degrees = [&](double celsius) {
    return fmt::format("{:g} C ({:.0f} F)", celsius, fahrenheit(celsius));
  };
  if (lacks(site, "winter_c")) {
    all.push_back("No winter temperature is given: " + degrees(said.winter_c) + " is taken.");
  }
  if (lacks(site, "summer_c")) {
    all.push_back("No summer temperature is given: " + degrees(said.summer_c) + " is taken.");
  }
  if (lacks(site, "exposure")) {
    all.push_back("No exposure to wind is given: " + said.exposure + " is taken.");
  }
  if (lacks(site, "snow") && lacks(site, "climate_zone")) {
    all.emplace_back("Neither snow nor climate zone is given: a site without snow is taken.");
  }
  if (lacks(site, "north_deg")) {
    all.emplace_back("Where north lies is not given: up the plan is taken.");
  }
}

std::vector<std::string> assumed_of(std::string_view json, const model::RoofModel& model) {
  std::vector<std::string> all = gathered(model.assumptions, model);
  const Json given = Json::parse(json, nullptr, false);
  if (!given.is_object()) {
    return all;
  }
  if (!lacks(given, "parts") && given["parts"].is_array() && !model.parts.empty() &&
      std::all_of(given["parts"].begin(), given["parts"].end(),
                  [](const Json& part) { return lacks(part, "framing"); })) {
    const model::Framing& framing = model.parts.front().framing;
    all.push_back("No timber is given: rafters " + framing.rafter + ", ridges " + framing.ridge +
                  ", hips " + framing.hip + ", valleys " + framing.valley + " are taken.");
  }
  if (lacks(given, "ceilings")) {
    all.emplace_back("No ceilings are given: one flat ceiling over the walls at plate height.");
  }
  add_site(lacks(given, "site") ? Json::object() : given["site"], model.site, all);
  return all;
}

/// The model JSON of a rebuilt model with no more in it than planes can say.
std::string bare(const model::RoofModel& rebuilt, bool has_north) {
  Json json = Json::parse(model::write(rebuilt));
  for (const char* key : {"site", "roofing", "air", "vents", "ceilings", "prices"}) {
    json.erase(key);
  }
  if (has_north) {
    json["site"] = {{"north_deg", rebuilt.site.north_deg}};
  }
  for (Json& part : json["parts"]) {
    for (const char* key : {"framing", "wall_thickness", "heel", "deck"}) {
      part.erase(key);
    }
    for (Json& edge : part["edges"]) {
      edge.erase("soffit");
      // An overhang is said where a plane's eave hangs lower than the others'.
      if (edge["overhang"].get<double>() == 0.0) {
        edge.erase("overhang");
      }
    }
  }
  return json.dump();
}

}  // namespace

std::vector<std::string> assumed(std::string_view json, const Modelled& made) {
  if (!holds_planes(json)) {
    return assumed_of(json, made.read.model);
  }
  const Json planes = Json::parse(json, nullptr, false);
  const std::string text = bare(made.read.model, !lacks(planes, "north_deg"));
  const Result<model::ReadModel> read = model::read(text);
  return read ? assumed_of(text, read.value().model) : std::vector<std::string>{};
}

}  // namespace ridgeward::rebuild
