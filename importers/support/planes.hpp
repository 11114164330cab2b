#pragma once
// What an importer gives that found roof planes but no parts: the program makes the model
// (docs/importers.md, "Planes").

#include "support/importing.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdio>
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace ridgeward::importing {

using Point = std::array<double, 3>;
using Ring = std::vector<Point>;
using Polygon = std::vector<Ring>;  ///< outer loop, then holes

struct Building {
  std::string id;
  double ground_m = 0.0;
  std::vector<Polygon> roof;
  /// Outer faces of walls in plan; none where the format has none.
  std::vector<std::vector<std::array<double, 2>>> walls{};
};

/// Twice the area of a loop as a vector: its normal by Newell's sum.
inline Point newell(const Ring& ring) {
  Point sum{0.0, 0.0, 0.0};
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Point& a = ring[i];
    const Point& b = ring[(i + 1) % ring.size()];
    const Point& o = ring[0];
    for (std::size_t k = 0; k < 3; ++k) {
      const std::size_t l = (k + 1) % 3;
      const std::size_t m = (k + 2) % 3;
      sum.at(k) +=
          (a.at(l) - o.at(l)) * (b.at(m) - o.at(m)) - (a.at(m) - o.at(m)) * (b.at(l) - o.at(l));
    }
  }
  return sum;
}

/// A surface without a name counts as roof when it faces up by this much.
inline bool faces_up(const Polygon& polygon) {
  constexpr double least_upward = 0.1;
  const Point normal = newell(polygon.front());
  return normal[2] > least_upward * std::hypot(normal[0], normal[1], normal[2]);
}

/// A number as JSON, to a tenth of a micrometre.
inline std::string number(double value) {
  std::array<char, 40> text{};
  if (!std::isfinite(value) || std::abs(value) > 1e9) {
    throw Refused("", "a coordinate is out of bounds", "give coordinates in metres");
  }
  std::snprintf(text.data(), text.size(), "%.7f", value);
  return text.data();
}

/// A number for people: "0.01".
inline std::string shortly(double value) {
  std::array<char, 40> text{};
  std::snprintf(text.data(), text.size(), "%g", value);
  return text.data();
}

/// A text as JSON; what is no UTF-8, and what is no character to be seen, becomes "-".
inline std::string quoted(const std::string& words) {
  std::string text = "\"";
  for (std::size_t at = 0; at < words.size();) {
    const std::size_t length = character_length(std::string_view(words).substr(at));
    const char c = words[at];
    if (length == 0 || c == '\n' || c == '\x7F') {
      text += '-';
    } else {
      text += c == '"' || c == '\\' ? "\\" : "";
      text += words.substr(at, length);
    }
    at += std::max<std::size_t>(1, length);
  }
  return text + "\"";
}

/// "[a,b,c]", each item as `write` gives it.
template <class Items, class Write>
std::string listed(const Items& items, Write write) {
  std::string text = "[";
  for (const auto& item : items) {
    text += text.size() > 1 ? "," : "";
    text += write(item);
  }
  return text + "]";
}

inline std::string polygon_json(const Polygon& polygon) {
  const auto point = [](const Point& p) {
    return "[" + number(p[0]) + "," + number(p[1]) + "," + number(p[2]) + "]";
  };
  return listed(polygon, [&](const Ring& ring) { return listed(ring, point); });
}

/// `units` are those of the model that the program makes: "ft", "in", "mm" or "m"; `north_deg` is
/// where north lies, clockwise from +y, in a file that says it.
inline std::string planes_json(const std::string& name, const std::vector<Building>& buildings,
                               double tolerance_m, const std::string& units = "m",
                               std::optional<double> north_deg = {}) {
  const auto corner = [](const std::array<double, 2>& p) {
    return "[" + number(p[0]) + "," + number(p[1]) + "]";
  };
  const auto wall = [&](const auto& loop) { return listed(loop, corner); };
  return "{\"ridgeward_planes\": 1, \"name\": " + quoted(shortened(name, 200)) +
         ", \"tolerance\": " + number(tolerance_m) + ", \"units\": " + quoted(units) +
         (north_deg ? ", \"north_deg\": " + number(*north_deg) : "") + ", \"buildings\": " +
         listed(buildings,
                [&](const Building& building) {
                  return "\n{\"id\": " + quoted(building.id) +
                         ", \"ground\": " + number(building.ground_m) +
                         ", \"roof\": " + listed(building.roof, polygon_json) +
                         (building.walls.empty() ? ""
                                                 : ", \"walls\": " + listed(building.walls, wall)) +
                         "}";
                }) +
         "}";
}

/// Gives buildings to the host: one by one where it takes them so, otherwise all at the end.
class Out {
 public:
  Out(const Host& host, double tolerance_m, std::size_t most_buildings)
      : host_(&host), tolerance_m_(tolerance_m), most_(most_buildings) {}

  /// Refused when one model would be made of too many.
  void add(Building building) {
    ++count_;
    if (host_->takes_each()) {
      const std::string name = building.id;
      host_->emit_next(planes_json(name, {std::move(building)}, tolerance_m_));
      return;
    }
    if (count_ > most_) {
      throw Refused("", "there are more than " + std::to_string(most_) + " buildings",
                    "import them one by one with --each, or pick one with the option building=ID");
    }
    waiting_.push_back(std::move(building));
  }
  std::size_t count() const { return count_; }
  void finish() {
    if (!host_->takes_each()) {
      host_->emit(planes_json("", waiting_, tolerance_m_));
    }
  }

 private:
  const Host* host_;
  double tolerance_m_;
  std::size_t most_;
  std::size_t count_ = 0;
  std::vector<Building> waiting_;
};

/// What there is to say of a city beside its roofs.
struct CityTold {
  std::string wanted;              ///< id of the only building that is asked for; empty: all
  bool has_wanted = false;         ///< it is in the file
  std::vector<std::string> ids{};  ///< the first ones of the file, for whoever asked for another
  std::size_t buildings = 0;
  std::size_t without_roof = 0;
  std::size_t without_names = 0;  ///< their roofs are what faces up
  std::size_t nameless = 0;       ///< surfaces taken so beside named ones
  double highest_lod = 0.0;

  /// Whether a building, by itself or as part of another, is asked for.
  bool meets(const std::string& id, const std::vector<std::string>& parents) {
    constexpr std::size_t most_told = 8;
    ++buildings;
    if (ids.size() < most_told) {
      ids.push_back(shortened(id, 60));
    }
    const bool is_wanted = wanted.empty() || id == wanted ||
                           std::find(parents.begin(), parents.end(), wanted) != parents.end();
    has_wanted = has_wanted || is_wanted;
    return is_wanted;
  }
};

/// Refused where there is no building with the id that is asked for.
inline void judge_wanted(const CityTold& told, const std::string& where) {
  if (told.has_wanted || told.wanted.empty()) {
    return;
  }
  std::string there;
  for (const std::string& id : told.ids) {
    there += (there.empty() ? "" : ", ") + id;
  }
  const std::size_t more = told.buildings - told.ids.size();
  throw Refused(where, "there is no building \"" + told.wanted + "\" in the file",
                told.ids.empty() ? "give a file with buildings"
                                 : "there are " + there +
                                       (more > 0 ? " and " + std::to_string(more) + " more" : ""));
}

/// Ends the reading of a city. Refused, with `where`, when no building has a roof.
inline void finish_city(Out& out, const CityTold& told, const std::string& where,
                        const Host& host) {
  judge_wanted(told, where);
  if (out.count() == 0) {
    throw Refused(where,
                  told.wanted.empty()
                      ? "there is no building with a roof in the file"
                      : "the building \"" + told.wanted + "\" has no roof in the file",
                  "give buildings of level of detail 2, or the id of one with building=ID");
  }
  host.note("buildings or parts of buildings with a roof: " + std::to_string(out.count()) +
            ", without one: " + std::to_string(told.without_roof));
  if (told.without_names > 0) {
    host.note("without named surfaces: " + std::to_string(told.without_names) +
              "; what faces up is taken as roof");
  }
  if (told.nameless > 0) {
    host.note("surfaces without a name beside named ones, taken as roof as they face up: " +
              std::to_string(told.nameless));
  }
  if (told.highest_lod < 2.0) {
    host.note("the level of detail is below 2: the roofs are flat in the file");
  }
  host.note("heights are measured from the lowest point of each building");
  out.finish();
}

/// The number of an option; none when it is not given. Refused when it is none or out of bounds.
inline std::optional<double> number_option(const std::map<std::string, std::string>& options,
                                           const std::string& key, double least, double most) {
  const auto at = options.find(key);
  if (at == options.end()) {
    return std::nullopt;
  }
  double value = 0.0;
  const char* last = at->second.data() + at->second.size();
  const auto [end, error] = std::from_chars(at->second.data(), last, value);
  if (error != std::errc{} || end != last || !(value >= least && value <= most)) {
    throw Refused("", "the option " + key + "=" + at->second + " can't be used",
                  "give a number from " + shortly(least) + " to " + shortly(most));
  }
  return value;
}

}  // namespace ridgeward::importing
