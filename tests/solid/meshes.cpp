// glTF and OBJ read back with readers of their own: GLB framing, buffers and accessors as the glTF
// 2.0 specification asks (Khronos Group, sections 3.6, 3.7, 4.4), and every body closed, with the
// solid's own volume.
#include "exports/bodies_of.hpp"
#include "exports/exporter.hpp"
#include "model/read.hpp"

#include "support/assessed_house.hpp"

#include <catch2/catch.hpp>
#include <glm/geometric.hpp>
#include <nlohmann/json.hpp>

#include <cmath>
#include <cstring>
#include <map>
#include <set>
#include <sstream>

using namespace ridgeward;
using namespace ridgeward::support;
using Json = nlohmann::json;

namespace {

constexpr exports::Content everything{true, true, true, true, true};

std::uint32_t number_at(const std::string& bytes, std::size_t at) {
  REQUIRE(at + 4 <= bytes.size());
  std::uint32_t value = 0;
  for (std::size_t i = 4; i-- > 0;) {
    value = value << 8U | static_cast<unsigned char>(bytes[at + i]);
  }
  return value;
}

float float_at(const std::string& bytes, std::size_t at) {
  const std::uint32_t bits = number_at(bytes, at);
  float value = 0;
  std::memcpy(&value, &bits, sizeof value);
  return value;
}

struct Glb {
  Json json;
  std::string data;

  explicit Glb(const std::string& bytes) {
    REQUIRE(bytes.substr(0, 4) == "glTF");
    REQUIRE(number_at(bytes, 4) == 2);
    REQUIRE(number_at(bytes, 8) == bytes.size());
    const std::uint32_t text = number_at(bytes, 12);
    REQUIRE(bytes.substr(16, 4) == "JSON");
    REQUIRE(text % 4 == 0);
    json = Json::parse(bytes.substr(20, text));
    const std::uint32_t size = number_at(bytes, 20 + text);
    REQUIRE(bytes.substr(24 + text, 4) == std::string("BIN\0", 4));
    REQUIRE(size % 4 == 0);
    data = bytes.substr(28 + text);
    REQUIRE(data.size() == size);
    REQUIRE(json["asset"]["version"] == "2.0");
    REQUIRE(json["buffers"].size() == 1);
    REQUIRE_FALSE(json["buffers"][0].contains("uri"));
    const std::size_t length = json["buffers"][0]["byteLength"];
    REQUIRE(length <= size);
    REQUIRE(size - length < 4);
    for (const Json& view : json["bufferViews"]) {
      REQUIRE(view["buffer"] == 0);
      REQUIRE(view["byteOffset"].get<std::size_t>() % 4 == 0);
      REQUIRE(view["byteOffset"].get<std::size_t>() + view["byteLength"].get<std::size_t>() <=
              length);
    }
  }

  /// Start in the data, checked against its view and the kind of data that is expected.
  std::size_t start(const Json& accessor, int component, const char* type, int target) const {
    REQUIRE(accessor["componentType"] == component);
    REQUIRE(accessor["type"] == type);
    const Json& view = json["bufferViews"].at(accessor["bufferView"].get<std::size_t>());
    REQUIRE(view["target"] == target);
    const std::size_t each = std::string(type) == "VEC3" ? 12 : 4;
    REQUIRE(accessor["count"].get<std::size_t>() >= 1);
    REQUIRE(accessor["count"].get<std::size_t>() * each == view["byteLength"].get<std::size_t>());
    return view["byteOffset"];
  }

  std::vector<glm::dvec3> vectors(std::size_t index) const {
    const Json& accessor = json["accessors"].at(index);
    const std::size_t first = start(accessor, 5126, "VEC3", 34962);
    std::vector<glm::dvec3> all;
    for (std::size_t i = 0; i < accessor["count"].get<std::size_t>(); ++i) {
      const std::size_t at = first + 12 * i;
      all.emplace_back(float_at(data, at), float_at(data, at + 4), float_at(data, at + 8));
    }
    return all;
  }

  std::vector<std::uint32_t> corners(std::size_t index) const {
    const Json& accessor = json["accessors"].at(index);
    const std::size_t first = start(accessor, 5125, "SCALAR", 34963);
    std::vector<std::uint32_t> all;
    for (std::size_t i = 0; i < accessor["count"].get<std::size_t>(); ++i) {
      all.push_back(number_at(data, first + 4 * i));
    }
    return all;
  }
};

/// Signed volume by the divergence theorem; 0 for what isn't closed is not asked of it.
double volume_of(const std::vector<glm::dvec3>& points, const std::vector<std::uint32_t>& corners) {
  double six = 0.0;
  for (std::size_t i = 0; i < corners.size(); i += 3) {
    const glm::dvec3 o = points[corners[0]];
    six += glm::dot(points[corners[i]] - o,
                    glm::cross(points[corners[i + 1]] - o, points[corners[i + 2]] - o));
  }
  return six / 6;
}

/// Checks one mesh against the specification and gives its volume.
double mesh_volume(const Glb& glb, const Json& mesh) {
  REQUIRE(mesh["primitives"].size() == 1);
  const Json& primitive = mesh["primitives"][0];
  REQUIRE(primitive["material"].get<std::size_t>() < glb.json["materials"].size());
  const std::size_t position = primitive["attributes"]["POSITION"];
  const auto points = glb.vectors(position);
  const auto normals = glb.vectors(primitive["attributes"]["NORMAL"]);
  const auto corners = glb.corners(primitive["indices"]);
  REQUIRE(normals.size() == points.size());
  REQUIRE(corners.size() % 3 == 0);
  for (std::size_t axis = 0; axis < 3; ++axis) {
    double low = HUGE_VAL;
    double high = -HUGE_VAL;
    for (const glm::dvec3& p : points) {
      low = std::min(low, p[static_cast<int>(axis)]);
      high = std::max(high, p[static_cast<int>(axis)]);
    }
    REQUIRE(glb.json["accessors"][position]["min"][axis] == low);
    REQUIRE(glb.json["accessors"][position]["max"][axis] == high);
  }
  bool are_good = true;
  for (const glm::dvec3& n : normals) {
    are_good = are_good && std::abs(glm::length(n) - 1) < 1e-5;
  }
  for (std::size_t i = 0; i < corners.size(); i += 3) {
    are_good = are_good && std::max({corners[i], corners[i + 1], corners[i + 2]}) < points.size();
    const glm::dvec3 square = glm::cross(points[corners[i + 1]] - points[corners[i]],
                                         points[corners[i + 2]] - points[corners[i]]);
    // Triangles turn as their normals say; slivers of micrometres lose their turn in floats.
    are_good =
        are_good && (glm::length(square) < 1e-6 || glm::dot(square, normals[corners[i]]) > 0.0);
  }
  REQUIRE(are_good);
  return volume_of(points, corners);
}

/// Paths of all nodes with a mesh; each node has one parent.
void walk(const Json& json, std::size_t node, const std::string& above, std::set<std::size_t>& seen,
          std::map<std::string, std::size_t>& meshes) {
  REQUIRE(seen.insert(node).second);
  const Json& own = json["nodes"].at(node);
  const std::string path = above + (above.empty() ? "" : " > ") + own["name"].get<std::string>();
  if (own.contains("mesh")) {
    REQUIRE(meshes.emplace(path, own["mesh"].get<std::size_t>()).second);
  }
  if (own.contains("children")) {
    REQUIRE_FALSE(own["children"].empty());
    for (const Json& child : own["children"]) {
      walk(json, child.get<std::size_t>(), path, seen, meshes);
    }
  }
}

}  // namespace

TEST_CASE("glTF read back: every body by name, closed, y up, with the solid's volume") {
  for (const char* house : {"sorrel-lane"}) {
    const Assessment assessment = assessed(house);
    const auto bytes = exports::exporter_for("x.glb")->write(assessment, everything);
    REQUIRE(bytes.ok());
    const Glb glb(bytes.value());
    REQUIRE(glb.json["scenes"][0]["nodes"] == Json::array({0}));
    std::set<std::size_t> seen;
    std::map<std::string, std::size_t> meshes;
    walk(glb.json, 0, "", seen, meshes);
    REQUIRE(seen.size() == glb.json["nodes"].size());
    REQUIRE(meshes.size() == glb.json["meshes"].size());
    const auto bodies = exports::bodies_of(assessment, everything);
    double top = -HUGE_VAL;
    for (const solid::Body& body : bodies.value()) {
      const std::size_t slash = body.name.find('/');
      const std::string group =
          slash == std::string::npos ? "" : body.name.substr(0, slash) + " > ";
      const std::string path = assessment.model.name + " > " + group + body.name;
      CAPTURE(path);
      REQUIRE(meshes.count(path) == 1);
      const solid::Report report = solid::examine(body.shape);
      // Floats: a quarter of a micrometre at ten metres, over the whole surface.
      REQUIRE(mesh_volume(glb, glb.json["meshes"][meshes.at(path)]) ==
              Approx(report.volume_m3).margin(1e-6 * report.area_m2).epsilon(1e-6));
      top = std::max(top, report.high.z);
    }
    std::size_t slots = 0;
    double highest = -HUGE_VAL;
    for (const auto& [path, mesh] : meshes) {
      slots += path.find("slots/") != std::string::npos ? 1 : 0;
      const std::size_t position =
          glb.json["meshes"][mesh]["primitives"][0]["attributes"]["POSITION"];
      highest = std::max(highest, glb.json["accessors"][position]["max"][1].get<double>());
    }
    REQUIRE(slots == assessment.vents.slots.size());
    REQUIRE(highest == Approx(top));
    REQUIRE(meshes.size() == bodies.value().size() + slots);
    REQUIRE(exports::exporter_for("x.glb")->write(assessment, everything).value() == bytes.value());
  }
}

TEST_CASE("OBJ read back: objects by name with the solids' volumes") {
  const Assessment assessment = assessed("sorrel-lane");
  const exports::Content content{true, true, false, true, true};
  const auto text = exports::exporter_for("x.obj")->write(assessment, content);
  REQUIRE(text.ok());
  std::vector<glm::dvec3> points;
  std::size_t normals = 0;
  std::map<std::string, std::vector<std::uint32_t>> objects;
  std::string name;
  std::istringstream lines(text.value());
  for (std::string line; std::getline(lines, line);) {
    std::istringstream words(line);
    std::string word;
    words >> word;
    if (word == "o") {
      words >> name;
    } else if (word == "v") {
      glm::dvec3 p;
      words >> p.x >> p.y >> p.z;
      points.push_back(p);
    } else if (word == "vn") {
      ++normals;
    } else if (word == "f") {
      for (std::string corner; words >> corner;) {
        const std::size_t point = std::stoul(corner);
        REQUIRE(point >= 1);
        REQUIRE(point <= points.size());
        REQUIRE(corner == std::to_string(point) + "//" + std::to_string(point));
        objects[name].push_back(static_cast<std::uint32_t>(point - 1));
      }
    } else {
      REQUIRE((word == "#" || word == "g"));
    }
  }
  REQUIRE(normals == points.size());
  const auto bodies = exports::bodies_of(assessment, content);
  REQUIRE(objects.size() == bodies.value().size());
  for (const solid::Body& body : bodies.value()) {
    CAPTURE(body.name);
    const solid::Report report = solid::examine(body.shape);
    REQUIRE(volume_of(points, objects.at(body.name)) ==
            Approx(report.volume_m3).margin(1e-7 * report.area_m2));
  }
}
