#pragma once
// The space between a level ceiling and the roof over it.

#include "attic/attic.hpp"
#include "base/polygon.hpp"
#include "surface/surface.hpp"
#include "units/length.hpp"

namespace ridgeward::attic {

/// What baffles keep open under the deck, square to it (also the code's figure, R806.3).
inline constexpr double baffle_m = units::inch_m;

/// A plane's height in plan: z = base + dot(gradient, p).
struct Rise {
  glm::dvec2 gradient{0.0};
  double base = 0.0;
  double at(glm::dvec2 plan) const;
  /// Where the plane lies above height `z`.
  polygon::HalfPlane above(double z) const { return {gradient, z - base}; }
};
Rise rise_of(const surface::Plane& plane);

/// Convex plan pieces, each with its box, for many overlaps with the same polygon.
struct Pieces {
  explicit Pieces(const polygon::Loops& outline);
  struct One {
    polygon::Loop corners;
    polygon::Box box;
  };
  std::vector<One> all;
  polygon::Box box;
};

/// A convex piece of an attic's plan with one ceiling.
struct Ceiled {
  polygon::Loop corners;
  polygon::Box box;
  double ceiling_m = 0.0;
};

/// An attic's plan cut up by ceilings.
class Ceilings {
 public:
  Ceilings(const Space& space, std::size_t part_count);
  /// The pieces as they hold under planes of `part`; they cover the attic's outline once.
  const std::vector<Ceiled>& under(std::size_t part) const { return choices_[choice_[part]]; }
  const polygon::Box& box() const { return box_; }
  /// The lowest of all ceilings; none: +infinity.
  double lowest_m() const;

 private:
  std::vector<std::vector<Ceiled>> choices_;  ///< the first as all parts see it but those below
  std::vector<std::size_t> choice_;           ///< for each part
  polygon::Box box_;
};

/// Calls `each` for every overlap of two sets of pieces.
template <class Each>
void for_overlaps(const Pieces& one, const Pieces& other, Each each) {
  for (const Pieces::One& a : one.all) {
    for (const Pieces::One& b : other.all) {
      const polygon::Loop common =
          a.box.touches(b.box) ? polygon::overlap(a.corners, b.corners) : polygon::Loop{};
      if (!common.empty()) {
        each(common);
      }
    }
  }
}

/// What is roof to an attic: a plane, or a deck beneath another part.
struct RoofPiece {
  polygon::Loops plan;
  Pieces pieces;  ///< of `plan`
  Rise rise;
  std::size_t part = 0;  ///< whose plane it is
  PlaneId plane;         ///< that it is, or carries on
};

/// What a roof encloses over the ceilings of an attic.
struct Enclosed {
  double volume_m3 = 0.0;
  double top_m = 0.0;
  bool is_any = false;
};
Enclosed enclosed(const std::vector<RoofPiece>& roof, const Ceilings& ceilings);

/// The stretches of a straight line in plan, as shares of it, within the pieces.
struct Reach {
  double from = 0.0;
  double to = 0.0;
};
std::vector<Reach> within(const Pieces& pieces, glm::dvec2 from, glm::dvec2 to);

/// Of a bay or member, told in plane coordinates.
polygon::Loop plan_of(const surface::Plane& plane, const std::vector<glm::dvec2>& outline_uv);

}  // namespace ridgeward::attic
