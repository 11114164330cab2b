#pragma once
// What of thick roofs is no roof plane: undersides and cut edges. Private to this folder.

#include "mesh/grow.hpp"

#include <cstddef>
#include <map>
#include <vector>

namespace ridgeward::mesh {

inline constexpr double least_upward = 0.05;  ///< of a normal: flatter than 87 degrees

/// Tells what lies under regions that face up, by a grid over the plan.
class Cover {
 public:
  Cover(const Triangles& mesh, const std::vector<Region>& regions, double tolerance_m);

  /// Area of the region whose triangles have their middle under the open sky. Of two that coincide
  /// the later one is hidden.
  double open_m2(std::size_t region) const;

 private:
  using Cell = std::pair<std::int64_t, std::int64_t>;
  struct Piece {
    std::size_t region;
    std::size_t triangle;
  };
  Cell cell_of(double x, double y) const;
  bool is_covered(std::size_t region, const Point& p) const;

  const Triangles* mesh_;
  const std::vector<Region>* regions_;
  double tolerance_m_;
  double size_m_ = 1.0;
  std::map<Cell, std::vector<Piece>> cells_;
};

/// Corners of closed runs, the outer one first.
using Border = std::vector<std::vector<std::uint32_t>>;

/// The planes that are left over, with their borders.
struct Tops {
  std::vector<std::size_t> regions;
  std::vector<Border> borders;
};

struct Trimmed {
  std::size_t strips = 0;
  double area_m2 = 0.0;    ///< of the strips
  double carried_m = 0.0;  ///< how far tops were carried on, at most
};

/// A slab that is cut square to its faces at a ridge or hip shows its edge there: a strip as wide
/// as the slab is thick, square to the top that it shares a side with. Takes such strips from
/// `tops`, and carries the tops beside them on to the line in which they meet, where it is nearer
/// than three times the thickness; their borders get corners of their own for that.
/// `undersides`: regions that are hidden and face down.
Trimmed trim(Triangles& mesh, const std::vector<Region>& regions,
             const std::vector<std::size_t>& undersides, Tops& tops);

}  // namespace ridgeward::mesh
