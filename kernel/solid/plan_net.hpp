#pragma once
// The borders of regions of the plan as sides that neighbours share; seen only inside this folder.

#include <glm/vec2.hpp>

#include <cstdint>
#include <vector>

namespace ridgeward::solid {

struct Block;

/// Corners within two micrometres of each other are one vertex; sides are cut at every vertex on
/// them, and where floors or roofs of the blocks on their two hands cross.
class PlanNet {
 public:
  explicit PlanNet(const std::vector<Block>& blocks);

  /// The block lies on the left hand.
  struct Side {
    std::uint32_t from = 0;
    std::uint32_t to = 0;
    std::uint32_t block = 0;
  };
  const std::vector<glm::dvec2>& vertices() const { return vertices_; }
  const std::vector<Side>& sides() const { return sides_; }

  /// The loops around what all `sides` enclose together, outer ones first; sides run both ways
  /// among them go. No loop passes a vertex twice.
  std::vector<std::vector<Side>> loops_around(const std::vector<Side>& sides) const;

 private:
  std::uint32_t vertex_at(glm::dvec2 p);
  void add_loop(const std::vector<glm::dvec2>& loop, std::uint32_t block);
  void split_at_vertices();
  void split_at_crossings(const std::vector<Block>& blocks);
  double area(const std::vector<Side>& loop) const;

  std::vector<glm::dvec2> vertices_;
  std::vector<Side> sides_;
};

}  // namespace ridgeward::solid
