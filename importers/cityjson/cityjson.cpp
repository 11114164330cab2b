// Reads CityJSON 1.0 to 2.0 (cityjson.org/specs): the roof surfaces of buildings. A CityJSONSeq
// file, one feature a line, is read line by line, so that memory stays that of one building.
#include "plugin/importer_abi.h"

#include "support/json.hpp"
#include "support/planes.hpp"

#include <algorithm>
#include <cctype>
#include <cstdlib>
#include <limits>
#include <optional>

namespace ridgeward::cityjson {
namespace {

using importing::Building;
using importing::Host;
using importing::Point;
using importing::Refused;
using nlohmann::json;
using Options = std::map<std::string, std::string>;

constexpr std::size_t most_buildings = 5000;
constexpr double usual_tolerance_m = 0.05;
/// A surface without a name counts as roof when it faces up by this much.
constexpr double least_upward = 0.1;

const json& child(const json& object, const char* name) {
  static const json nothing;
  const auto at = object.is_object() ? object.find(name) : object.end();
  return object.is_object() && at != object.end() ? *at : nothing;
}

/// A list to go through; an empty one where it is none.
const json& list_of(const json& value) {
  static const json nothing = json::array();
  return value.is_array() ? value : nothing;
}

std::string text_of(const json& object, const char* name) {
  const json& value = child(object, name);
  return value.is_string() ? value.get<std::string>() : "";
}

/// How stored whole numbers become metres.
struct Transform {
  Point scale{1.0, 1.0, 1.0};
  Point translate{0.0, 0.0, 0.0};
};

Transform transform_of(const json& file) {
  Transform transform;
  const json& given = child(file, "transform");
  for (std::size_t i = 0; i < 3; ++i) {
    for (const auto& [name, target] :
         {std::pair("scale", &transform.scale), std::pair("translate", &transform.translate)}) {
      const json& list = child(given, name);
      if (list.is_array() && list.size() == 3 && list[i].is_number()) {
        target->at(i) = list[i].get<double>();
      } else if (!given.is_null()) {
        throw Refused(std::string("/transform/") + name, "this is no list of three numbers",
                      "give a CityJSON file");
      }
    }
  }
  return transform;
}

/// The corners of one file or feature.
class Vertices {
 public:
  Vertices(const json& list, const Transform& transform, std::string where)
      : list_(&list), transform_(&transform), where_(std::move(where)) {}

  Point at(const json& index) const {
    if (!index.is_number_integer() || index < 0 || !list_->is_array() || index >= list_->size()) {
      throw Refused(where_ + "/vertices", "there is no vertex " + index.dump().substr(0, 20),
                    "the file is damaged");
    }
    const json& corner = (*list_)[index.get<std::size_t>()];
    Point p{0.0, 0.0, 0.0};
    for (std::size_t i = 0; i < 3; ++i) {
      if (!corner.is_array() || corner.size() != 3 || !corner[i].is_number()) {
        throw Refused(where_ + "/vertices/" + index.dump(), "a vertex is three numbers",
                      "the file is damaged");
      }
      p.at(i) = corner[i].get<double>() * transform_->scale.at(i) + transform_->translate.at(i);
    }
    return p;
  }

 private:
  const json* list_;
  const Transform* transform_;
  std::string where_;
};

/// Gathers the surfaces of one geometry.
class Surfaces {
 public:
  Surfaces(const Vertices& vertices, const json& geometry)
      : vertices_(&vertices), names_(&child(child(geometry, "semantics"), "surfaces")) {}

  bool has_names() const { return names_->is_array() && !names_->empty(); }

  /// Shells of solids and lists of surfaces alike: down to where a surface (a list of rings) is.
  void add(const json& boundaries, const json& values, int depth) {
    for (std::size_t i = 0; boundaries.is_array() && i < boundaries.size(); ++i) {
      const json& value = values.is_array() && i < values.size() ? values[i] : child(values, "");
      if (depth > 0) {
        add(boundaries[i], value, depth - 1);
      } else {
        surface(boundaries[i], value);
      }
    }
  }

  Building found;
  double lowest_m = std::numeric_limits<double>::infinity();

 private:
  void surface(const json& rings, const json& value) {
    importing::Polygon polygon;
    for (const json& ring : list_of(rings)) {
      importing::Ring corners;
      for (const json& index : list_of(ring)) {
        corners.push_back(vertices_->at(index));
        lowest_m = std::min(lowest_m, corners.back()[2]);
      }
      polygon.push_back(std::move(corners));
    }
    if (!polygon.empty() && polygon.front().size() >= 3 && is_roof(polygon, value)) {
      found.roof.push_back(std::move(polygon));
    }
  }
  bool is_roof(const importing::Polygon& polygon, const json& value) const {
    if (has_names()) {
      return value.is_number_unsigned() && value < names_->size() &&
             text_of((*names_)[value.get<std::size_t>()], "type") == "RoofSurface";
    }
    const Point normal = importing::newell(polygon.front());
    return normal[2] > least_upward * std::hypot(normal[0], normal[1], normal[2]);
  }

  const Vertices* vertices_;
  const json* names_;
};

/// How many lists stand around a surface.
std::optional<int> depth_of(const std::string& type) {
  for (const auto& [name, depth] :
       {std::pair("MultiSurface", 0), std::pair("CompositeSurface", 0), std::pair("Solid", 1),
        std::pair("MultiSolid", 2), std::pair("CompositeSolid", 2)}) {
    if (type == name) {
      return depth;
    }
  }
  return std::nullopt;
}

double lod_of(const json& geometry) {
  const json& lod = child(geometry, "lod");
  if (lod.is_number()) {
    return lod.get<double>();
  }
  return lod.is_string() ? std::strtod(lod.get<std::string>().c_str(), nullptr) : 0.0;
}

class Gatherer {
 public:
  explicit Gatherer(std::string wanted) : wanted_(std::move(wanted)) {}

  void objects(const json& file, const Transform& transform, const std::string& where) {
    const Vertices vertices(child(file, "vertices"), transform, where);
    const json& objects = child(file, "CityObjects");
    if (!objects.is_object()) {
      throw Refused(where + "/CityObjects", "there are no city objects", "give a CityJSON file");
    }
    for (const auto& [id, object] : objects.items()) {
      if (text_of(object, "type").starts_with("Building") && is_wanted(id, object)) {
        building(id, object, vertices);
      }
    }
  }

  std::vector<Building> buildings;
  std::size_t without_roof = 0;
  std::size_t without_names = 0;
  double highest_lod = 0.0;

 private:
  bool is_wanted(const std::string& id, const json& object) const {
    if (wanted_.empty() || id == wanted_) {
      return true;
    }
    const json& parents = child(object, "parents");
    return parents.is_array() &&
           std::find(parents.begin(), parents.end(), wanted_) != parents.end();
  }

  void building(const std::string& id, const json& object, const Vertices& vertices) {
    const json* best = nullptr;
    for (const json& geometry : list_of(child(object, "geometry"))) {
      const bool serves =
          depth_of(text_of(geometry, "type")).has_value() && lod_of(geometry) >= 1.0;
      if (serves && (best == nullptr || lod_of(geometry) > lod_of(*best))) {
        best = &geometry;
      }
    }
    if (best == nullptr) {
      without_roof += child(object, "children").is_array() ? 0U : 1U;
      return;
    }
    Surfaces surfaces(vertices, *best);
    surfaces.add(child(*best, "boundaries"), child(child(*best, "semantics"), "values"),
                 depth_of(text_of(*best, "type")).value_or(0));
    if (surfaces.found.roof.empty()) {
      ++without_roof;
      return;
    }
    without_names += surfaces.has_names() ? 0U : 1U;
    highest_lod = std::max(highest_lod, lod_of(*best));
    surfaces.found.id = id.substr(0, 100);
    surfaces.found.ground_m = surfaces.lowest_m;
    if (buildings.size() >= most_buildings) {
      throw Refused("/CityObjects", "there are more than 5000 buildings",
                    "pick one with the option building=ID, or cut the file down");
    }
    buildings.push_back(std::move(surfaces.found));
  }

  std::string wanted_;
};

void read_lines(std::string_view text, Gatherer& gatherer, const Host& host) {
  Transform transform;
  std::size_t number = 0;
  const auto whole = static_cast<double>(text.size());
  while (!text.empty()) {
    const std::string_view line = text.substr(0, text.find('\n'));
    text.remove_prefix(std::min(text.size(), line.size() + 1));
    ++number;
    if (line.find_first_not_of(" \t\r") == std::string_view::npos) {
      continue;
    }
    const std::string where = "line " + std::to_string(number);
    const json root = importing::parse_object(line, where, "CityJSON");
    if (text_of(root, "type") == "CityJSON") {
      transform = transform_of(root);
    } else if (text_of(root, "type") != "CityJSONFeature") {
      throw Refused(where, "this line is no feature of a CityJSON sequence",
                    "give a CityJSON file");
    }
    gatherer.objects(root, transform, where);
    if (number % 64 == 0 && !host.go_on(1.0 - static_cast<double>(text.size()) / whole)) {
      return;
    }
  }
}

void import_text(std::string_view text, const Options& options, const Host& host) {
  const auto at = options.find("building");
  Gatherer gatherer(at == options.end() ? "" : at->second);
  const double tolerance_m =
      importing::number_option(options, "tolerance", 0.001, 5.0).value_or(usual_tolerance_m);
  // A sequence has its features on lines of their own; a single file may have line ends anywhere.
  const std::size_t first_end = text.find('\n');
  const bool is_sequence = text.find("\"CityJSONFeature\"") != std::string_view::npos &&
                           first_end != std::string_view::npos;
  if (is_sequence) {
    read_lines(text, gatherer, host);
  } else {
    const json root = importing::parse_object(text, "", "CityJSON");
    if (text_of(root, "type") != "CityJSON") {
      throw Refused("/type", "this is no CityJSON", "give an object of type \"CityJSON\"");
    }
    gatherer.objects(root, transform_of(root), "");
  }
  if (gatherer.buildings.empty()) {
    throw Refused("/CityObjects", "there is no building with a roof in the file",
                  "give buildings of level of detail 2, or the id of one with building=ID");
  }
  host.note(std::to_string(gatherer.buildings.size()) +
            " buildings or parts of buildings have a roof, " +
            std::to_string(gatherer.without_roof) + " have none");
  if (gatherer.without_names > 0) {
    host.note(std::to_string(gatherer.without_names) +
              " have no named surfaces: what faces up is taken as roof");
  }
  if (gatherer.highest_lod < 2.0) {
    host.note("the level of detail is below 2: the roofs are flat in the file");
  }
  host.note("heights are measured from the lowest point of each building");
  host.emit(importing::planes_json("", gatherer.buildings, tolerance_m));
}

int sniff(const char* head, std::size_t size, const char* file_name) {
  const std::string_view text(head, size);
  const std::string_view name = file_name == nullptr ? "" : file_name;
  if (text.find("\"CityJSON\"") != std::string_view::npos ||
      text.find("\"CityJSONFeature\"") != std::string_view::npos) {
    return 95;
  }
  const bool is_named = name.ends_with(".city.json") || name.ends_with(".city.jsonl");
  return is_named ? 60 : 0;
}

constexpr ridgeward_importer_table table{
    RIDGEWARD_IMPORTER_ABI,
    sizeof(ridgeward_importer_table),
    "cityjson",
    "roofs of city models, level of detail 2 and up: CityJSON, and CityJSON sequences line by line",
    ".city.json .city.jsonl .json .jsonl",
    sniff,
    importing::read_with<import_text>};

}  // namespace
}  // namespace ridgeward::cityjson

extern "C" __attribute__((visibility("default"))) const ridgeward_importer_table*
ridgeward_importer(std::uint32_t host_abi) {
  return host_abi == RIDGEWARD_IMPORTER_ABI ? &ridgeward::cityjson::table : nullptr;
}
