#pragma once
// The bodies of an export as triangles.

#include "exports/bodies_of.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace ridgeward::exports {

/// "deck", "members", ... and what belongs to it; "roof" stands by itself.
struct MeshGroup {
  std::string name;
  struct Named {
    std::string name;
    solid::Mesh mesh;
  };
  std::vector<Named> all;
};

/// The bodies of `content` in their order, and with slots each intake slot as the rectangle that is
/// cut out, at the deck's underside ("slots/south/1"). Metres, z up. `tell`: as bodies_of().
Result<std::vector<MeshGroup>> meshes_of(const Assessment& assessment, const Content& content,
                                         const Tell& tell = {});

/// glTF 2.0, binary: a tree of `name`, the groups, what belongs to them. Metres, y up. REQUIRES no
/// empty mesh.
std::string to_gltf(const std::string& name, const std::vector<MeshGroup>& groups);

/// How a group looks: plain colours, red, green, blue, cover; linear light.
struct Look {
  float red = 0.5F;
  float green = 0.5F;
  float blue = 0.5F;
  float cover = 1.0F;
};
Look look_of(std::string_view group);

}  // namespace ridgeward::exports
