#pragma once
// Triangles of a scene that Open Asset Import has read.

#include "mesh/regions.hpp"

#include <algorithm>
#include <assimp/Importer.hpp>
#include <assimp/config.h>
#include <assimp/postprocess.h>
#include <assimp/scene.h>
#include <cmath>
#include <functional>
#include <limits>
#include <string>
#include <utility>

namespace ridgeward::mesh {

inline constexpr std::size_t most_triangles = 400000;
inline constexpr std::size_t most_points = 3 * most_triangles;

/// How the file's numbers become metres with z up.
struct Axes {
  bool is_y_up = true;
  double scale = 1.0;
  std::string cure{};  ///< where a corner lies too far away

  Point placed(const Point& p) const {
    const Point at = is_y_up ? Point{p[0], -p[2], p[1]} : p;
    return {at[0] * scale, at[1] * scale, at[2] * scale};
  }
};

/// What the library says of a failure, ": ..." or nothing: names of files that only it knows mean
/// nothing to whoever gave the bytes.
inline std::string reason_of(const std::string& words) {
  return words.empty() || words.find("$$$") != std::string::npos ? std::string() : ": " + words;
}

/// Reads `bytes` as `kind` ("obj", "ifc", ...); the scene lives as long as `importer`. Refused,
/// with `cure`, when the library can't.
inline const aiScene& scene_in(Assimp::Importer& importer, std::string_view bytes,
                               const std::string& kind, const std::string& cure) {
  importer.SetPropertyInteger(AI_CONFIG_PP_SBP_REMOVE,
                              aiPrimitiveType_POINT | aiPrimitiveType_LINE);
  const aiScene* scene = importer.ReadFileFromMemory(
      bytes.data(), bytes.size(), aiProcess_Triangulate | aiProcess_SortByPType, kind.c_str());
  if (scene == nullptr || scene->mRootNode == nullptr) {
    throw importing::Refused("", "the file can't be read" + reason_of(importer.GetErrorString()),
                             cure);
  }
  return *scene;
}

/// Gathers the triangles of the objects that are wanted.
class Gatherer {
 public:
  Gatherer(const aiScene& scene, Axes axes, std::function<bool(const std::string&)> is_wanted)
      : scene_(&scene), axes_(std::move(axes)), is_wanted_(std::move(is_wanted)) {}

  Triangles gather() {
    node(*scene_->mRootNode, Place(aiMatrix4x4()), false);
    return std::move(found_);
  }

 private:
  /// In double precision: the library's own lacks the digits of small things far away.
  using Place = aiMatrix4x4t<double>;

  void node(const aiNode& node, const Place& above, bool is_below_wanted) {
    const Place place = above * Place(node.mTransformation);
    const bool is_in = is_below_wanted || is_wanted_(node.mName.C_Str());
    for (unsigned i = 0; i < node.mNumMeshes; ++i) {
      need(node.mMeshes[i] < scene_->mNumMeshes);
      const aiMesh& mesh = *scene_->mMeshes[node.mMeshes[i]];
      if (is_in || is_wanted_(mesh.mName.C_Str())) {
        add(mesh, place);
      }
    }
    for (unsigned i = 0; i < node.mNumChildren; ++i) {
      this->node(*node.mChildren[i], place, is_in);
    }
  }
  /// The library hands on what damaged files point at.
  static void need(bool is_there) {
    if (!is_there) {
      throw importing::Refused("", "a triangle has a corner that is not in the file",
                               "check that the file is whole");
    }
  }
  void add(const aiMesh& mesh, const Place& place) {
    constexpr double most_m = 2e7;  // northings of UTM go up to 1e7
    const auto before = static_cast<std::uint32_t>(found_.points.size());
    aiVector3D largest;
    for (unsigned i = 0; i < mesh.mNumVertices; ++i) {
      const aiVector3D& own = mesh.mVertices[i];
      const aiVector3t<double> p = place * aiVector3t<double>(own.x, own.y, own.z);
      const Point at = axes_.placed({p.x, p.y, p.z});
      for (const double value : at) {
        if (!std::isfinite(value) || std::abs(value) > most_m) {
          throw importing::Refused("", "a corner lies nowhere, or more than 20000 km away",
                                   axes_.cure);
        }
      }
      found_.points.push_back(at);
      largest = {std::max(largest.x, std::abs(own.x)), std::max(largest.y, std::abs(own.y)),
                 std::max(largest.z, std::abs(own.z))};
    }
    tell_steps(largest, place);
    need_few(found_.points.size() <= most_points);
    for (unsigned i = 0; i < mesh.mNumFaces; ++i) {
      const aiFace& face = mesh.mFaces[i];
      if (face.mNumIndices != 3) {
        continue;
      }
      std::array<std::uint32_t, 3> corners{};
      for (std::size_t k = 0; k < 3; ++k) {
        need(face.mIndices[k] < mesh.mNumVertices);
        corners.at(k) = before + face.mIndices[k];
      }
      found_.corners.push_back(corners);
      need_few(found_.corners.size() <= most_triangles);
    }
  }
  /// How far from each other the numbers stand that single precision has there.
  void tell_steps(const aiVector3D& largest, const Place& place) {
    const auto step = [](float size) {
      return static_cast<double>(std::nextafter(size, std::numeric_limits<float>::infinity())) -
             static_cast<double>(size);
    };
    double squares = 0.0;
    for (unsigned k = 0; k < 3; ++k) {
      const double across = std::hypot(place[0][k], place[1][k], place[2][k]) * step(largest[k]);
      squares += across * across;
    }
    found_.step_m = std::max(found_.step_m, std::sqrt(squares) * axes_.scale);
  }
  static void need_few(bool are_few) {
    if (!are_few) {
      throw importing::Refused("", "there are more than 400000 triangles, or 1200000 corners",
                               "pick the roof with the option objects=NAME, or thin the mesh out");
    }
  }

  const aiScene* scene_;
  Axes axes_;
  std::function<bool(const std::string&)> is_wanted_;
  Triangles found_;
};

/// Triangles of the objects (nodes with all below them, meshes) whose names are wanted.
inline Triangles gather(const aiScene& scene, const Axes& axes,
                        const std::function<bool(const std::string& name)>& is_wanted) {
  return Gatherer(scene, axes, is_wanted).gather();
}

}  // namespace ridgeward::mesh
