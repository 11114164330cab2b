// Reads GeoJSON (RFC 7946) footprints: each polygon becomes a part with an eave all round.
#include "plugin/importer_abi.h"

#include "geojson/footprint.hpp"
#include "support/json.hpp"

#include <algorithm>
#include <cctype>
#include <charconv>
#include <cmath>
#include <optional>
#include <set>

namespace ridgeward::geojson {
namespace {

using importing::Host;
using importing::Refused;
using nlohmann::json;
using Options = std::map<std::string, std::string>;

constexpr std::size_t most_positions = 20000;
constexpr std::size_t most_footprints = 1000;

/// Pitch where none is given: a middling one, said aloud.
constexpr const char* assumed_pitch = "30 deg";
constexpr double assumed_plate_m = 2.5;
constexpr double least_slope_deg = 0.1;
constexpr double most_slope_deg = 89.5;

std::string type_of(const json& object) {
  const auto at = object.is_object() ? object.find("type") : object.end();
  return at != object.end() && at->is_string() ? at->get<std::string>() : "";
}

std::optional<double> number_of(const json& properties, const char* name) {
  const auto at = properties.find(name);
  if (at == properties.end() || !at->is_number()) {
    return std::nullopt;
  }
  const double value = at->get<double>();
  return std::isfinite(value) ? std::optional(value) : std::nullopt;
}

/// A name that can be an id: the marks that build derived ids become dashes.
std::string plain_id(std::string name) {
  for (char& c : name) {
    if (std::string_view("/|#:").find(c) != std::string_view::npos ||
        static_cast<unsigned char>(c) < 0x20U || c == 0x7F) {
      c = '-';
    }
  }
  const std::size_t first = name.find_first_not_of(' ');
  const std::size_t last = name.find_last_not_of(' ');
  return first == std::string::npos || name.size() > 80 ? "" : name.substr(first, last - first + 1);
}

std::string text_of(const json& object, const char* name) {
  const auto at = object.find(name);
  if (at == object.end()) {
    return "";
  }
  if (at->is_string()) {
    return at->get<std::string>();
  }
  return at->is_number_integer() ? at->dump() : "";
}

Ring read_ring(const json& list, const std::string& where) {
  if (!list.is_array()) {
    throw Refused(where, "a ring is a list of positions", "give [[x, y], [x, y], ...]");
  }
  if (list.size() > most_positions) {
    throw Refused(where, "this ring has too many positions", "give at most 20000");
  }
  Ring ring;
  for (std::size_t i = 0; i < list.size(); ++i) {
    const json& p = list[i];
    if (!p.is_array() || p.size() < 2 || !p[0].is_number() || !p[1].is_number()) {
      throw Refused(where + "/" + std::to_string(i), "a position is two or three numbers",
                    "give [x, y]");
    }
    ring.push_back({p[0].get<double>(), p[1].get<double>()});
    if (!std::isfinite(ring.back()[0]) || !std::isfinite(ring.back()[1]) ||
        std::abs(ring.back()[0]) > 1e9 || std::abs(ring.back()[1]) > 1e9) {
      throw Refused(where + "/" + std::to_string(i), "a position is no sensible number",
                    "give degrees or metres");
    }
  }
  return ring;
}

void read_properties(const json& properties, Footprint& footprint) {
  if (!properties.is_object()) {
    return;
  }
  if (const std::optional<double> pitch_deg = number_of(properties, "pitch")) {
    if (*pitch_deg < least_slope_deg || *pitch_deg >= most_slope_deg) {
      throw Refused(footprint.where, "the property pitch is no slope of a roof",
                    "give degrees of at least 0.1 and less than 89.5, or a text such as \"8/12\"");
    }
    footprint.pitch = json(*pitch_deg).dump() + " deg";
  } else {
    footprint.pitch = text_of(properties, "pitch");
  }
  if (const std::optional<double> height_m = number_of(properties, "height")) {
    footprint.plate_m = *height_m;
    footprint.has_plate = true;
  }
  if (const std::optional<double> overhang_m = number_of(properties, "overhang")) {
    footprint.overhang_m = *overhang_m;
    footprint.has_overhang = true;
  }
  for (const char* name : {"id", "name"}) {
    if (footprint.name.empty()) {
      footprint.name = plain_id(text_of(properties, name));
    }
  }
}

/// Gathers the polygons of a file.
class Gatherer {
 public:
  void object(const json& object, const std::string& where) {
    const std::string type = type_of(object);
    if (type == "FeatureCollection") {
      each(object, "features", where,
           [&](const json& item, const std::string& at) { this->object(item, at); });
    } else if (type == "Feature") {
      feature(object, where);
    } else {
      geometry(object, json(), where);
    }
  }

  std::vector<Footprint> footprints;
  std::size_t passed_over = 0;  ///< geometries that are no areas

 private:
  template <class Each>
  void each(const json& object, const char* name, const std::string& where, Each visit) {
    const auto at = object.find(name);
    const std::string place = where + "/" + name;
    if (at == object.end() || !at->is_array()) {
      throw Refused(place, std::string("there is no list \"") + name + "\"",
                    "give a complete GeoJSON file");
    }
    for (std::size_t i = 0; i < at->size(); ++i) {
      visit((*at)[i], place + "/" + std::to_string(i));
    }
  }

  void feature(const json& feature, const std::string& where) {
    const auto geometry_at = feature.find("geometry");
    const auto properties_at = feature.find("properties");
    json properties = properties_at == feature.end() ? json() : *properties_at;
    if (const std::string id = text_of(feature, "id"); !id.empty() && properties.is_object()) {
      properties.emplace("id", id);
    }
    if (geometry_at == feature.end() || geometry_at->is_null()) {
      ++passed_over;
      return;
    }
    geometry(*geometry_at, properties, where + "/geometry");
  }

  void geometry(const json& geometry, const json& properties, const std::string& where) {
    const std::string type = type_of(geometry);
    if (type == "Polygon") {
      const auto at = geometry.find("coordinates");
      polygon(at == geometry.end() ? json() : *at, properties, where + "/coordinates");
    } else if (type == "MultiPolygon") {
      each(geometry, "coordinates", where,
           [&](const json& item, const std::string& at) { polygon(item, properties, at); });
    } else if (type == "GeometryCollection") {
      each(geometry, "geometries", where,
           [&](const json& item, const std::string& at) { this->geometry(item, properties, at); });
    } else if (type.empty()) {
      throw Refused(where + "/type", "this is no GeoJSON", "give an object with a \"type\"");
    } else {
      ++passed_over;
    }
  }

  void polygon(const json& rings, const json& properties, const std::string& where) {
    if (!rings.is_array() || rings.empty()) {
      throw Refused(where, "a polygon is a list of rings", "give [[[x, y], ...], ...]");
    }
    if (footprints.size() >= most_footprints) {
      throw Refused(where, "there are more than 1000 polygons",
                    "pick one with the option feature=N, counted from 0, or cut the file down");
    }
    Footprint footprint;
    footprint.where = where;
    for (std::size_t i = 0; i < rings.size(); ++i) {
      footprint.rings.push_back(read_ring(rings[i], where + "/" + std::to_string(i)));
    }
    read_properties(properties, footprint);
    footprints.push_back(std::move(footprint));
  }
};

json edges(std::size_t count, const Footprint& footprint) {
  const json edge{{"kind", "eave"}, {"pitch", footprint.pitch}, {"overhang", footprint.overhang_m}};
  return json::array_t(count, edge);
}

json part_of(const Footprint& footprint, const std::string& id) {
  json part{{"id", id},
            {"outline", footprint.rings.front()},
            {"edges", edges(footprint.rings.front().size(), footprint)},
            {"plate", footprint.plate_m}};
  for (std::size_t i = 1; i < footprint.rings.size(); ++i) {
    part["holes"].push_back(
        {{"outline", footprint.rings[i]}, {"edges", edges(footprint.rings[i].size(), footprint)}});
  }
  return part;
}

/// Keeps the one polygon that the option feature=N names.
void pick(std::vector<Footprint>& all, const Options& options) {
  const auto at = options.find("feature");
  if (at == options.end()) {
    return;
  }
  std::size_t number = 0;
  const std::string& text = at->second;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc{} || end != text.data() + text.size() || number >= all.size()) {
    throw Refused("", "there is no polygon " + text,
                  "give feature=0 to feature=" + std::to_string(all.size() - 1));
  }
  all = {all[number]};
}

bool wants_degrees(const std::vector<Footprint>& all, const Options& options) {
  const auto at = options.find("coordinates");
  if (at == options.end()) {
    return are_degrees(all);
  }
  if (at->second != "degrees" && at->second != "metres") {
    throw Refused("", "coordinates=" + at->second + " is not known",
                  "give coordinates=degrees or coordinates=metres");
  }
  return at->second == "degrees";
}

void to_metres(std::vector<Footprint>& all, const Options& options, const Host& host) {
  if (wants_degrees(all, options)) {
    project(all);
    host.note(
        "coordinates are taken as longitude and latitude (WGS 84), turned into metres about "
        "the middle of the file; north is up");
  } else {
    host.note("coordinates are taken as plain metres; north is taken as up");
  }
  move_to_origin(all);
  host.note("the plan is moved so that its lower left corner is 0, 0, and rounded to 1 mm");
}

/// Fills in what the file does not say, and says so.
void assume(std::vector<Footprint>& all, const Host& host) {
  const auto count = [&](auto lacks) { return std::count_if(all.begin(), all.end(), lacks); };
  const auto of = [&](auto n) { return std::to_string(n) + " of " + std::to_string(all.size()); };
  if (const auto n = count([](const Footprint& f) { return f.pitch.empty(); }); n > 0) {
    host.note("no pitch is given for " + of(n) + " footprints: taken as " + assumed_pitch);
  }
  if (const auto n = count([](const Footprint& f) { return !f.has_plate; }); n > 0) {
    host.note("no height is given for " + of(n) + " footprints: the wall plate is taken at 2.5 m");
  }
  if (const auto n = count([](const Footprint& f) { return !f.has_overhang; }); n > 0) {
    host.note("no overhang is given for " + of(n) + " footprints: taken as none");
  }
  host.note(
      "heights are taken as those of the wall plate; every side is taken as an eave, so the "
      "roof is hipped: mark gables in the model");
  for (Footprint& footprint : all) {
    footprint.pitch = footprint.pitch.empty() ? assumed_pitch : footprint.pitch;
    footprint.plate_m = footprint.has_plate ? footprint.plate_m : assumed_plate_m;
    tidy(footprint);
  }
}

json model_of(const std::vector<Footprint>& all) {
  json parts = json::array();
  std::set<std::string> ids;
  for (std::size_t i = 0; i < all.size(); ++i) {
    std::string id = all[i].name.empty() ? "part-" + std::to_string(i + 1) : all[i].name;
    while (!ids.insert(id).second) {
      id += "-" + std::to_string(i + 1);
    }
    parts.push_back(part_of(all[i], id));
  }
  return {{"ridgeward", 1}, {"units", "m"}, {"parts", parts}};
}

void import_text(std::string_view text, const Options& options, const Host& host) {
  Gatherer gatherer;
  gatherer.object(importing::parse_object(text, "", "GeoJSON"), "");
  std::vector<Footprint>& all = gatherer.footprints;
  if (all.empty()) {
    throw Refused("", "there is no polygon in the file", "give footprints as polygons");
  }
  if (gatherer.passed_over > 0) {
    host.note(std::to_string(gatherer.passed_over) +
              " features are no polygons and are passed over");
  }
  if (!host.go_on(0.5)) {
    return;
  }
  pick(all, options);
  to_metres(all, options, host);
  assume(all, host);
  host.emit(model_of(all).dump(1));
}

int sniff(const char* head, std::size_t size, const char* file_name) {
  const std::string_view text(head, size);
  const std::string_view name = file_name == nullptr ? "" : file_name;
  const bool has_types = text.find("\"FeatureCollection\"") != std::string_view::npos ||
                         text.find("\"Feature\"") != std::string_view::npos ||
                         text.find("\"Polygon\"") != std::string_view::npos ||
                         text.find("\"MultiPolygon\"") != std::string_view::npos;
  if (has_types) {
    return 90;
  }
  return name.ends_with(".geojson") ? 50 : 0;
}

constexpr ridgeward_importer_table table{
    RIDGEWARD_IMPORTER_ABI,
    sizeof(ridgeward_importer_table),
    "geojson",
    "footprints of buildings: polygons with the properties height, pitch and overhang",
    ".geojson .json",
    sniff,
    importing::read_with<import_text>};

}  // namespace
}  // namespace ridgeward::geojson

extern "C" __attribute__((visibility("default"))) const ridgeward_importer_table*
ridgeward_importer(std::uint32_t host_abi) {
  return host_abi == RIDGEWARD_IMPORTER_ABI ? &ridgeward::geojson::table : nullptr;
}
