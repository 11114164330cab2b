#pragma once
// Roofs raised and framed by the kernel, and what a carpenter would measure on them. No formula of
// the framing square stands here: lengths and angles are read off members, lines and planes.

#include "framing/stage.hpp"
#include "surface/stage.hpp"

#include "support/plans.hpp"
#include "support/worked.hpp"

#include <glm/geometric.hpp>

#include <cmath>
#include <numbers>
#include <string>
#include <vector>

namespace ridgeward::tests {

inline constexpr double ft = units::foot_m;
inline constexpr double in = units::inch_m;
inline double deg(double rad) { return rad * 180.0 / std::numbers::pi; }

struct Framed {
  model::RoofModel model;
  surface::Surface surface;
  framing::Framing framing;

  const surface::Plane& plane(const std::string& id) const {
    const PlaneId found = surface.plane_named(id);
    INFO("plane " << id);
    REQUIRE_FALSE(found.is_none());
    return surface.planes[found];
  }
  const surface::Line& line(const std::string& id) const {
    const LineId found = surface.line_named(id);
    INFO("line " << id);
    REQUIRE_FALSE(found.is_none());
    return surface.lines[found];
  }
  /// The hip, valley or ridge board under a line.
  const framing::Member& under(const std::string& id) const {
    const LineId found = surface.line_named(id);
    for (const framing::Member& member : framing.members) {
      if (member.plane.is_none() && member.line == found) {
        return member;
      }
    }
    FAIL("no member under " << id);
    return *framing.members.begin();
  }
  /// Rafters of one kind on a plane, along the eave.
  std::vector<const framing::Member*> rafters(const std::string& plane_id,
                                              framing::MemberKind kind) const {
    const PlaneId id = surface.plane_named(plane_id);
    std::vector<const framing::Member*> all;
    for (const framing::Member& member : framing.members) {
      if (!member.plane.is_none() && member.plane == id && member.kind == kind) {
        all.push_back(&member);
      }
    }
    INFO("rafters on " << plane_id);
    REQUIRE_FALSE(all.empty());
    return all;
  }
  const framing::Member& longest(const std::string& plane_id, framing::MemberKind kind) const {
    const auto all = rafters(plane_id, kind);
    const framing::Member* best = all.front();
    for (const framing::Member* member : all) {
      best = member->line_length_m > best->line_length_m ? member : best;
    }
    return *best;
  }
  /// Difference in length of the first two neighbours of one kind.
  double difference_m(const std::string& plane_id, framing::MemberKind kind) const {
    const auto all = rafters(plane_id, kind);
    REQUIRE(all.size() >= 2);
    return std::abs(all[1]->line_length_m - all[0]->line_length_m);
  }
  /// Slope of a line, degrees.
  double pitch_deg(const std::string& id) const {
    const surface::Line& l = line(id);
    return deg(
        std::atan2(std::abs(surface.nodes[l.to].z - surface.nodes[l.from].z), l.plan_length_m));
  }
  /// Angle in plan between a line and a plane's eave, 0 to 90, or beyond 90 where the corner is
  /// wider: measured from the end of the eave at which the line stands.
  double plan_angle_deg(const std::string& id, const std::string& plane_id) const {
    const surface::Line& l = line(id);
    const glm::dvec3 d = upward(l);
    const surface::Frame& frame = plane(plane_id).frame;
    const glm::dvec2 run{d.x, d.y};
    const glm::dvec2 eave = inward_eave(plane_id, l);
    const double cosine = glm::dot(glm::normalize(run), eave);
    CHECK(std::abs(glm::dot(frame.normal, d)) < 1e-9 * glm::length(d));  // it lies on the plane
    return deg(std::acos(std::clamp(cosine, -1.0, 1.0)));
  }
  /// The same angle within the roof plane: that of a strip laid along the eave.
  double strip_angle_deg(const std::string& id, const std::string& plane_id) const {
    const surface::Line& l = line(id);
    const surface::Frame& frame = plane(plane_id).frame;
    const glm::dvec3 d = upward(l);
    return deg(std::atan2(std::abs(glm::dot(d, frame.up)), std::abs(glm::dot(d, frame.along))));
  }
  /// Angle between the normals of two planes.
  double fold_deg(const std::string& one, const std::string& other) const {
    return deg(std::acos(glm::dot(plane(one).frame.normal, plane(other).frame.normal)));
  }
  /// Backing of a hip or valley towards one of its planes.
  double backing_deg(const std::string& id, const std::string& plane_id) const {
    const framing::Member& member = under(id);
    const bool is_left = line(id).left_plane() == surface.plane_named(plane_id);
    return deg(is_left ? member.backing_left_rad : member.backing_right_rad);
  }
  double area_ft2() const {
    double sum = 0.0;
    for (const surface::Plane& p : surface.planes) {
      sum += p.area_m2;
    }
    return sum / (ft * ft);
  }
  double sum_ft(surface::LineKind kind) const {
    double sum = 0.0;
    for (const surface::Line& l : surface.lines) {
      sum += l.kind == kind ? l.length_m : 0.0;
    }
    return sum / ft;
  }

 private:
  glm::dvec3 upward(const surface::Line& l) const {
    const glm::dvec3 d = surface.nodes[l.to] - surface.nodes[l.from];
    return d.z < 0.0 ? -d : d;
  }
  /// The eave's direction away from the corner at which the line's foot stands.
  glm::dvec2 inward_eave(const std::string& plane_id, const surface::Line& l) const {
    const surface::Plane& p = plane(plane_id);
    const bool is_rising = surface.nodes[l.to].z >= surface.nodes[l.from].z;
    const double foot = p.frame.uv(surface.nodes[is_rising ? l.from : l.to]).x;
    const glm::dvec2 along{p.frame.along.x, p.frame.along.y};
    const double middle = 0.5 * (p.wall_start_u_m + p.wall_end_u_m);
    return foot < middle ? along : -along;
  }
};

inline Framed framed(model::RoofModel model, double spacing_in = 24.0) {
  Framed f;
  f.model = std::move(model);
  f.model.parts[0].framing.spacing_m = spacing_in * in;
  f.surface = value_of(surface::raise(f.model));
  f.framing = framing::frame(f.model, f.surface);
  for (const std::string& broken : framing::verify(f.surface, f.framing)) {
    FAIL(broken);
  }
  return f;
}

/// Hip roof over length x width feet: sides of one pitch, ends of another.
inline Framed hip_roof(double length, double width, double sides, double ends,
                       double spacing_in = 24.0) {
  return framed(support::house({{0, 0}, {length, 0}, {length, width}, {0, width}},
                               {support::eave(sides), support::eave(ends), support::eave(sides),
                                support::eave(ends)}),
                spacing_in);
}
inline Framed hip_roof(double length, double width, double pitch) {
  return hip_roof(length, width, pitch, pitch);
}

inline Framed gable_roof(double length, double width, double pitch, double spacing_in = 24.0) {
  return framed(support::house({{0, 0}, {length, 0}, {length, width}, {0, width}},
                               {support::eave(pitch), support::gable(), support::eave(pitch),
                                support::gable()}),
                spacing_in);
}

/// Main block length x width with a wing on its south side from `at`, `wing` wide and `out` deep,
/// gables on all three ends. Planes: main/0 west of the wing, main/1 and main/3 the wing, main/4
/// east of it, main/6 the north side.
inline Framed wing_roof(double length, double width, double main_pitch, double at, double wing,
                        double out, double wing_pitch, double spacing_in = 24.0) {
  const model::Edge m = support::eave(main_pitch);
  const model::Edge w = support::eave(wing_pitch);
  const model::Edge g = support::gable();
  return framed(support::house({{0, 0},
                                {at, 0},
                                {at, -out},
                                {at + wing, -out},
                                {at + wing, 0},
                                {length, 0},
                                {length, width},
                                {0, width}},
                               {m, w, g, w, m, g, m, g}),
                spacing_in);
}

/// Regular octagon, `run` feet from the middle to each side.
inline Framed octagon_roof(double run, double pitch, double spacing_in = 16.0) {
  const double half = run * std::tan(std::numbers::pi / 8.0);
  return framed(support::house({{-half, -run},
                                {half, -run},
                                {run, -half},
                                {run, half},
                                {half, run},
                                {-half, run},
                                {-run, half},
                                {-run, -half}},
                               std::vector<model::Edge>(8, support::eave(pitch))),
                spacing_in);
}

/// An eave corner of 135 degrees in plan between main/0 (pitch `one`) and main/1 (`other`).
inline Framed wide_corner(double one, double other) {
  const double d = 40.0 * std::sqrt(0.5);
  return framed(support::house({{-d, d}, {0, 0}, {60, 0}, {60, 70}, {-d, 70}},
                               {support::eave(one), support::eave(other), support::eave(8),
                                support::eave(8), support::eave(8)}));
}

}  // namespace ridgeward::tests
