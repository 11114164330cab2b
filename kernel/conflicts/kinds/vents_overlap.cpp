#include "base/polygon.hpp"
#include "conflicts/check.hpp"
#include "conflicts/words.hpp"

#include <glm/geometric.hpp>

#include <algorithm>

namespace ridgeward::conflicts {

namespace {

constexpr double least_size_m = 0.001;

/// What one vent takes of a face: its body with the hole beneath.
struct Body {
  std::string face;   ///< "plane main/0", "line main/0|main/2": bodies of two faces never meet
  std::string owner;  ///< "run south", "vent top", as in the model
  SlotId slot;
  ExhaustId exhaust;
  polygon::Loop outline;  ///< convex, counter-clockwise, in the face's own coordinates
};

std::vector<glm::dvec2> rectangle(glm::dvec2 low, glm::dvec2 high) {
  return {low, {high.x, low.y}, high, {low.x, high.y}};
}

/// The strip over a slot, its ends cut along hips and valleys; a vent in a soffit is its own body.
Body body_of(const Roof& roof, SlotId id) {
  const vents::Slot& slot = roof.vents.slots[id];
  const std::string& plane = roof.surface.planes[slot.plane].id;
  Body body{"plane " + plane, "run " + slot.run, id, {}, band_of(slot)};
  if (model::is_in_soffit(slot.kind)) {
    body.face = "soffit of " + plane;
    return body;
  }
  const model::Product* product = product_of(roof, slot.product);
  if (product == nullptr || product->depth_m <= slot.width_m) {
    return body;
  }
  const double low = slot.drip_v_m + slot.vent_low_m;
  body.outline = rectangle({slot.vent_from_m, low}, {slot.vent_to_m, low + product->depth_m});
  // At a valley the upper edge is the longer one, at a hip the lower one.
  if (slot.left_mitre) {
    body.outline[slot.left_mitre->is_valley ? 0 : 3].x += slot.left_mitre->offset_m;
  }
  if (slot.right_mitre) {
    body.outline[slot.right_mitre->is_valley ? 1 : 2].x -= slot.right_mitre->offset_m;
  }
  return body;
}

/// Half of a vent along a line, on one of the planes beside it.
Body half_on(const Roof& roof, ExhaustId id, PlaneId plane_id, double depth_m) {
  const vents::Exhaust& exhaust = roof.vents.exhausts[id];
  const surface::Plane& plane = roof.surface.planes[plane_id];
  glm::dvec2 from = plane.frame.uv(exhaust.from);
  glm::dvec2 to = plane.frame.uv(exhaust.to);
  // Borders have their plane on the left.
  for (const surface::Loop& loop : plane.loops) {
    for (const surface::LoopStep& step : loop) {
      const surface::Line& line = roof.surface.lines[step.line];
      const glm::dvec2 way = plane.frame.uv(roof.surface.nodes[line.to]) -
                             plane.frame.uv(roof.surface.nodes[line.from]);
      if (step.line == exhaust.line && (glm::dot(way, to - from) < 0.0) == step.forward) {
        std::swap(from, to);
      }
    }
  }
  const glm::dvec2 along = glm::normalize(to - from);
  const glm::dvec2 in = 0.5 * depth_m * glm::dvec2{-along.y, along.x};
  return {"plane " + plane.id, "vent " + exhaust.vent, {}, id, {from, to, to + in, from + in}};
}

/// Bodies of an exhaust: on a plane or a wall one, along a line that along it and its two halves.
void add_bodies(const Roof& roof, ExhaustId id, std::vector<Body>& all) {
  const vents::Exhaust& exhaust = roof.vents.exhausts[id];
  const model::Product* product = product_of(roof, exhaust.product);
  if (product == nullptr) {
    return;
  }
  const std::string owner = "vent " + exhaust.vent;
  if (!exhaust.line.is_none()) {
    const surface::Line& line = roof.surface.lines[exhaust.line];
    const glm::dvec3 start = roof.surface.nodes[line.from];
    const glm::dvec3 way = (roof.surface.nodes[line.to] - start) / line.length_m;
    const double a = glm::dot(exhaust.from - start, way);
    const double b = glm::dot(exhaust.to - start, way);
    const double depth_m = std::max(product->depth_m, 2.0 * product->slot.width_m);
    all.push_back(
        {"line " + line.id,
         owner,
         {},
         id,
         rectangle({std::min(a, b), 0.0}, {std::max(a, b), std::max(depth_m, least_size_m)})});
    for (const PlaneId plane : {line.left_plane(), line.right_plane()}) {
      if (!plane.is_none() && depth_m > 0.0) {
        all.push_back(half_on(roof, id, plane, depth_m));
      }
    }
    return;
  }
  // Of a product without sizes its place alone is known: two can't share that.
  const glm::dvec2 half{0.5 * std::max({product->length_m, exhaust.hole_m, least_size_m}),
                        0.5 * std::max({product->depth_m, exhaust.hole_m, least_size_m})};
  const auto own =
      std::find_if(roof.model.exhaust.begin(), roof.model.exhaust.end(),
                   [&](const model::ExhaustVent& vent) { return vent.id == exhaust.vent; });
  if (!exhaust.plane.is_none()) {
    all.push_back({"plane " + roof.surface.planes[exhaust.plane].id,
                   owner,
                   {},
                   id,
                   rectangle(exhaust.at_uv - half, exhaust.at_uv + half)});
  } else if (own != roof.model.exhaust.end()) {
    all.push_back(
        {"gable wall " + exhaust.wall, owner, {}, id, rectangle(own->at - half, own->at + half)});
  }
}

/// What two bodies have in common; empty where they only touch.
polygon::Box common(const Body& one, const Body& other) {
  const polygon::Loop both = polygon::overlap(one.outline, other.outline);
  const polygon::Box box = polygon::box_of(both);
  const bool is_none = box.is_empty() || box.high.x - box.low.x <= tolerance_m ||
                       box.high.y - box.low.y <= tolerance_m;
  return is_none ? polygon::Box{} : box;
}

/// Vents along one line are held against each other along it, not on its planes once more. A hip
/// vent goes over the cut ends of the strips along the eave as the caps of a hip do; slots near the
/// hip are told by a kind of their own.
bool may_meet(const Roof& roof, const Body& one, const Body& other) {
  if (one.face != other.face || one.owner == other.owner) {
    return false;
  }
  const auto has_line = [&](const Body& body) {
    return !body.exhaust.is_none() && !roof.vents.exhausts[body.exhaust].line.is_none();
  };
  if (has_line(one) && has_line(other)) {
    return one.face.compare(0, 5, "line ") == 0;
  }
  const auto is_hip = [&](const Body& body) {
    return has_line(body) && roof.vents.exhausts[body.exhaust].kind == model::VentKind::hip_vent;
  };
  return !(is_hip(one) && !other.slot.is_none()) && !(is_hip(other) && !one.slot.is_none());
}

/// How to part them: runs and vents along lines by their ends, others by moving the one that can
/// be.
std::string remedy(const Roof& roof, const Body& one, const Body& other, glm::dvec2 size) {
  const auto is_movable = [&](const Body& body) {
    return !body.exhaust.is_none() && roof.vents.exhausts[body.exhaust].line.is_none();
  };
  if (is_movable(one) || is_movable(other)) {
    const Body& moved = is_movable(other) ? other : one;
    const bool is_aside = size.x <= size.y;
    return "Move " + moved.owner + " by " + length_up_words(roof, is_aside ? size.x : size.y) +
           (is_aside ? " to the side" : " up or down") + ", or leave it out.";
  }
  if (one.slot.is_none() != other.slot.is_none()) {
    return "Use vents that are less deep, together by " + length_up_words(roof, size.y) +
           ", or leave one of them out.";
  }
  return "Leave one of them out, or end one where the other begins.";
}

Finding told(const Roof& roof, const Body& one, const Body& other, const polygon::Box& box) {
  const Body& at = one.slot.is_none() && !other.slot.is_none() ? other : one;
  Finding finding = at.slot.is_none()
                        ? about_exhaust(roof, at.exhaust, "vents_overlap", Severity::error)
                        : about_slot(roof, at.slot, "vents_overlap", Severity::error);
  finding.exhaust = one.exhaust.is_none() ? other.exhaust : one.exhaust;
  const bool is_line = one.face.compare(0, 5, "line ") == 0;
  const glm::dvec2 size = box.high - box.low;
  finding.measured =
      length_words(roof, size.x) +
      (is_line ? " of the line"
               : " by " + length_words(roof, size.y) + ", from " + length_words(roof, box.low.x) +
                     " to " + length_words(roof, box.high.x) + " along it") +
      " under both";
  finding.needed = "each its own place; end to end is enough";
  std::string first = one.owner;
  first.front() = one.slot.is_none() ? 'V' : 'R';
  finding.message = first + " and " + other.owner + " lie over each other on " + one.face +
                    ". They can't both be built; the areas here count both.";
  finding.remedy = remedy(roof, one, other, size);
  return finding;
}

/// Of vents that all lie over one another only those with the first are told: once those are apart,
/// what is left of the others shows.
std::vector<Finding> find_vents_overlap(const Roof& roof) {
  std::vector<Body> all;
  if (roof.are_choices) {
    return {};
  }
  for (const SlotId id : roof.vents.slots.ids()) {
    all.push_back(body_of(roof, id));
  }
  for (const ExhaustId id : roof.vents.exhausts.ids()) {
    add_bodies(roof, id, all);
  }
  std::vector<Finding> found;
  std::vector<std::pair<std::string, std::string>> pairs;
  const auto is_told = [&](const std::string& one, const std::string& other) {
    return std::find(pairs.begin(), pairs.end(), std::pair(one, other)) != pairs.end();
  };
  for (std::size_t i = 0; i < all.size(); ++i) {
    for (std::size_t k = i + 1; k < all.size(); ++k) {
      const polygon::Box box =
          may_meet(roof, all[i], all[k]) ? common(all[i], all[k]) : polygon::Box{};
      if (box.is_empty() || is_told(all[i].owner, all[k].owner)) {
        continue;
      }
      const bool is_over_first = std::any_of(pairs.begin(), pairs.end(), [&](const auto& pair) {
        return pair.second == all[i].owner && is_told(pair.first, all[k].owner);
      });
      if (!is_over_first) {
        pairs.emplace_back(all[i].owner, all[k].owner);
        found.push_back(told(roof, all[i], all[k], box));
      }
    }
  }
  return found;
}

}  // namespace

extern const Check vents_overlap_kind;
const Check vents_overlap_kind{
    "vents_overlap", "two vents, or their slots or holes, over the same place", find_vents_overlap};

}  // namespace ridgeward::conflicts
