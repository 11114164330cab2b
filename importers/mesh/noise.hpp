#pragma once
// How far the corners of a mesh that was measured lie about their planes. Private to this folder.

#include "mesh/regions.hpp"

#include <optional>

namespace ridgeward::mesh {

/// Standard deviation of corners from the plane of the corners around them, told from the two
/// fifths that lie nearest, so that folds do not count. None where there are fewer than 100 corners
/// with triangles all round, or where what there is looks like shape and not like noise: most of it
/// to one side, or more than a quarter of the sides' length. REQUIRES a welded mesh.
std::optional<double> noise_of(const Triangles& mesh);

}  // namespace ridgeward::mesh
