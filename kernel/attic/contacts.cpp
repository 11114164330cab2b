#include "attic/contacts.hpp"

#include <glm/common.hpp>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

namespace ridgeward::attic {

namespace {

constexpr double on_line_m = 1e-6;
constexpr double least_m = 1e-4;

/// A side of a plane in plane coordinates.
struct Side {
  glm::dvec2 a{0.0};
  glm::dvec2 b{0.0};
  LineId line;
};

std::vector<Side> sides_of(const surface::Surface& surface, const surface::Plane& plane) {
  std::vector<Side> sides;
  for (const surface::Loop& loop : plane.loops) {
    const std::vector<glm::dvec2> corners = surface::corners_uv(surface, plane.frame, loop);
    for (std::size_t i = 0; i < corners.size(); ++i) {
      const Side side{corners[i], corners[(i + 1) % corners.size()], loop[i].line};
      if (glm::length(side.b - side.a) > least_m) {
        sides.push_back(side);
      }
    }
  }
  return sides;
}

/// The part of a bay's side that lies on a side of the plane, from left to right; equal ends for
/// none.
std::pair<glm::dvec2, glm::dvec2> common(const Side& side, glm::dvec2 from, glm::dvec2 to) {
  const double length = glm::length(side.b - side.a);
  const glm::dvec2 way = (side.b - side.a) / length;
  const glm::dvec2 across{-way.y, way.x};
  if (std::abs(glm::dot(across, from - side.a)) > on_line_m ||
      std::abs(glm::dot(across, to - side.a)) > on_line_m) {
    return {side.a, side.a};
  }
  const double p = std::clamp(glm::dot(way, from - side.a), 0.0, length);
  const double q = std::clamp(glm::dot(way, to - side.a), 0.0, length);
  const glm::dvec2 one = side.a + std::min(p, q) * way;
  const glm::dvec2 other = side.a + std::max(p, q) * way;
  return one.x <= other.x ? std::pair{one, other} : std::pair{other, one};
}

class Finder {
 public:
  Finder(const Plan& plan, const IndexedVector<SpaceId, std::size_t>& floor_of, const Attic& attic)
      : plan_(plan), floor_of_(floor_of), attic_(attic) {}

  void look(BayId bay, const surface::Plane& plane, const std::vector<Side>& sides);
  std::vector<Contact> take() { return std::move(contacts_); }

 private:
  void add(BayId bay, LineId line, glm::dvec3 a, glm::dvec3 b);

  const Plan& plan_;
  const IndexedVector<SpaceId, std::size_t>& floor_of_;
  const Attic& attic_;
  std::vector<Contact> contacts_;
};

void Finder::add(BayId bay, LineId line, glm::dvec3 a, glm::dvec3 b) {
  for (const Stretch& stretch : attic_.bays[bay].stretches) {
    const Pieces& floor = plan_.pieces[floor_of_[stretch.space]];
    for (const Reach& reach : within(floor, glm::dvec2{a}, glm::dvec2{b})) {
      if ((reach.to - reach.from) * glm::length(b - a) > least_m) {
        contacts_.push_back(
            {stretch.space, bay, line, glm::mix(a, b, reach.from), glm::mix(a, b, reach.to)});
      }
    }
  }
}

void Finder::look(BayId bay, const surface::Plane& plane, const std::vector<Side>& sides) {
  const std::vector<glm::dvec2>& outline = plan_.framing.bays[bay].outline;
  for (std::size_t k = 0; k < outline.size(); ++k) {
    for (const Side& side : sides) {
      const auto [from, to] = common(side, outline[k], outline[(k + 1) % outline.size()]);
      if (glm::length(to - from) > least_m) {
        add(bay, side.line, plane.frame.at(from), plane.frame.at(to));
      }
    }
  }
}

}  // namespace

std::vector<Contact> contacts_of(const Plan& plan,
                                 const IndexedVector<SpaceId, std::size_t>& floor_of,
                                 const Attic& attic) {
  Finder finder(plan, floor_of, attic);
  for (const PlaneId id : plan.surface.planes.ids()) {
    const surface::Plane& plane = plan.surface.planes[id];
    const std::vector<Side> sides = sides_of(plan.surface, plane);
    const framing::PlaneFraming& own = plan.framing.planes[id];
    for (std::uint32_t i = own.first_bay; i < own.end_bay; ++i) {
      finder.look(BayId(i), plane, sides);
    }
  }
  return finder.take();
}

}  // namespace ridgeward::attic
