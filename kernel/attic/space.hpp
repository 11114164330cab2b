#pragma once
// The space between a level ceiling and the roof over it.

#include "attic/attic.hpp"
#include "base/polygon.hpp"
#include "surface/surface.hpp"

namespace ridgeward::attic {

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

/// A convex piece of a compartment's plan with one ceiling.
struct Ceiled {
  polygon::Loop corners;
  polygon::Box box;
  double ceiling_m = 0.0;
};

/// A compartment's plan cut up by ceilings.
class Ceilings {
 public:
  Ceilings(const Compartment& compartment, std::size_t part_count);
  /// The pieces as they hold under planes of `part`; they cover the compartment's outline once.
  const std::vector<Ceiled>& under(std::size_t part) const {
    return by_part_[by_part_.size() == 1 ? 0 : part];
  }
  const polygon::Box& box() const { return box_; }
  /// The lowest of all ceilings; none: +infinity.
  double lowest_m() const;

 private:
  std::vector<std::vector<Ceiled>> by_part_;  ///< only one when all parts see the same
  polygon::Box box_;
};

/// What a roof encloses over the ceilings of a compartment.
struct Enclosed {
  double volume_m3 = 0.0;
  double top_m = 0.0;
  bool is_any = false;
};
Enclosed enclosed(const surface::Surface& surface, const Ceilings& ceilings);

/// Loops of a plane in plan.
polygon::Loops plan_of(const surface::Surface& surface, const surface::Plane& plane);

}  // namespace ridgeward::attic
