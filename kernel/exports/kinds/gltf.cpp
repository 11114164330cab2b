// glTF 2.0, binary (Khronos Group, glTF 2.0 specification, sections 3 and 4: data, GLB).
#include "exports/exporter.hpp"
#include "exports/meshes.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstring>
#include <limits>

namespace ridgeward::exports {

namespace {

using Json = nlohmann::ordered_json;

constexpr int of_floats = 5126;
constexpr int of_whole_numbers = 5125;
constexpr int for_points = 34962;
constexpr int for_corners = 34963;

/// y up, as glTF has it: east stays x, north goes to -z.
std::array<float, 3> turned(const glm::dvec3& p) {
  return {static_cast<float>(p.x), static_cast<float>(p.z), static_cast<float>(-p.y)};
}

void append(std::string& bytes, std::uint32_t value) {
  for (int shift = 0; shift < 32; shift += 8) {
    bytes.push_back(static_cast<char>((value >> shift) & 0xFFU));
  }
}

class Writer {
 public:
  explicit Writer(const std::string& name) {
    json_["asset"] = {{"version", "2.0"}, {"generator", "Ridgeward"}};
    json_["scene"] = 0;
    json_["scenes"] = Json::array({{{"name", name}, {"nodes", {0}}}});
    add_node(name);
  }

  void add(const MeshGroup& group);
  std::string bytes();

 private:
  std::size_t add_node(const std::string& name) {
    json_["nodes"].push_back({{"name", name}});
    return json_["nodes"].size() - 1;
  }
  std::size_t add_material(const std::string& name);
  std::size_t add_view(std::size_t start, int target);
  std::size_t add_vectors(const std::vector<glm::dvec3>& vectors, bool with_limits);
  std::size_t add_corners(const std::vector<std::uint32_t>& corners);
  std::size_t add_mesh(const MeshGroup::Named& named, std::size_t material);

  Json json_;
  std::string data_;
};

std::size_t Writer::add_material(const std::string& name) {
  const Look look = look_of(name);
  Json material{{"name", name},
                {"pbrMetallicRoughness",
                 {{"baseColorFactor", {look.red, look.green, look.blue, look.cover}},
                  {"metallicFactor", 0},
                  {"roughnessFactor", 0.9}}}};
  if (look.cover < 1.0F) {
    material["alphaMode"] = "BLEND";
  }
  if (name == "slots") {
    material["doubleSided"] = true;
  }
  json_["materials"].push_back(std::move(material));
  return json_["materials"].size() - 1;
}

std::size_t Writer::add_view(std::size_t start, int target) {
  json_["bufferViews"].push_back({{"buffer", 0},
                                  {"byteOffset", start},
                                  {"byteLength", data_.size() - start},
                                  {"target", target}});
  return json_["bufferViews"].size() - 1;
}

std::size_t Writer::add_vectors(const std::vector<glm::dvec3>& vectors, bool with_limits) {
  const std::size_t start = data_.size();
  std::array<float, 3> low{};
  std::array<float, 3> high{};
  low.fill(std::numeric_limits<float>::max());
  high.fill(std::numeric_limits<float>::lowest());
  for (const glm::dvec3& vector : vectors) {
    const std::array<float, 3> p = turned(vector);
    for (std::size_t i = 0; i < 3; ++i) {
      low[i] = std::min(low[i], p[i]);
      high[i] = std::max(high[i], p[i]);
      std::uint32_t bits = 0;
      std::memcpy(&bits, &p[i], sizeof bits);
      append(data_, bits);
    }
  }
  Json accessor{{"bufferView", add_view(start, for_points)},
                {"componentType", of_floats},
                {"count", vectors.size()},
                {"type", "VEC3"}};
  if (with_limits) {
    accessor["min"] = low;
    accessor["max"] = high;
  }
  json_["accessors"].push_back(std::move(accessor));
  return json_["accessors"].size() - 1;
}

std::size_t Writer::add_corners(const std::vector<std::uint32_t>& corners) {
  const std::size_t start = data_.size();
  for (const std::uint32_t corner : corners) {
    append(data_, corner);
  }
  json_["accessors"].push_back({{"bufferView", add_view(start, for_corners)},
                                {"componentType", of_whole_numbers},
                                {"count", corners.size()},
                                {"type", "SCALAR"}});
  return json_["accessors"].size() - 1;
}

std::size_t Writer::add_mesh(const MeshGroup::Named& named, std::size_t material) {
  const std::size_t points = add_vectors(named.mesh.points, true);
  const std::size_t normals = add_vectors(named.mesh.normals, false);
  const std::size_t corners = add_corners(named.mesh.corners);
  json_["meshes"].push_back(
      {{"name", named.name},
       {"primitives", Json::array({{{"attributes", {{"POSITION", points}, {"NORMAL", normals}}},
                                    {"indices", corners},
                                    {"material", material}}})}});
  return json_["meshes"].size() - 1;
}

void Writer::add(const MeshGroup& group) {
  const std::size_t material = add_material(group.name);
  std::size_t parent = 0;
  const bool is_alone = group.all.size() == 1 && group.all.front().name == group.name;
  if (!is_alone) {
    parent = add_node(group.name);
    json_["nodes"][0]["children"].push_back(parent);
  }
  for (const MeshGroup::Named& named : group.all) {
    const std::size_t mesh = add_mesh(named, material);
    const std::size_t node = add_node(named.name);
    json_["nodes"][node]["mesh"] = mesh;
    json_["nodes"][parent]["children"].push_back(node);
  }
}

std::string Writer::bytes() {
  constexpr std::uint32_t magic = 0x46546C67;       // "glTF"
  constexpr std::uint32_t json_chunk = 0x4E4F534A;  // "JSON"
  constexpr std::uint32_t data_chunk = 0x004E4942;  // "BIN"
  json_["buffers"] = Json::array({{{"byteLength", data_.size()}}});
  std::string text = json_.dump(-1, ' ', false, Json::error_handler_t::replace);
  text.resize((text.size() + 3) / 4 * 4, ' ');
  data_.resize((data_.size() + 3) / 4 * 4, '\0');
  std::string all;
  append(all, magic);
  append(all, 2);
  append(all, static_cast<std::uint32_t>(12 + 8 + text.size() + 8 + data_.size()));
  append(all, static_cast<std::uint32_t>(text.size()));
  append(all, json_chunk);
  all += text;
  append(all, static_cast<std::uint32_t>(data_.size()));
  append(all, data_chunk);
  all += data_;
  return all;
}

Result<std::string> write_gltf(const Assessment& assessment, const Content& content,
                               const Tell& tell) {
  const Result<std::vector<MeshGroup>> groups = meshes_of(assessment, content, tell);
  if (!groups) {
    return groups.faults();
  }
  return to_gltf(assessment.model.name.empty() ? "roof" : assessment.model.name, groups.value());
}

}  // namespace

std::string to_gltf(const std::string& name, const std::vector<MeshGroup>& groups) {
  Writer writer(name);
  for (const MeshGroup& group : groups) {
    writer.add(group);
  }
  return writer.bytes();
}

extern const Exporter gltf_kind;
const Exporter gltf_kind{".glb", "the same bodies for viewers; glTF 2.0 (metres, y up)",
                         write_gltf};

}  // namespace ridgeward::exports
