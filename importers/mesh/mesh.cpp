// Reads triangle meshes through Open Asset Import: OBJ, STL, PLY and glTF.
#include "plugin/importer_abi.h"

#include "mesh/gather.hpp"
#include "mesh/near.hpp"
#include "mesh/regions.hpp"
#include "support/importing.hpp"
#include "support/planes.hpp"

#include <algorithm>
#include <cctype>
#include <cstring>

namespace ridgeward::mesh {
namespace {

using importing::Host;
using importing::Refused;
using Options = std::map<std::string, std::string>;

/// Single precision keeps a tenth of the tolerance up to here.
constexpr double far_m = 5000.0;
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

/// A binary glTF file says in its third word, low byte first, how long it is (glTF 2.0, 4.4.2).
void need_whole_glb(const std::string& kind, std::string_view bytes) {
  constexpr std::size_t head_size = 12;
  if (kind != "glb") {
    return;
  }
  std::uint32_t length = 0;
  for (std::size_t i = 0; i < 4 && bytes.size() >= head_size; ++i) {
    length |= std::uint32_t{static_cast<unsigned char>(bytes[8 + i])} << (8 * i);
  }
  if (bytes.size() < head_size || bytes.size() < length) {
    throw Refused("",
                  "the file is cut short: of " + std::to_string(length) + " bytes it has " +
                      std::to_string(bytes.size()),
                  "fetch or export it again");
  }
}

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
Triangles triangles_of(const aiScene& scene, const Axes& axes, const Options& options,
                       bool& is_named_roof, const Host& host) {
  const auto at = options.find("objects");
  const std::string wanted = at == options.end() ? "roof" : importing::small(at->second);
  Triangles mesh = gather(scene, axes, [&](const std::string& name) {
    return importing::small(name).find(wanted) != std::string::npos;
  });
  if (mesh.corners.empty() && at != options.end()) {
    throw Refused("", "no object has \"" + at->second + "\" in its name",
                  "give a part of a name, or leave the option out");
  }
  if (mesh.corners.empty()) {
    return gather(scene, axes, [](const std::string&) { return true; });
  }
  host.note("only objects with \"" + wanted + "\" in their name are taken");
  is_named_roof = at == options.end();
  return mesh;
}

/// Files do not say their unit: a length that no house has tells of another.
void doubt_size(const Triangles& mesh, const Host& host) {
  constexpr double longest_m = 2000.0;
  constexpr double long_m = 150.0;
  constexpr double short_m = 1.5;
  double length_m = 0.0;
  for (std::size_t k = 0; k < 2; ++k) {
    const auto [low, high] =
        std::minmax_element(mesh.points.begin(), mesh.points.end(),
                            [&](const Point& a, const Point& b) { return a.at(k) < b.at(k); });
    length_m = std::max(length_m, high->at(k) - low->at(k));
  }
  const std::string words = "as read it is " + importing::shortly(length_m) + " m long";
  const std::string cure =
      "give the length of one unit with the option scale: scale=0.001 for mm, 0.01 for cm";
  if (length_m > longest_m) {
    throw Refused("", words, cure);
  }
  if (length_m > long_m || length_m < short_m) {
    host.note(words + ": if that is wrong, " + cure);
  }
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
  need_whole_glb(kind, bytes);
  Axes axes;
  axes.is_y_up = y_is_up(kind, options);
  axes.scale = importing::number_option(options, "scale", 1e-6, 1e6).value_or(1.0);
  axes.cure =
      "give metres for one unit with the option scale, or move the model near the origin and "
      "export it again";
  const Near near = brought_near(bytes, kind, far_m / axes.scale);
  Assimp::Importer importer;
  const aiScene& scene =
      scene_in(importer, near.bytes.empty() ? bytes : near.bytes, kind,
               "check that it is whole; of glTF give the binary form, .glb, with all in it");
  bool is_named_roof = false;
  Triangles mesh = triangles_of(scene, axes, options, is_named_roof, host);
  const std::size_t count = mesh.corners.size();
  if (count == 0) {
    throw Refused("", "there are no triangles in the file", "give a mesh of a roof");
  }
  host.note(importing::counted(count, "triangle") + " taken, " +
            std::string(axes.is_y_up ? "y" : "z") + " as up, one unit of the file as " +
            importing::shortly(axes.scale) + " m");
  doubt_size(mesh, host);
  Sought sought;
  sought.tolerance_m = importing::number_option(options, "tolerance", 0.001, 5.0);
  sought.id = "mesh";
  sought.may_be_measured = true;
  sought.moved_by = axes.placed(near.moved);
  sought.is_all_roof = is_named_roof;
  sought.other_up = axes.is_y_up ? "z" : "y";
  give_planes(std::move(mesh), sought, host);
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
  return name.ends_with(".stl") || name.ends_with(".obj") ? 40 : 0;
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
