// Reads CityJSON 1.0 to 2.0 (cityjson.org/specs): the roof surfaces of buildings. A CityJSONSeq
// file, one feature a line, is read line by line; of a single file only the corners are kept and
// the city objects are parsed one by one. So memory is that of the corners and of one building.
#include "plugin/importer_abi.h"

#include "support/json.hpp"
#include "support/json_pieces.hpp"
#include "support/planes.hpp"
#include "support/reference_system.hpp"

#include <algorithm>
#include <cctype>
#include <charconv>
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

[[noreturn]] void no_corner(const std::string& where, std::size_t number) {
  throw Refused(where + "/vertices/" + std::to_string(number), "a vertex is three numbers",
                "the file is damaged");
}

/// The corners of one file or feature.
class Vertices {
 public:
  Vertices(std::string_view list, const Transform& transform, std::string where)
      : where_(std::move(where)) {
    if (list.empty() || list.front() != '[') {
      return;  // an index into it is then refused
    }
    importing::Pieces corners(list, where_ + "/vertices");
    importing::Pieces::Piece corner;
    while (corners.next(corner)) {
      add(corner.text, transform);
    }
  }

  Point at(const json& index) const {
    if (!index.is_number_integer() || index < 0 || index >= corners_.size()) {
      throw Refused(where_ + "/vertices", "there is no vertex " + index.dump().substr(0, 20),
                    "the file is damaged");
    }
    return corners_[index.get<std::size_t>()];
  }

 private:
  void add(std::string_view text, const Transform& transform) {
    if (text.front() != '[') {
      no_corner(where_, corners_.size());
    }
    importing::Pieces numbers(text, where_ + "/vertices");
    Point p{0.0, 0.0, 0.0};
    std::size_t i = 0;
    importing::Pieces::Piece number;
    while (numbers.next(number)) {
      double value = 0.0;
      const char* last = number.text.data() + number.text.size();
      const auto [end, error] = std::from_chars(number.text.data(), last, value);
      if (i > 2 || error != std::errc{} || end != last) {
        no_corner(where_, corners_.size());
      }
      p.at(i) = value * transform.scale.at(i) + transform.translate.at(i);
      ++i;
    }
    if (i != 3) {
      no_corner(where_, corners_.size());
    }
    corners_.push_back(p);
  }

  std::vector<Point> corners_;
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
  std::size_t nameless = 0;  ///< of those found, beside named ones

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
  /// The index of a surface may be null (CityJSON 2.0, semantics of primitives).
  bool is_roof(const importing::Polygon& polygon, const json& value) {
    if (has_names() && !value.is_null()) {
      return value.is_number_unsigned() && value < names_->size() &&
             text_of((*names_)[value.get<std::size_t>()], "type") == "RoofSurface";
    }
    const bool is_up = importing::faces_up(polygon);
    nameless += has_names() && is_up ? 1U : 0U;
    return is_up;
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
  Gatherer(std::string wanted, importing::Out& out) : out_(&out) {
    told.wanted = std::move(wanted);
  }

  /// An object of a file or a feature, if it is a building.
  void object(const std::string& id, const json& object, const Vertices& vertices) {
    if (!text_of(object, "type").starts_with("Building")) {
      return;
    }
    std::vector<std::string> parents;
    for (const json& parent : list_of(child(object, "parents"))) {
      parents.push_back(parent.is_string() ? parent.get<std::string>() : "");
    }
    if (told.meets(id, parents)) {
      building(id, object, vertices);
    }
  }

  importing::CityTold told;

 private:
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
      told.without_roof += child(object, "children").is_array() ? 0U : 1U;
      return;
    }
    Surfaces surfaces(vertices, *best);
    surfaces.add(child(*best, "boundaries"), child(child(*best, "semantics"), "values"),
                 depth_of(text_of(*best, "type")).value_or(0));
    if (surfaces.found.roof.empty()) {
      ++told.without_roof;
      return;
    }
    told.without_names += surfaces.has_names() ? 0U : 1U;
    told.nameless += surfaces.nameless;
    told.highest_lod = std::max(told.highest_lod, lod_of(*best));
    surfaces.found.id = importing::shortened(id, 100);
    surfaces.found.ground_m = surfaces.lowest_m;
    out_->add(std::move(surfaces.found));
  }

  importing::Out* out_;
};

/// The members of a file or a feature that matter here, as text.
struct Members {
  std::string_view type;
  std::string_view version;
  std::string_view metadata;
  std::string_view transform;
  std::string_view objects;
  std::string_view vertices;
};

Members members_of(std::string_view text, const std::string& where) {
  Members members;
  if (text.find_first_not_of(" \t\r\n\xEF\xBB\xBF") == std::string_view::npos) {
    throw Refused(where, "the file is empty", "give a CityJSON file");
  }
  importing::Pieces pieces(text, where);
  importing::Pieces::Piece piece;
  while (pieces.next(piece)) {
    for (const auto& [name, target] :
         {std::pair("type", &members.type), std::pair("version", &members.version),
          std::pair("metadata", &members.metadata), std::pair("transform", &members.transform),
          std::pair("CityObjects", &members.objects), std::pair("vertices", &members.vertices)}) {
      if (piece.key == name) {
        *target = piece.text;
      }
    }
  }
  return members;
}

/// Versions that are not known are read like those that are, and said.
void tell_version(const Members& members, const Host& host) {
  const std::string_view text = members.version;
  if (text.size() > 2 && text.front() == '"' && !text.starts_with("\"1.") &&
      !text.starts_with("\"2.")) {
    host.note("the file says that it is CityJSON " +
              importing::shortened(importing::unescaped(text.substr(1, text.size() - 2)), 20) +
              ", which is not known here; it is read as CityJSON 2.0");
  }
}

/// How the corners of a file become metres; says what is taken for granted.
Transform transform_in(const Members& members, const Options& options, const Host& host) {
  tell_version(members, host);
  json file;
  if (!members.transform.empty()) {
    file["transform"] = importing::parse_object(members.transform, "/transform", "CityJSON");
  }
  importing::ReferenceSystem system;
  if (!members.metadata.empty() && members.metadata.front() == '{') {
    const json metadata = importing::parse_object(members.metadata, "/metadata", "CityJSON");
    system = importing::system_named(text_of(metadata, "referenceSystem"));
  }
  const std::string asked = importing::unit_option(options);
  const double unit_m = importing::city_unit_m(system, asked);
  const std::string note = importing::system_note(system, asked, importing::city_coordinates);
  if (!note.empty()) {
    host.note(note);
  }
  Transform transform = transform_of(file);
  for (std::size_t i = 0; i < 3; ++i) {
    transform.scale.at(i) *= unit_m;
    transform.translate.at(i) *= unit_m;
  }
  return transform;
}

/// All city objects of a file or a feature; false when the host wants no more. Null: it is not
/// asked.
bool read_objects(const Members& members, const Transform& transform, const std::string& where,
                  Gatherer& gatherer, const Host* host) {
  const Vertices vertices(members.vertices, transform, where);
  if (members.objects.empty() || members.objects.front() != '{') {
    throw Refused(where + "/CityObjects", "there are no city objects", "give a CityJSON file");
  }
  importing::Pieces objects(members.objects, where + "/CityObjects");
  std::size_t number = 0;
  importing::Pieces::Piece piece;
  while (objects.next(piece)) {
    const std::string id = importing::shortened(importing::unescaped(piece.key), 200);
    std::string place = where;
    place += "/CityObjects/";
    place += id;
    gatherer.object(id, importing::parse_object(piece.text, place, "CityJSON"), vertices);
    const double done =
        static_cast<double>(objects.at()) / static_cast<double>(members.objects.size());
    if (host != nullptr && ++number % 64 == 0 && !host->go_on(done)) {
      return false;
    }
  }
  return true;
}

void read_lines(std::string_view text, const Options& options, Gatherer& gatherer,
                const Host& host) {
  Transform transform;
  const auto size = static_cast<double>(text.size());
  std::size_t number = 0;
  bool goes_on = true;
  while (!text.empty() && goes_on) {
    const std::string_view line = text.substr(0, text.find('\n'));
    text.remove_prefix(std::min(text.size(), line.size() + 1));
    ++number;
    if (line.find_first_not_of(" \t\r") == std::string_view::npos) {
      continue;
    }
    const std::string where = "line " + std::to_string(number);
    const Members members = members_of(line, where);
    if (members.type == "\"CityJSON\"") {
      transform = transform_in(members, options, host);
    } else if (members.type != "\"CityJSONFeature\"") {
      throw Refused(where, "this line is no feature of a CityJSON sequence",
                    "give a CityJSON file");
    }
    read_objects(members, transform, where, gatherer, nullptr);
    goes_on = number % 16 != 0 || host.go_on(1.0 - static_cast<double>(text.size()) / size);
  }
}

/// A sequence has its features on lines of their own; a single file may have line ends anywhere.
bool is_sequence(std::string_view text) {
  const std::size_t first_end = text.find('\n');
  const std::string_view second =
      first_end == std::string_view::npos ? "" : text.substr(first_end + 1, 1000000);
  return second.substr(0, second.find('\n')).find("\"CityJSONFeature\"") != std::string_view::npos;
}

void import_text(std::string_view text, const Options& options, const Host& host) {
  const auto at = options.find("building");
  importing::Out out(
      host, importing::number_option(options, "tolerance", 0.001, 5.0).value_or(usual_tolerance_m),
      most_buildings);
  Gatherer gatherer(at == options.end() ? "" : at->second, out);
  if (is_sequence(text)) {
    read_lines(text, options, gatherer, host);
  } else {
    const Members members = members_of(text, "");
    if (members.type != "\"CityJSON\"") {
      throw Refused("/type", "this is no CityJSON", "give an object of type \"CityJSON\"");
    }
    read_objects(members, transform_in(members, options, host), "", gatherer, &host);
  }
  importing::finish_city(out, gatherer.told, "/CityObjects", host);
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
