#pragma once
// What a file says of the reference system of its coordinates, as far as their unit goes. Codes are
// those of the EPSG dataset (as PROJ 9.1 has it).

#include "units/length.hpp"

#include "support/importing.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace ridgeward::importing {

inline constexpr double foot_m = units::foot_m;
/// Feet of the survey of the United States (NIST Special Publication 811, appendix B.6).
inline constexpr double us_foot_m = 1200.0 / 3937.0;

struct ReferenceSystem {
  std::string name;  ///< as people write it: "EPSG:2263"; empty where the file names none
  std::string unit;  ///< "degrees", "m", "ft", "ftUS"; empty where the file does not tell
};

/// First and last code of systems in a row.
using Codes = std::pair<unsigned, unsigned>;

template <std::size_t count>
bool has_code(const std::array<Codes, count>& rows, unsigned code) {
  return std::any_of(rows.begin(), rows.end(),
                     [code](const Codes& row) { return code >= row.first && code <= row.second; });
}

/// Geographic systems, alone or with heights (6697, 7423, 9518 and the like). From 4880 on to 4999
/// even codes are geocentric.
inline bool is_geographic(unsigned code) {
  constexpr std::array<Codes, 38> rows{
      {{4001, 4025}, {4027, 4036}, {4040, 4047}, {4052, 4055}, {4074, 4075}, {4080, 4081},
       {4120, 4176}, {4178, 4185}, {4188, 4216}, {4218, 4289}, {4291, 4304}, {4306, 4319},
       {4322, 4322}, {4324, 4324}, {4326, 4327}, {4490, 4490}, {4555, 4555}, {4557, 4558},
       {4600, 4646}, {4657, 4765}, {4801, 4811}, {4813, 4821}, {5498, 5500}, {5628, 5628},
       {6318, 6319}, {6349, 6349}, {6649, 6649}, {6667, 6668}, {6696, 6697}, {6705, 6706},
       {7408, 7410}, {7423, 7423}, {7843, 7844}, {8360, 8360}, {9422, 9430}, {9449, 9450},
       {9462, 9464}, {9500, 9544}}};
  return has_code(rows, code) || (code > 4880 && code < 5000 && code % 2 == 1);
}

/// State planes of the United States (NAD83) in feet of their survey, then in international ones.
inline std::string unit_of_plane(unsigned code) {
  constexpr std::array<Codes, 8> survey{{{2225, 2250},
                                         {2254, 2255},
                                         {2257, 2264},
                                         {2267, 2268},
                                         {2271, 2272},
                                         {2274, 2279},
                                         {2283, 2289},
                                         {8712, 8800}}};
  constexpr std::array<Codes, 7> international{{{2222, 2224},
                                                {2251, 2253},
                                                {2256, 2256},
                                                {2265, 2266},
                                                {2269, 2270},
                                                {2273, 2273},
                                                {2280, 2282}}};
  return has_code(survey, code) ? "ftUS" : (has_code(international, code) ? "ft" : "");
}

/// Runs of four to six digits behind "epsg".
inline std::vector<unsigned> codes_in(const std::string& name) {
  std::vector<unsigned> codes;
  const std::size_t start = small(name).find("epsg");
  unsigned code = 0;
  std::size_t digits = 0;
  for (std::size_t i = start; start != std::string::npos && i <= name.size(); ++i) {
    if (i < name.size() && std::isdigit(static_cast<unsigned char>(name[i])) != 0) {
      code = code % 1000000U * 10U + static_cast<unsigned>(name[i] - '0');
      ++digits;
    } else {
      if (digits >= 4 && digits <= 6) {
        codes.push_back(code);
      }
      code = 0;
      digits = 0;
    }
  }
  return codes;
}

/// From a name such as "urn:ogc:def:crs:EPSG::2263", "http://www.opengis.net/def/crs/EPSG/0/7415",
/// "EPSG:4326", or one of several systems ("urn:ogc:def:crs,crs:EPSG::2263,crs:EPSG::6360").
inline ReferenceSystem system_named(const std::string& name) {
  ReferenceSystem system;
  system.name = as_utf8(name.substr(0, 80));
  const std::vector<unsigned> codes = codes_in(name);
  if (!codes.empty()) {
    system.name.clear();
  }
  for (const unsigned code : codes) {
    system.name += (system.name.empty() ? "EPSG:" : " + EPSG:") + std::to_string(code);
    if (is_geographic(code)) {
      system.unit = "degrees";
    } else if (system.unit.empty()) {
      system.unit = unit_of_plane(code);
    }
  }
  for (const char* words : {"CRS84", "CRS83", "CRS27"}) {
    if (name.find(words) != std::string::npos) {
      system.unit = "degrees";
    }
  }
  return system;
}

/// "m", "ft", "ftUS" or "degrees" for a unit as files write it; empty for others.
inline std::string unit_word(std::string text) {
  static const std::map<std::string, std::string> words{
      {"m", "m"},         {"metre", "m"},     {"meter", "m"},        {"metres", "m"},
      {"meters", "m"},    {"ft", "ft"},       {"foot", "ft"},        {"feet", "ft"},
      {"[ft_i]", "ft"},   {"ftus", "ftUS"},   {"us_ft", "ftUS"},     {"[ft_us]", "ftUS"},
      {"us-ft", "ftUS"},  {"deg", "degrees"}, {"degree", "degrees"}, {"degrees", "degrees"},
      {"9001", "m"},      {"9002", "ft"},     {"9003", "ftUS"},      {"9102", "degrees"},
      {"9122", "degrees"}};
  text = small(std::move(text));
  text.erase(0, text.find_last_of(":/#") == std::string::npos ? 0 : text.find_last_of(":/#") + 1);
  const auto at = words.find(text);
  return at == words.end() ? "" : at->second;
}

inline double metres_in(const std::string& unit) {
  return unit == "ft" ? foot_m : (unit == "ftUS" ? us_foot_m : 1.0);
}

/// The option unit=m, ft or ftUS; empty where it is not given. Refused for others.
inline std::string unit_option(const std::map<std::string, std::string>& options) {
  const auto at = options.find("unit");
  if (at == options.end()) {
    return "";
  }
  std::string unit = unit_word(at->second);
  if (unit.empty() || unit == "degrees") {
    throw Refused("", "unit=" + at->second + " is not known", "give unit=m, ft or ftUS");
  }
  return unit;
}

/// What there is to say of the unit that is taken of `what`, in the plural; empty where nothing is:
/// no system is named.
inline std::string system_note(const ReferenceSystem& system, const std::string& asked,
                               const std::string& what) {
  const auto in_words = [](const std::string& unit) -> std::string {
    return unit == "ft" ? "feet" : (unit == "ftUS" ? "US survey feet (1200/3937 m)" : "metres");
  };
  if (!asked.empty()) {
    return what + " are taken as " + in_words(asked) + ", as asked" +
           (system.name.empty() ? "" : "; the reference system of the file is " + system.name);
  }
  if (system.name.empty() && system.unit.empty()) {
    return "";
  }
  const std::string opening = system.name.empty() ? "the file gives a unit: "
                                                  : "the reference system is " + system.name + ": ";
  if (system.unit.empty() || system.unit == "degrees") {
    return opening + "its unit is not in the file, " + what +
           " are taken as metres; otherwise give the option unit=ft or unit=ftUS";
  }
  return opening + what + " are taken as " + in_words(system.unit) +
         "; otherwise give the option unit=" + (system.unit == "m" ? "ft" : "m");
}

/// The unit of a city's coordinates, in metres: as asked, else as the system says, else 1. Refused
/// for degrees, whose heights are metres, so that nothing stands square.
inline double city_unit_m(const ReferenceSystem& system, const std::string& asked) {
  if (asked.empty() && system.unit == "degrees") {
    throw Refused(
        "", "the coordinates are degrees" + (system.name.empty() ? "" : " (" + system.name + ")"),
        "give the file in a system of metres or feet; where they are metres for all that, "
        "say so with the option unit=m");
  }
  return metres_in(asked.empty() ? system.unit : asked);
}

inline constexpr const char* city_coordinates = "all coordinates, heights too,";

}  // namespace ridgeward::importing
