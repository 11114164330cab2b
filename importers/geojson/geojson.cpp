// Reads GeoJSON (RFC 7946) footprints: each polygon becomes a part with the roof that its
// properties name, or an eave all round.
#include "plugin/importer_abi.h"
#include "units/pitch.hpp"

#include "geojson/footprint.hpp"
#include "geojson/properties.hpp"
#include "geojson/shape.hpp"
#include "support/crossing.hpp"
#include "support/json.hpp"
#include "support/reference_system.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <map>
#include <set>

namespace ridgeward::geojson {
namespace {

using importing::Host;
using importing::Refused;
using nlohmann::json;

constexpr std::size_t most_positions = 20000;
constexpr std::size_t most_footprints = 1000;

constexpr double assumed_plate_m = 2.5;
constexpr double most_slope_deg = 89.5;
/// A plate beneath this is none of a house that one walks into (common practice, no source).
constexpr double least_plate_m = 1.8;
constexpr std::size_t most_passed_over = 12;

std::string type_of(const json& object) {
  const auto at = object.is_object() ? object.find("type") : object.end();
  return at != object.end() && at->is_string() ? at->get<std::string>() : "";
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
    properties_at_ = where + "/properties";
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
    read_properties(properties, properties_at_, footprint);
    footprints.push_back(std::move(footprint));
  }

  std::string properties_at_;  ///< of the feature that is read
};

/// In the shortest way that reads back the same.
std::string pitch_text(double slope) {
  const auto pitch = units::Pitch::from_tangent(slope);
  std::array<char, 40> degrees{};
  std::snprintf(degrees.data(), degrees.size(), "%.6g deg", pitch.degrees());
  for (const std::string& text : {units::show_pitch(pitch), std::string(degrees.data())}) {
    if (units::parse_pitch(text) == pitch) {
      return text;
    }
  }
  return json(slope * 100.0).dump() + " %";
}

json edge_of(const EdgeSaid& said, double overhang_m) {
  json edge{{"kind", said.kind}, {"overhang", overhang_m}};
  if (said.slope > 0.0) {
    edge["pitch"] = pitch_text(said.slope);
  }
  if (said.from_height_m > 0.0) {
    edge["from_height"] = said.from_height_m;
  }
  if (said.break_slope > 0.0) {
    edge["breaks"] =
        json::array({{{"height", said.break_height_m}, {"pitch", pitch_text(said.break_slope)}}});
  }
  return edge;
}

json part_of(const Footprint& footprint, const Shaped& roof, const std::string& id) {
  const double overhang_m = footprint.overhang_m.value_or(0.0);
  json part{{"id", id},
            {"outline", footprint.rings.front()},
            {"plate", footprint.plate_m.value_or(assumed_plate_m)}};
  for (const EdgeSaid& edge : roof.edges) {
    part["edges"].push_back(edge_of(edge, overhang_m));
  }
  for (std::size_t i = 1; i < footprint.rings.size(); ++i) {
    const json edge = edge_of({"eave", roof.slope}, overhang_m);
    part["holes"].push_back({{"outline", footprint.rings[i]},
                             {"edges", json::array_t(footprint.rings[i].size(), edge)}});
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

/// What the old member "crs" says (GeoJSON 2008; RFC 7946 has it no more: degrees always).
std::optional<importing::ReferenceSystem> named_system(const json& root) {
  const auto crs = root.find("crs");
  if (crs == root.end() || !crs->is_object()) {
    return std::nullopt;
  }
  const json properties = crs->value("properties", json());
  std::string name = properties.is_object() ? text_of(properties, "name") : "";
  if (const std::string code = properties.is_object() ? text_of(properties, "code") : "";
      name.empty() && !code.empty()) {
    name = "EPSG:" + code;
  }
  return importing::system_named(name.empty() ? "without a name" : name);
}

/// Notes on footprints by the words that say what holds for them, with their number.
class Tally {
 public:
  explicit Tally(std::size_t all) : all_(all) {}
  void add(bool holds, const std::string& before, const std::string& after) {
    if (holds) {
      ++counts_[{before, after}];
    }
  }
  void tell(const Host& host) const {
    for (const auto& [words, count] : counts_) {
      host.note(words.first + " for " + std::to_string(count) + " of " + std::to_string(all_) +
                " footprints: " + words.second);
    }
  }

 private:
  std::size_t all_;
  std::map<std::pair<std::string, std::string>, std::size_t> counts_;
};

const char* word(Shape shape) {
  constexpr std::array<const char*, 8> words{"hipped",      "flat",      "skillion", "gabled",
                                             "half-hipped", "pyramidal", "gambrel",  "mansard"};
  return words.at(static_cast<std::size_t>(shape));
}

std::string metres(double length_m) {
  std::array<char, 40> text{};
  std::snprintf(text.data(), text.size(), "%.2f m", length_m);
  return text.data();
}

/// Refused for roofs that can't stand.
void judge(const Footprint& footprint, const Shaped& roof) {
  double steepest = 0.0;
  for (const EdgeSaid& edge : roof.edges) {
    steepest = std::max(steepest, edge.slope);
  }
  if (units::Pitch::from_tangent(steepest).degrees() >= most_slope_deg) {
    throw Refused(footprint.where, "its outline and the height of its roof give an upright roof",
                  "check roof:height and roof:levels, or give roof:angle");
  }
  const char* cure =
      "give as height that of the top of the roof over the ground, or give that of the walls as "
      "eave_height";
  if (footprint.top_m && !footprint.plate_m && *footprint.top_m < roof.rise_m) {
    throw Refused(footprint.where, "the roof is higher than the whole building", cure);
  }
  const double drop_m = footprint.overhang_m.value_or(0.0) * steepest;
  if (footprint.top_m && !footprint.plate_m && *footprint.top_m < roof.rise_m + drop_m) {
    throw Refused(footprint.where,
                  "the roof takes up all but " + metres(*footprint.top_m - roof.rise_m) +
                      " of the height " + metres(*footprint.top_m) +
                      ", and its overhang reaches into the ground",
                  cure);
  }
}

/// Refused where the outline of a footprint crosses itself.
void judge_outline(const Footprint& footprint) {
  for (std::size_t i = 0; i < footprint.rings.size(); ++i) {
    const auto crossing = importing::first_crossing(
        footprint.rings[i], [](const Position& p) { return p[0]; },
        [](const Position& p) { return p[1]; });
    if (crossing) {
      const auto [first, second] = *crossing;
      throw Refused(footprint.where + "/" + std::to_string(i),
                    "the outline crosses itself: its side from position " + std::to_string(first) +
                        " crosses that from position " + std::to_string(second) +
                        " (counted from 0)",
                    "walk round the walls once: each corner once, in order");
    }
  }
}

void tell_shape(const Footprint& footprint, const Shaped& roof, Tally& tally) {
  const std::optional<Shape>& shape = footprint.roof.shape;
  const std::string& other = footprint.roof.other_shape;
  tally.add(!shape && other.empty(), "no roof shape is given",
            "taken as hipped, every side an eave; mark gables in the model");
  tally.add(!shape && !other.empty(), "the roof shape \"" + other + "\" is none that is known here",
            "taken as hipped, every side an eave; change the edges in the model");
  if (!shape) {
    return;
  }
  const std::string given = std::string("roof shape ") + word(*shape);
  tally.add(!roof.is_understood, given, "their outlines allow no such roof, it is taken as hipped");
  tally.add(roof.is_understood && *shape == Shape::flat, given,
            "a fall of 0.1 degrees is taken, as planes have to fall");
  tally.add(roof.is_understood && *shape != Shape::flat, given, "taken as the file says");
  const bool is_broken = *shape == Shape::gambrel || *shape == Shape::mansard;
  tally.add(is_broken, given,
            "pitch and height are those of the whole; the lower third of the width rises two "
            "thirds of the height");
  tally.add(*shape == Shape::skillion && !footprint.roof.direction_deg,
            "no direction of the fall is given", "the longest side is taken as the eave");
}

/// Fills in the plate.
void settle_plate(Footprint& footprint, const Shaped& roof, Tally& tally) {
  tally.add(footprint.plate_m.has_value(), "heights of walls are given", "they are the wall plate");
  if (footprint.plate_m) {
    return;
  }
  tally.add(footprint.top_m.has_value(), "heights of whole buildings are given",
            "the wall plate lies lower by the height of the roof");
  if (footprint.top_m) {
    footprint.plate_m = std::round((*footprint.top_m - roof.rise_m) * 1000.0) / 1000.0;
    return;
  }
  const bool has_storeys = footprint.storeys && *footprint.storeys > 0.0;
  tally.add(has_storeys, "no height but storeys are given", "3 m each are taken");
  if (has_storeys) {
    footprint.plate_m = *footprint.storeys * storey_m;
  }
  tally.add(!has_storeys, "no height is given", "the wall plate is taken at 2.5 m");
}

/// Doubts plates that are too low for a house.
void doubt_plates(const std::vector<Footprint>& all, const Host& host) {
  std::size_t low = 0;
  double lowest_m = least_plate_m;
  for (const Footprint& footprint : all) {
    const double plate_m = footprint.plate_m.value_or(assumed_plate_m);
    low += plate_m < least_plate_m ? 1 : 0;
    lowest_m = std::min(lowest_m, plate_m);
  }
  if (low > 0) {
    host.note("doubtful: the wall plate of " + std::to_string(low) + " of " +
              std::to_string(all.size()) + " footprints lies less than " + metres(least_plate_m) +
              " over the ground, the lowest at " + metres(lowest_m) +
              "; where height is that of the walls, give it as eave_height");
  }
}

/// Fills in what the file does not say, and says so.
std::vector<Shaped> assume(std::vector<Footprint>& all, const Host& host) {
  Tally tally(all.size());
  std::vector<Shaped> roofs;
  std::map<std::string, std::size_t> passed_over;
  for (Footprint& footprint : all) {
    tidy(footprint);
    const Shaped& roof = roofs.emplace_back(shaped(footprint));
    judge(footprint, roof);
    tell_shape(footprint, roof, tally);
    tally.add(roof.slope_is_assumed, "no pitch is given",
              "taken as 30 deg, of gambrels and mansards 45 deg, but no more than half the "
              "height of a whole building gives");
    tally.add(roof.levels_are_assumed, "no height of the roof but its storeys are given",
              "2.5 m each are taken");
    settle_plate(footprint, roof, tally);
    tally.add(!footprint.overhang_m, "no overhang is given", "taken as none");
    for (const std::string& words : footprint.passed_over) {
      ++passed_over[words];
    }
  }
  tally.tell(host);
  doubt_plates(all, host);
  std::size_t told = 0;
  for (const auto& [words, count] : passed_over) {
    if (told++ == most_passed_over) {
      host.note("and " + std::to_string(passed_over.size() - most_passed_over) +
                " other properties of roofs are passed over");
      break;
    }
    host.note("passed over, not understood: " + words + ", " + std::to_string(count) +
              (count == 1 ? " time" : " times"));
  }
  return roofs;
}

json model_of(const std::vector<Footprint>& all, const std::vector<Shaped>& roofs) {
  json parts = json::array();
  std::set<std::string> ids;
  for (std::size_t i = 0; i < all.size(); ++i) {
    std::string id = all[i].name.empty() ? "part-" + std::to_string(i + 1) : all[i].name;
    while (!ids.insert(id).second) {
      id += "-" + std::to_string(i + 1);
    }
    parts.push_back(part_of(all[i], roofs[i], id));
  }
  return {{"ridgeward", 1}, {"units", "m"}, {"parts", parts}};
}

void import_text(std::string_view text, const Options& options, const Host& host) {
  Gatherer gatherer;
  const json root = importing::parse_object(text, "", "GeoJSON");
  gatherer.object(root, "");
  std::vector<Footprint>& all = gatherer.footprints;
  if (all.empty()) {
    throw Refused("", "there is no polygon in the file", "give footprints as polygons");
  }
  if (gatherer.passed_over > 0) {
    host.note("passed over, being no polygons: " + std::to_string(gatherer.passed_over));
  }
  if (!host.go_on(0.5)) {
    return;
  }
  pick(all, options);
  to_metres(all, options, named_system(root), host);
  std::for_each(all.begin(), all.end(), judge_outline);
  if (const std::size_t outlines = leave_out_outlines(all); outlines > 0) {
    host.note("left out, as their building:parts are taken: " +
              importing::counted(outlines, "outline") + " of buildings");
  }
  const std::vector<Shaped> roofs = assume(all, host);
  host.emit(model_of(all, roofs).dump(1));
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
    "footprints of buildings: polygons with the properties height, pitch, overhang and roof:shape",
    ".geojson .json",
    sniff,
    importing::read_with<import_text>};

}  // namespace
}  // namespace ridgeward::geojson

extern "C" __attribute__((visibility("default"))) const ridgeward_importer_table*
ridgeward_importer(std::uint32_t host_abi) {
  return host_abi == RIDGEWARD_IMPORTER_ABI ? &ridgeward::geojson::table : nullptr;
}
