// Reads triangle meshes through Open Asset Import: OBJ, STL, PLY and glTF.
#include "plugin/importer_abi.h"

#include "mesh/regions.hpp"
#include "support/importing.hpp"
#include "support/planes.hpp"

#include <algorithm>
#include <assimp/Importer.hpp>
#include <assimp/config.h>
#include <assimp/postprocess.h>
#include <assimp/scene.h>
#include <cctype>
#include <cstring>
#include <functional>

namespace ridgeward::mesh {
namespace {

using importing::Host;
using importing::Refused;
using Options = std::map<std::string, std::string>;

constexpr std::size_t most_triangles = 400000;
constexpr double usual_tolerance_m = 0.01;
constexpr std::size_t longest_head = std::size_t{64} << 10U;

/// The kind of file, by its first bytes; "" when none of ours.
std::string kind_of(std::string_view head) {
  if (head.starts_with("glTF")) {
    return "glb";
  }
  if (head.starts_with("ply")) {
    return "ply";
  }
  if (head.find("\"asset\"") != std::string_view::npos && head.find('{') < 8) {
    return "gltf";
  }
  if (head.starts_with("solid") && head.find("facet") != std::string_view::npos) {
    return "stl";
  }
  for (const char* word : {"\nv ", "\no ", "\ng ", "\nmtllib "}) {
    if (head.find(word) != std::string_view::npos || head.starts_with(word + 1)) {
      return "obj";
    }
  }
  return "";
}

/// A binary STL has no mark: its size follows from the count of its triangles.
bool is_binary_stl(std::string_view bytes) {
  std::uint32_t count = 0;
  if (bytes.size() < 84) {
    return false;
  }
  std::memcpy(&count, bytes.data() + 80, sizeof(count));
  return bytes.size() == 84 + std::uint64_t{count} * 50;
}

struct Wanted {
  std::string part_of_name;  ///< small letters; empty: all
  bool is_y_up = true;
  double scale = 1.0;
};

/// Gathers the triangles of the objects that are wanted.
class Gatherer {
 public:
  Gatherer(const aiScene& scene, Wanted wanted) : scene_(&scene), wanted_(std::move(wanted)) {}

  Triangles gather() {
    node(*scene_->mRootNode, aiMatrix4x4(), wanted_.part_of_name.empty());
    return std::move(found_);
  }

 private:
  bool is_named(const char* name) const {
    return importing::small(name).find(wanted_.part_of_name) != std::string::npos;
  }
  void node(const aiNode& node, const aiMatrix4x4& above, bool is_wanted) {
    const aiMatrix4x4 place = above * node.mTransformation;
    const bool is_in = is_wanted || is_named(node.mName.C_Str());
    for (unsigned i = 0; i < node.mNumMeshes; ++i) {
      const aiMesh& mesh = *scene_->mMeshes[node.mMeshes[i]];
      if (is_in || is_named(mesh.mName.C_Str())) {
        add(mesh, place);
      }
    }
    for (unsigned i = 0; i < node.mNumChildren; ++i) {
      this->node(*node.mChildren[i], place, is_in);
    }
  }
  void add(const aiMesh& mesh, const aiMatrix4x4& place) {
    const auto before = static_cast<std::uint32_t>(found_.points.size());
    for (unsigned i = 0; i < mesh.mNumVertices; ++i) {
      const aiVector3D p = place * mesh.mVertices[i];
      const Point at = wanted_.is_y_up ? Point{p.x, -p.z, p.y} : Point{p.x, p.y, p.z};
      for (const double value : at) {
        if (!std::isfinite(value) || std::abs(value) * wanted_.scale > 1e6) {
          throw Refused("", "a corner lies nowhere, or more than 1000 km away",
                        "give metres for one unit with the option scale");
        }
      }
      found_.points.push_back(
          {at[0] * wanted_.scale, at[1] * wanted_.scale, at[2] * wanted_.scale});
    }
    for (unsigned i = 0; i < mesh.mNumFaces; ++i) {
      const aiFace& face = mesh.mFaces[i];
      if (face.mNumIndices != 3) {
        continue;
      }
      found_.corners.push_back(
          {before + face.mIndices[0], before + face.mIndices[1], before + face.mIndices[2]});
      if (found_.corners.size() > most_triangles) {
        throw Refused("", "there are more than 400000 triangles",
                      "pick the roof with the option objects=NAME, or thin the mesh out");
      }
    }
  }

  const aiScene* scene_;
  Wanted wanted_;
  Triangles found_;
};

bool y_is_up(const std::string& kind, const Options& options) {
  const auto at = options.find("up");
  if (at == options.end()) {
    return kind == "obj" || kind == "glb" || kind == "gltf";
  }
  if (at->second != "y" && at->second != "z") {
    throw Refused("", "up=" + at->second + " is not known", "give up=y or up=z");
  }
  return at->second == "y";
}

/// The wanted objects; without the option those with "roof" in their name, or all.
Triangles triangles_of(const aiScene& scene, Wanted wanted, const Options& options,
                       const Host& host) {
  const auto at = options.find("objects");
  wanted.part_of_name = at == options.end() ? "roof" : importing::small(at->second);
  Triangles mesh = Gatherer(scene, wanted).gather();
  if (mesh.corners.empty() && at != options.end()) {
    throw Refused("", "no object has \"" + at->second + "\" in its name",
                  "give a part of a name, or leave the option out");
  }
  if (mesh.corners.empty()) {
    wanted.part_of_name.clear();
    return Gatherer(scene, wanted).gather();
  }
  host.note("only objects with \"" + wanted.part_of_name + "\" in their name are taken");
  return mesh;
}

void import_bytes(std::string_view bytes, const Options& options, const Host& host) {
  const std::string kind = is_binary_stl(bytes) ? "stl" : kind_of(bytes.substr(0, 4096));
  if (kind.empty()) {
    throw Refused("", "this is no OBJ, STL, PLY or glTF file", "give one of these");
  }
  // The library waits for this line for ever.
  if (kind == "ply" && bytes.substr(0, longest_head).find("\nend_header") == bytes.npos) {
    throw Refused("", "the head of the PLY file does not end", "check that the file is whole");
  }
  const double tolerance_m =
      importing::number_option(options, "tolerance", 0.001, 5.0).value_or(usual_tolerance_m);
  Wanted wanted;
  wanted.is_y_up = y_is_up(kind, options);
  wanted.scale = importing::number_option(options, "scale", 1e-6, 1e6).value_or(1.0);
  Assimp::Importer importer;
  importer.SetPropertyInteger(AI_CONFIG_PP_SBP_REMOVE,
                              aiPrimitiveType_POINT | aiPrimitiveType_LINE);
  const aiScene* scene = importer.ReadFileFromMemory(
      bytes.data(), bytes.size(), aiProcess_Triangulate | aiProcess_SortByPType, kind.c_str());
  if (scene == nullptr || scene->mRootNode == nullptr) {
    throw Refused("", std::string("the file can't be read: ") + importer.GetErrorString(),
                  "check that it is whole; of glTF give the binary form, .glb, with all in it");
  }
  Triangles mesh = triangles_of(*scene, wanted, options, host);
  weld(mesh, std::min(tolerance_m / 10.0, 0.001));
  if (mesh.corners.empty()) {
    throw Refused("", "there are no triangles in the file", "give a mesh of a roof");
  }
  if (!host.go_on(0.3)) {
    return;
  }
  const std::size_t count = mesh.corners.size();
  Flat flat = flat_regions(std::move(mesh), tolerance_m);
  if (flat.up.empty()) {
    throw Refused("", "nothing in the mesh faces up",
                  "check which axis is up (option up), and that triangles are anticlockwise");
  }
  std::array<char, 200> words{};
  std::snprintf(
      words.data(), words.size(),
      "%zu triangles make %zu planes that face up, flat to %g m; %zu hidden ones are left "
      "out; corners were moved by up to %.4f m onto their planes",
      count, flat.up.size(), tolerance_m, flat.hidden, flat.moved_m);
  host.note(words.data());
  host.note(std::string(wanted.is_y_up ? "y" : "z") + " is taken as up, one unit of the file as " +
            importing::number(wanted.scale) + " m");
  host.emit(importing::planes_json("", {{"mesh", 0.0, std::move(flat.up)}}, tolerance_m));
}

int sniff(const char* head, std::size_t size, const char* file_name) {
  const std::string_view text(head, size);
  const std::string name = importing::small(file_name == nullptr ? "" : file_name);
  const std::string kind = kind_of(text);
  if (kind == "glb" || kind == "ply" || kind == "stl") {
    return 95;
  }
  if (!kind.empty() && name.ends_with("." + kind)) {
    return 85;
  }
  return name.ends_with(".stl") || name.ends_with(".obj") ? 50 : 0;
}

constexpr ridgeward_importer_table table{RIDGEWARD_IMPORTER_ABI,
                                         sizeof(ridgeward_importer_table),
                                         "mesh",
                                         "roofs modelled as triangles: OBJ, STL, PLY, glTF",
                                         ".obj .stl .ply .glb .gltf",
                                         sniff,
                                         importing::read_with<import_bytes>};

}  // namespace
}  // namespace ridgeward::mesh

extern "C" __attribute__((visibility("default"))) const ridgeward_importer_table*
ridgeward_importer(std::uint32_t host_abi) {
  return host_abi == RIDGEWARD_IMPORTER_ABI ? &ridgeward::mesh::table : nullptr;
}
