#pragma once
// Gable, hip and shed roofs put together corner by corner, with nothing of the kernel's own
// surface stage in them, and the models that belong to them. Lengths in feet unless they say so.

#include "model/catalogue.hpp"
#include "model/roof_model.hpp"
#include "surface/surface.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <vector>

namespace small_roofs {

using namespace ridgeward;

inline constexpr double ft = units::foot_m;
inline constexpr double in = units::inch_m;

struct Face {
  std::size_t edge = 0;
  std::vector<std::size_t> corners;  ///< counter-clockwise from above, the eave's two first
  double wall_start_u_m = 0.0;
  double wall_end_u_m = 0.0;
  double wall_line_v_m = 0.0;
};

struct House {
  model::RoofModel model;
  surface::Surface surface;
};

namespace detail {

inline surface::Plane plane_of(const surface::Surface& surface, const Face& face) {
  surface::Plane plane;
  plane.id = "main/" + std::to_string(face.edge);
  plane.edge = face.edge;
  std::vector<glm::dvec3> p;
  for (const std::size_t corner : face.corners) {
    p.push_back(surface.nodes[NodeId(corner)]);
  }
  glm::dvec3 twice{0.0};
  for (std::size_t i = 1; i + 1 < p.size(); ++i) {
    twice += glm::cross(p[i] - p[0], p[i + 1] - p[0]);
  }
  plane.area_m2 = 0.5 * glm::length(twice);
  plane.plan_area_m2 = 0.5 * twice.z;
  plane.frame.normal = glm::normalize(twice);
  plane.frame.origin = p[0];
  plane.frame.along = glm::normalize(p[1] - p[0]);
  plane.frame.up = glm::cross(plane.frame.normal, plane.frame.along);
  const glm::dvec3 n = plane.frame.normal;
  plane.pitch = units::Pitch::from_tangent(std::hypot(n.x, n.y) / n.z);
  plane.wall_start_u_m = face.wall_start_u_m;
  plane.wall_end_u_m = face.wall_end_u_m;
  plane.wall_line_v_m = face.wall_line_v_m;
  return plane;
}

inline surface::LineKind kind_of(const surface::Surface& surface, const surface::Line& line) {
  const glm::dvec3 a = surface.nodes[line.from];
  const glm::dvec3 b = surface.nodes[line.to];
  const bool is_level = std::abs(a.z - b.z) < 1e-9;
  if (line.right.of != surface::Side::Of::plane) {
    if (!is_level) {
      return surface::LineKind::rake;
    }
    const surface::Frame& frame = surface.planes[PlaneId(line.left.index)].frame;
    return std::abs(frame.uv(a).y) < 1e-9 ? surface::LineKind::eave : surface::LineKind::shed_top;
  }
  return is_level ? surface::LineKind::ridge : surface::LineKind::hip;
}

/// Joins faces that share two corners.
inline surface::Surface joined(std::vector<glm::dvec3> nodes, const std::vector<Face>& faces) {
  surface::Surface surface;
  for (const glm::dvec3 node : nodes) {
    surface.nodes.push_back(node);
  }
  std::map<std::pair<std::size_t, std::size_t>, LineId> lines;
  for (const Face& face : faces) {
    surface::Plane plane = plane_of(surface, face);
    const auto index = static_cast<std::uint32_t>(surface.planes.size());
    plane.loops.emplace_back();
    for (std::size_t i = 0; i < face.corners.size(); ++i) {
      const std::size_t a = face.corners[i];
      const std::size_t b = face.corners[(i + 1) % face.corners.size()];
      const auto known = lines.find({b, a});
      if (known != lines.end()) {
        surface.lines[known->second].right = {surface::Side::Of::plane, index};
        plane.loops.back().push_back({known->second, false});
        continue;
      }
      surface::Line line;
      line.from = NodeId(a);
      line.to = NodeId(b);
      line.left = {surface::Side::Of::plane, index};
      line.length_m = glm::length(nodes[b] - nodes[a]);
      line.plan_length_m = std::hypot(nodes[b].x - nodes[a].x, nodes[b].y - nodes[a].y);
      lines[{a, b}] = surface.lines.push_back(line);
      plane.loops.back().push_back({lines[{a, b}], true});
    }
    surface.planes.push_back(std::move(plane));
  }
  for (const LineId id : surface.lines.ids()) {
    surface::Line& line = surface.lines[id];
    line.kind = kind_of(surface, line);
    line.id = surface.planes[PlaneId(line.left.index)].id + "|" +
              (line.right.of == surface::Side::Of::plane
                   ? surface.planes[PlaneId(line.right.index)].id
                   : surface::word(line.kind) + std::string("#") + std::to_string(id.value));
  }
  return surface;
}

inline model::Part rectangle(double length, double width, units::Pitch pitch, double eave_overhang,
                             double rake_overhang, bool is_gable) {
  model::Part part;
  part.id = "main";
  part.outline = {{0, 0}, {length * ft, 0}, {length * ft, width * ft}, {0, width * ft}};
  for (int i = 0; i < 4; ++i) {
    model::Edge edge;
    edge.kind = is_gable && i % 2 == 1 ? model::EdgeKind::gable : model::EdgeKind::eave;
    edge.pitch = pitch;
    edge.overhang_m = ft * (is_gable && i % 2 == 1 ? rake_overhang : eave_overhang);
    part.edges.push_back(edge);
  }
  return part;
}

}  // namespace detail

/// Ridge along x over walls length x width from (0, 0), plate at 8 ft, no heel.
inline House gable(double length, double width, double pitch_in_12, double eave_overhang = 0.0,
                   double rake_overhang = 0.0) {
  const double t = pitch_in_12 / 12.0;
  const units::Pitch pitch = units::Pitch::from_tangent(t);
  House house;
  house.model.parts = {detail::rectangle(length, width, pitch, eave_overhang, rake_overhang, true)};
  const double x0 = -rake_overhang * ft;
  const double x1 = (length + rake_overhang) * ft;
  const double y0 = -eave_overhang * ft;
  const double y1 = (width + eave_overhang) * ft;
  const double low = (8.0 - eave_overhang * t) * ft;
  const double high = (8.0 + 0.5 * width * t) * ft;
  const double middle = 0.5 * width * ft;
  const double wall_v = eave_overhang * ft * pitch.slope_factor();
  const double end_u = (rake_overhang + length) * ft;
  house.surface = detail::joined({{x0, y0, low},
                                  {x1, y0, low},
                                  {x1, middle, high},
                                  {x0, middle, high},
                                  {x1, y1, low},
                                  {x0, y1, low}},
                                 {{0, {0, 1, 2, 3}, rake_overhang * ft, end_u, wall_v},
                                  {2, {4, 5, 3, 2}, rake_overhang * ft, end_u, wall_v}});
  house.surface.wall_outlines = {{house.model.parts[0].outline}};
  return house;
}

/// Hip roof over walls length x width (length at least width), plate at 8 ft, no heel.
inline House hip(double length, double width, double pitch_in_12, double overhang = 0.0) {
  const double t = pitch_in_12 / 12.0;
  const units::Pitch pitch = units::Pitch::from_tangent(t);
  House house;
  house.model.parts = {detail::rectangle(length, width, pitch, overhang, 0.0, false)};
  const double o = overhang * ft;
  const double x1 = length * ft;
  const double y1 = width * ft;
  const double low = (8.0 - overhang * t) * ft;
  const double high = (8.0 + 0.5 * width * t) * ft;
  const double half = 0.5 * width * ft;
  const double wall_v = o * pitch.slope_factor();
  std::vector<glm::dvec3> nodes{{-o, -o, low},     {x1 + o, -o, low},  {x1 + o, y1 + o, low},
                                {-o, y1 + o, low}, {half, half, high}, {x1 - half, half, high}};
  if (length == width) {
    nodes.pop_back();
    house.surface = detail::joined(nodes, {{0, {0, 1, 4}, o, o + x1, wall_v},
                                           {1, {1, 2, 4}, o, o + y1, wall_v},
                                           {2, {2, 3, 4}, o, o + x1, wall_v},
                                           {3, {3, 0, 4}, o, o + y1, wall_v}});
  } else {
    house.surface = detail::joined(nodes, {{0, {0, 1, 5, 4}, o, o + x1, wall_v},
                                           {1, {1, 2, 5}, o, o + y1, wall_v},
                                           {2, {2, 3, 4, 5}, o, o + x1, wall_v},
                                           {3, {3, 0, 4}, o, o + y1, wall_v}});
  }
  house.surface.wall_outlines = {{house.model.parts[0].outline}};
  return house;
}

/// An over-deck intake of 10 in2/ft in 4 ft sections and a ridge vent of 12 in2/ft, with the
/// slots of common practice, and a box vent of 50 in2.
inline model::Catalogue catalogue() {
  model::Catalogue all;
  model::Product intake;
  intake.id = "over-deck-10";
  intake.kind = model::VentKind::over_deck_intake;
  intake.free_area_per_length_m = 10.0 * in * in / ft;
  intake.length_m = 4.0 * ft;
  intake.depth_m = 15.0 * in;
  intake.pitch_min = units::Pitch::from_rise_run(3, 12);
  intake.pitch_max = units::Pitch::from_rise_run(16, 12);
  intake.positions = {model::Position::eave, model::Position::upslope};
  intake.slot.lower_line_m = 6.5 * in;
  intake.slot.width_m = 1.5 * in;
  intake.slot.hold_back_m = 6.0 * in;
  intake.slot.hold_back_hip_m = 12.0 * in;
  intake.least_piece_m = 12.0 * in;
  intake.nails_each = 6;
  all.products[intake.id] = intake;
  model::Product ridge;
  ridge.id = "ridge-12";
  ridge.kind = model::VentKind::ridge_vent;
  ridge.free_area_per_length_m = 12.0 * in * in / ft;
  ridge.length_m = 4.0 * ft;
  ridge.pitch_min = units::Pitch::from_rise_run(3, 12);
  ridge.pitch_max = units::Pitch::from_rise_run(16, 12);
  ridge.slot.width_m = 0.75 * in;
  ridge.slot.hold_back_m = 6.0 * in;
  ridge.slot.hold_back_hip_m = 12.0 * in;
  ridge.least_piece_m = 12.0 * in;
  ridge.nails_each = 8;
  all.products[ridge.id] = ridge;
  model::Product box;
  box.id = "box-50";
  box.kind = model::VentKind::box_vent;
  box.free_area_each_m2 = 50.0 * in * in;
  box.pitch_min = units::Pitch::from_rise_run(3, 12);
  box.pitch_max = units::Pitch::from_rise_run(12, 12);
  all.products[box.id] = box;
  return all;
}

inline model::IntakeRun whole_eave(const std::string& id, const std::string& plane) {
  model::IntakeRun run;
  run.id = id;
  run.product = "over-deck-10";
  run.plane = plane;
  run.whole = true;
  return run;
}

inline model::ExhaustVent whole_ridge(const std::string& id, const std::string& line) {
  model::ExhaustVent vent;
  vent.id = id;
  vent.product = "ridge-12";
  vent.line = line;
  vent.whole = true;
  return vent;
}

}  // namespace small_roofs
