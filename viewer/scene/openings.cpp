#include "scene/pieces.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>

namespace ridgeward::scene {
namespace {

constexpr double cover_m = 0.1;        // of the vent above its slot, for the eye only
constexpr double ridge_vent_m = 0.17;  // down each side of the line, for the eye only
constexpr double box_m = 0.36;         // side of a vent set on a plane, for the eye only

Face piece_of_plane(const surface::Surface& surface, PlaneId id, FaceRole role, Layer layer,
                    const std::vector<HalfPlane>& within) {
  const surface::Plane& plane = surface.planes[id];
  Face face;
  face.role = role;
  face.layer = layer;
  face.normal = plane.frame.normal;
  face.plane = id;
  face.triangles =
      lifted(plane.frame, clip(flat_triangles(surface, plane.frame, plane.loops), within));
  return face;
}

/// The strip of a plane between two heights and two places along the eave.
std::vector<HalfPlane> strip(glm::dvec2 low, glm::dvec2 high) {
  return {{{1.0, 0.0}, low.x}, {{-1.0, 0.0}, -high.x}, {{0.0, 1.0}, low.y}, {{0.0, -1.0}, -high.y}};
}

/// Takes a rectangle in plane coordinates out of a roof face.
void cut_hole(const surface::Frame& frame, glm::dvec2 low, glm::dvec2 high, Face& face) {
  std::vector<std::array<glm::dvec2, 3>> kept;
  std::vector<std::array<glm::dvec2, 3>> near;
  for (const Triangle& t : face.triangles) {
    const std::array<glm::dvec2, 3> flat{frame.uv(t[0]), frame.uv(t[1]), frame.uv(t[2])};
    const glm::dvec2 least = glm::min(flat[0], glm::min(flat[1], flat[2]));
    const glm::dvec2 most = glm::max(flat[0], glm::max(flat[1], flat[2]));
    const bool touches = least.x < high.x && most.x > low.x && least.y < high.y && most.y > low.y;
    (touches ? near : kept).push_back(flat);
  }
  for (const std::vector<HalfPlane>& beside :
       {std::vector<HalfPlane>{{{0.0, -1.0}, -low.y}},
        {{{0.0, 1.0}, high.y}},
        {{{-1.0, 0.0}, -low.x}, {{0.0, 1.0}, low.y}, {{0.0, -1.0}, -high.y}},
        {{{1.0, 0.0}, high.x}, {{0.0, 1.0}, low.y}, {{0.0, -1.0}, -high.y}}}) {
    const auto pieces = clip(near, beside);
    kept.insert(kept.end(), pieces.begin(), pieces.end());
  }
  face.triangles = lifted(frame, kept);
}

/// The slot as it is cut: a hole through the deck, dark at its sides and where the air goes in.
void cut_deck(const Assessment& assessment, const vents::Slot& slot, Scene& scene) {
  const surface::Plane& plane = assessment.surface.planes[slot.plane];
  const glm::dvec2 low(slot.start_m, slot.lower_v_m());
  const glm::dvec2 high(slot.end_m, slot.lower_v_m() + slot.width_m);
  for (Face& face : scene.faces) {
    if (face.role == FaceRole::roof && face.plane == slot.plane) {
      cut_hole(plane.frame, low, high, face);
    }
  }
  const glm::dvec3 down = -deck_of(assessment, plane.part) * plane.frame.normal;
  const std::array<glm::dvec3, 4> rim{plane.frame.at(low), plane.frame.at({high.x, low.y}),
                                      plane.frame.at(high), plane.frame.at({low.x, high.y})};
  Face face;
  face.role = FaceRole::slot;
  face.layer = Layer::slots;
  face.normal = plane.frame.normal;
  face.plane = slot.plane;
  for (std::size_t i = 0; i < 4; ++i) {
    const glm::dvec3 a = rim[i];
    const glm::dvec3 b = rim[(i + 1) % 4];
    face.triangles.push_back({a, b, b + down});
    face.triangles.push_back({a, b + down, a + down});
  }
  face.triangles.push_back({rim[0] + down, rim[1] + down, rim[2] + down});
  face.triangles.push_back({rim[0] + down, rim[2] + down, rim[3] + down});
  scene.faces.push_back(std::move(face));
}

void add_slot(const Assessment& assessment, const vents::Slot& slot, Scene& scene) {
  const surface::Surface& surface = assessment.surface;
  const double upper = slot.lower_v_m() + slot.width_m;
  const double middle = (slot.start_m + slot.end_m) / 2;
  const double reach = std::max(slot.vent_length_m, slot.end_m - slot.start_m) / 2;
  const double foot =
      slot.position == model::Position::eave ? slot.drip_v_m : slot.lower_v_m() - cover_m;
  scene.faces.push_back(
      piece_of_plane(surface, slot.plane, FaceRole::intake_vent, Layer::slots,
                     strip({middle - reach, foot}, {middle + reach, upper + cover_m})));
  cut_deck(assessment, slot, scene);
  // The slot is an inch or two wide: the stroke keeps it in sight from afar.
  const surface::Frame& frame = surface.planes[slot.plane].frame;
  const double centre = (slot.lower_v_m() + upper) / 2;
  scene.strokes.push_back({StrokeRole::slot,
                           Layer::slots,
                           frame.at({slot.start_m, centre}),
                           frame.at({slot.end_m, centre}),
                           LineId(),
                           MemberId(),
                           {slot.plane, PlaneId()}});
}

/// The strip of `plane` beside the vent's line.
void add_side(const surface::Surface& surface, const vents::Exhaust& exhaust, PlaneId id,
              Scene& scene) {
  const surface::Frame& frame = surface.planes[id].frame;
  const auto uv = [&](glm::dvec3 p) {
    return glm::dvec2(glm::dot(frame.along, p - frame.origin),
                      glm::dot(frame.up, p - frame.origin));
  };
  const glm::dvec2 a = uv(exhaust.from);
  const glm::dvec2 b = uv(exhaust.to);
  const double length = glm::length(b - a);
  if (length <= 0) {
    return;
  }
  const glm::dvec2 along = (b - a) / length;
  glm::dvec2 inward(-along.y, along.x);
  double weight = 0.0;
  for (const auto& t : flat_triangles(surface, frame, surface.planes[id].loops)) {
    weight += glm::dot(inward, t[0] + t[1] + t[2] - 3.0 * a);
  }
  inward = weight < 0 ? -inward : inward;
  const double at = glm::dot(inward, a);
  scene.faces.push_back(piece_of_plane(surface, id, FaceRole::exhaust_vent, Layer::exhaust,
                                       {{inward, at},
                                        {-inward, -at - ridge_vent_m},
                                        {along, glm::dot(along, a)},
                                        {-along, -glm::dot(along, b)}}));
}

void add_exhaust(const Assessment& assessment, const vents::Exhaust& exhaust, Scene& scene) {
  const surface::Surface& surface = assessment.surface;
  if (!exhaust.line.is_none()) {
    const surface::Line& line = surface.lines[exhaust.line];
    for (const surface::Side& side : {line.left, line.right}) {
      if (side.of == surface::Side::Of::plane) {
        add_side(surface, exhaust, PlaneId(side.index), scene);
      }
    }
    return;
  }
  if (exhaust.plane.is_none()) {
    return;
  }
  const surface::Frame& frame = surface.planes[exhaust.plane].frame;
  const glm::dvec3 x = frame.along * (box_m / 2);
  const glm::dvec3 y = frame.up * (box_m / 2);
  Face like;
  like.role = FaceRole::exhaust_vent;
  like.layer = Layer::exhaust;
  const glm::dvec3 c = exhaust.from;
  add_prism({c - x - y, c + x - y, c + x + y, c - x + y}, frame.normal * (box_m / 2), like, scene);
}

}  // namespace

void add_vents(const Assessment& assessment, Scene& scene) {
  for (const vents::Slot& slot : assessment.vents.slots) {
    add_slot(assessment, slot, scene);
  }
  for (const vents::Exhaust& exhaust : assessment.vents.exhausts) {
    add_exhaust(assessment, exhaust, scene);
  }
}

}  // namespace ridgeward::scene
