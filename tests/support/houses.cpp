#include "support/houses.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <utility>

namespace ridgeward::test_support {
namespace {

using surface::LineKind;

glm::dvec3 newell(const std::vector<glm::dvec3>& loop) {
  glm::dvec3 sum(0.0);
  for (std::size_t i = 0; i < loop.size(); ++i) {
    sum += glm::cross(loop[i] - loop[0], loop[(i + 1) % loop.size()] - loop[0]);
  }
  return sum / 2.0;
}

class Builder {
 public:
  void add(const HandPlane& hand) {
    surface::Plane plane;
    plane.id = hand.id;
    glm::dvec3 area(0.0);
    for (const auto& loop : hand.loops) {
      area += newell(loop);
    }
    plane.area_m2 = glm::length(area);
    plane.plan_area_m2 = area.z;
    plane.frame.normal = glm::normalize(area);
    plane.frame.origin = hand.loops[0][0];
    plane.frame.along = glm::normalize(hand.loops[0][1] - hand.loops[0][0]);
    plane.frame.up = glm::cross(plane.frame.normal, plane.frame.along);
    plane.pitch = units::Pitch::from_tangent(std::hypot(area.x, area.y) / area.z);
    const PlaneId id = surface_.planes.push_back(plane);
    for (const auto& loop : hand.loops) {
      surface::Loop steps;
      for (std::size_t i = 0; i < loop.size(); ++i) {
        steps.push_back(step(node(loop[i]), node(loop[(i + 1) % loop.size()]), id));
      }
      surface_.planes[id].loops.push_back(std::move(steps));
    }
  }

  surface::Surface finished() {
    for (surface::Line& line : surface_.lines) {
      const glm::dvec3 way = surface_.nodes[line.to] - surface_.nodes[line.from];
      line.length_m = glm::length(way);
      line.plan_length_m = std::hypot(way.x, way.y);
      line.kind = kind_of(line, way);
      line.id = id_of(line);
    }
    return std::move(surface_);
  }

 private:
  NodeId node(glm::dvec3 p) {
    for (const NodeId id : surface_.nodes.ids()) {
      if (glm::length(surface_.nodes[id] - p) < 1e-9) {
        return id;
      }
    }
    return surface_.nodes.push_back(p);
  }

  surface::LoopStep step(NodeId a, NodeId b, PlaneId plane) {
    const surface::Side side{surface::Side::Of::plane, plane.value};
    for (const LineId id : surface_.lines.ids()) {
      surface::Line& line = surface_.lines[id];
      if (line.from == b && line.to == a) {
        line.right = side;
        return {id, false};
      }
    }
    surface::Line line;
    line.from = a;
    line.to = b;
    line.left = side;
    return {surface_.lines.push_back(line), true};
  }

  LineKind kind_of(const surface::Line& line, glm::dvec3 way) const {
    const bool is_level = std::abs(way.z) < 1e-9;
    if (line.right.of != surface::Side::Of::plane) {
      return is_level ? LineKind::eave : LineKind::rake;
    }
    const glm::dvec3& left = surface_.planes[PlaneId(line.left.index)].frame.normal;
    const glm::dvec3& right = surface_.planes[PlaneId(line.right.index)].frame.normal;
    const bool is_convex = glm::dot(glm::cross(left, right), way) > 0;
    if (is_level) {
      return LineKind::ridge;
    }
    return is_convex ? LineKind::hip : LineKind::valley;
  }

  std::string id_of(const surface::Line& line) {
    std::string id = surface_.planes[PlaneId(line.left.index)].id;
    id += "|" + (line.right.of == surface::Side::Of::plane
                     ? surface_.planes[PlaneId(line.right.index)].id
                     : std::string(surface::word(line.kind)));
    const int count = ++seen_[id];
    return count == 1 ? id : id + "#" + std::to_string(count);
  }

  surface::Surface surface_;
  std::map<std::string, int> seen_;
};

/// Where the line u = const runs inside a plane's loops: pairs of v.
std::vector<glm::dvec2> inside(const surface::Surface& surface, const surface::Plane& plane,
                               double u) {
  std::vector<double> crossings;
  for (const surface::Loop& loop : plane.loops) {
    for (const surface::LoopStep& step : loop) {
      const surface::Line& line = surface.lines[step.line];
      const auto uv = [&](NodeId id) {
        const glm::dvec3 offset = surface.nodes[id] - plane.frame.origin;
        return glm::dvec2(glm::dot(plane.frame.along, offset), glm::dot(plane.frame.up, offset));
      };
      const glm::dvec2 a = uv(line.from);
      const glm::dvec2 b = uv(line.to);
      if ((a.x > u) != (b.x > u)) {
        crossings.push_back(a.y + (u - a.x) / (b.x - a.x) * (b.y - a.y));
      }
    }
  }
  std::sort(crossings.begin(), crossings.end());
  std::vector<glm::dvec2> spans;
  for (std::size_t i = 0; i + 1 < crossings.size(); i += 2) {
    spans.emplace_back(crossings[i], crossings[i + 1]);
  }
  return spans;
}

constexpr double spacing_m = 0.4064;
constexpr double thickness_m = 0.038;

void add_rafters(Assessment& house, PlaneId id, double length_m) {
  const surface::Plane& plane = house.surface.planes[id];
  for (double u = 0.3; u < length_m; u += spacing_m) {
    for (const glm::dvec2 span : inside(house.surface, plane, u)) {
      framing::Member member;
      member.id = plane.id + "/r" + std::to_string(house.framing.members.size());
      member.plane = id;
      member.at_m = u;
      member.from = plane.frame.at({u, span.x});
      member.to = plane.frame.at({u, span.y});
      member.length_m = span.y - span.x;
      member.thickness_m = thickness_m;
      member.depth_m = 0.184;
      house.framing.members.push_back(member);
    }
    const double left = u + thickness_m / 2;
    const double right = u + spacing_m - thickness_m / 2;
    const auto a = inside(house.surface, plane, left);
    const auto b = inside(house.surface, plane, right);
    if (a.size() != 1 || b.size() != 1) {
      continue;
    }
    framing::Bay bay;
    bay.id = plane.id + "/b" + std::to_string(house.framing.bays.size());
    bay.plane = id;
    bay.from_u_m = left;
    bay.to_u_m = right;
    bay.clear_width_m = right - left;
    bay.outline = {{left, a[0].x}, {right, b[0].x}, {right, b[0].y}, {left, a[0].y}};
    house.framing.bays.push_back(bay);
    house.vents.bays.push_back({true, "to the ridge vent", {}, {}});
  }
}

void add_slot(Assessment& house, const char* plane_id, double start_m, double end_m) {
  vents::Slot slot;
  slot.id = "run/" + std::to_string(house.vents.slots.size() + 1);
  slot.plane = house.surface.plane_named(plane_id);
  slot.lower_line_m = 6.5 * units::inch_m;
  slot.width_m = 1.5 * units::inch_m;
  slot.start_m = start_m;
  slot.end_m = end_m;
  const surface::Frame& frame = house.surface.planes[slot.plane].frame;
  slot.from = frame.at({start_m, slot.lower_line_m});
  slot.to = frame.at({end_m, slot.lower_line_m});
  slot.compartment = CompartmentId(std::size_t{0});
  slot.vent_length_m = end_m - start_m + 0.3;
  for (const BayId id : house.framing.bays.ids()) {
    const framing::Bay& bay = house.framing.bays[id];
    if (bay.plane == slot.plane && bay.to_u_m > start_m && bay.from_u_m < end_m &&
        bay.outline[0].y < slot.lower_line_m) {
      vents::SlotBay& opened = slot.bays.emplace_back();
      opened.bay = id;
      opened.open_length_m = bay.clear_width_m;
      opened.share_m = spacing_m;
      opened.live = house.vents.bays[id].live;
    }
  }
  house.vents.slots.push_back(slot);
}

void add_exhaust(Assessment& house, const char* line_id) {
  vents::Exhaust exhaust;
  exhaust.id = "ridge";
  exhaust.line = house.surface.line_named(line_id);
  const surface::Line& line = house.surface.lines[exhaust.line];
  const glm::dvec3 from = house.surface.nodes[line.from];
  const glm::dvec3 to = house.surface.nodes[line.to];
  exhaust.from = from + 0.05 * (to - from);
  exhaust.to = to - 0.05 * (to - from);
  exhaust.length_m = 0.9 * line.length_m;
  house.vents.exhausts.push_back(exhaust);
}

void add_part(Assessment& house, std::vector<glm::dvec2> outline) {
  model::Part part;
  part.id = "main";
  part.plate_m = 2.7;
  part.outline = outline;
  house.model.parts.push_back(part);
  house.surface.wall_outlines.push_back({std::move(outline)});
}

void add_findings(Assessment& house) {
  conflicts::Finding finding;
  finding.severity = conflicts::Severity::error;
  finding.message = "The slot opens onto a bay that leads nowhere.";
  finding.remedy = "End the slot at the rafter before it.";
  finding.slot = SlotId(std::size_t{0});
  finding.at = house.vents.slots[finding.slot].from;
  house.findings.push_back(finding);
  finding.severity = conflicts::Severity::warning;
  finding.message = "The end piece is shorter than 12 in.";
  finding.at = house.vents.slots[finding.slot].to;
  house.findings.push_back(finding);
  finding.severity = conflicts::Severity::note;
  finding.message = "The slot crosses seven common rafters.";
  finding.slot = SlotId();
  finding.at = house.surface.planes[PlaneId(std::size_t{0})].frame.at({0.5, 3.0});
  house.findings.push_back(finding);
}

}  // namespace

surface::Surface surface_of(const std::vector<HandPlane>& planes) {
  Builder builder;
  for (const HandPlane& plane : planes) {
    builder.add(plane);
  }
  return builder.finished();
}

Assessment wing_house() {
  const double low = 2.7;
  const double ridge = low + 4.45 * 2 / 3;
  const double wing = low + 2.95 * 2 / 3;
  Assessment house;
  house.model.name = "Test house with a wing";
  house.model.site.north_deg = 20.0;
  house.code.name = "A code of this test";
  house.surface = surface_of({
      {"main/0",
       {{{-0.3, -0.45, low},
         {3.55, -0.45, low},
         {6.5, 2.5, wing},
         {9.45, -0.45, low},
         {12.3, -0.45, low},
         {12.3, 4.0, ridge},
         {-0.3, 4.0, ridge}}}},
      {"main/2", {{{12.3, 8.45, low}, {-0.3, 8.45, low}, {-0.3, 4.0, ridge}, {12.3, 4.0, ridge}}}},
      {"wing/1", {{{3.55, -0.45, low}, {3.55, -5.3, low}, {6.5, -5.3, wing}, {6.5, 2.5, wing}}}},
      {"wing/3", {{{9.45, -5.3, low}, {9.45, -0.45, low}, {6.5, 2.5, wing}, {6.5, -5.3, wing}}}},
  });
  add_part(house, {{0, 0}, {4, 0}, {4, -5}, {9, -5}, {9, 0}, {12, 0}, {12, 8}, {0, 8}});
  for (const PlaneId id : house.surface.planes.ids()) {
    add_rafters(house, id, 12.6);
  }
  house.vents.bays[BayId(std::size_t{1})] = {false, "ends at a wall", {}, {}};
  house.vents.bays[BayId(house.vents.bays.size() - 2)] = {false, "ends at a wall", {}, {}};
  add_slot(house, "main/0", 0.3, 3.6);
  add_slot(house, "main/0", 10.0, 12.3);
  add_slot(house, "main/2", 0.3, 12.3);
  add_exhaust(house, "main/0|main/2");
  add_exhaust(house, "wing/1|wing/3");
  attic::Compartment attic;
  attic.id = "attic";
  attic.outline = house.surface.wall_outlines[0];
  attic.floor_area_m2 = 121.0;
  attic.bottom_m = 2.7;
  house.attic.compartments.push_back(attic);
  house.tests.required.push_back({300.0, 121.0 / 300.0});
  house.vents.totals.push_back({0.24, 0.19});
  add_findings(house);
  return house;
}

Assessment hip_house() {
  const double low = 2.5;
  const double ridge = low + 3.0 / 2;
  Assessment house;
  house.model.name = "Hip";
  house.surface = surface_of({
      {"main/0", {{{0, 0, low}, {10, 0, low}, {7, 3, ridge}, {3, 3, ridge}}}},
      {"main/1", {{{10, 0, low}, {10, 6, low}, {7, 3, ridge}}}},
      {"main/2", {{{10, 6, low}, {0, 6, low}, {3, 3, ridge}, {7, 3, ridge}}}},
      {"main/3", {{{0, 6, low}, {0, 0, low}, {3, 3, ridge}}}},
  });
  add_part(house, {{0.4, 0.4}, {9.6, 0.4}, {9.6, 5.6}, {0.4, 5.6}});
  return house;
}

}  // namespace ridgeward::test_support
