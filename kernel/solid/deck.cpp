// The deck, plane by plane, as mitred sheets.
#include "base/polygon.hpp"
#include "base/regions.hpp"
#include "solid/bodies.hpp"
#include "solid/sheet.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <optional>

namespace ridgeward::solid {

namespace {

/// Corners found by cutting agree with the border's own within this.
constexpr double near_m = 1e-6;
/// A mitre that leans further over is cut square.
constexpr double most_lean = 10.0;
/// A rest that is smaller than a square millimetre is none.
constexpr double least_m2 = 1e-6;

class DeckMaker {
 public:
  DeckMaker(const model::RoofModel& model, const surface::Surface& surface,
            const vents::Vents* slots)
      : model_(model), surface_(surface), slots_(slots) {}

  Result<Bodies> run();

 private:
  double deck_m(PlaneId id) const { return model_.parts[surface_.planes[id].part].deck_m; }
  double mitre(PlaneId own, PlaneId other, const glm::dvec3& inward) const;
  double lean(PlaneId own, const surface::LoopStep& step) const;
  std::vector<SheetLoop> border_of(PlaneId id) const;
  polygon::Loops cuts_in(PlaneId id) const;
  Faults add(PlaneId id, Bodies& bodies) const;

  const model::RoofModel& model_;
  const surface::Surface& surface_;
  const vents::Vents* slots_;
};

/// How far the meeting line of both undersides lies inward of the line, for each unit of the own
/// thickness.
double DeckMaker::mitre(PlaneId own, PlaneId other, const glm::dvec3& inward) const {
  const glm::dvec3& n = surface_.planes[own].frame.normal;
  const glm::dvec3& m = surface_.planes[other].frame.normal;
  const double cosine = glm::dot(n, m);
  const double sine2 = 1.0 - cosine * cosine;
  if (sine2 < 1e-12) {
    return HUGE_VAL;
  }
  // The point a n + b m that lies both thicknesses in: n.(a n + b m) = -t, m.(a n + b m) = -s.
  const double b = (cosine * deck_m(own) - deck_m(other)) / sine2;
  return b * glm::dot(inward, m) / deck_m(own);
}

double DeckMaker::lean(PlaneId own, const surface::LoopStep& step) const {
  const surface::Line& line = surface_.lines[step.line];
  const glm::dvec3 way = surface_.nodes[line.to] - surface_.nodes[line.from];
  const glm::dvec3 along = (step.forward ? way : -way) / glm::length(way);
  const glm::dvec3 normal = surface_.planes[own].frame.normal;
  const glm::dvec3 inward = glm::cross(normal, along);
  const PlaneId other = step.forward ? line.right_plane() : line.left_plane();
  if (!other.is_none()) {
    const double lean = mitre(own, other, inward);
    const double theirs =
        mitre(other, own, -glm::cross(surface_.planes[other].frame.normal, along));
    return std::abs(lean) > most_lean || std::abs(theirs) > most_lean ? 0.0 : lean;
  }
  const bool is_at_wall = line.kind == surface::LineKind::headwall ||
                          line.kind == surface::LineKind::sidewall ||
                          line.kind == surface::LineKind::step_wall;
  return is_at_wall ? -inward.z / normal.z : 0.0;
}

std::vector<SheetLoop> DeckMaker::border_of(PlaneId id) const {
  const surface::Plane& plane = surface_.planes[id];
  std::vector<SheetLoop> loops;
  for (const surface::Loop& loop : plane.loops) {
    const std::vector<glm::dvec2> corners = surface::corners_uv(surface_, plane.frame, loop);
    SheetLoop& own = loops.emplace_back();
    for (std::size_t i = 0; i < corners.size(); ++i) {
      own.push_back({corners[i], lean(id, loop[i])});
    }
  }
  return loops;
}

/// Openings and slots of a plane, united.
polygon::Loops DeckMaker::cuts_in(PlaneId id) const {
  std::vector<polygon::Loops> cuts;
  for (const surface::Region& region : surface_.regions) {
    if (region.plane == id && region.is_opening) {
      cuts.push_back({region.clear_uv.size() >= 3 ? region.clear_uv : region.outline_uv});
    }
  }
  if (slots_ != nullptr) {
    for (const vents::Slot& slot : slots_->slots) {
      if (slot.plane == id && slot.end_m - slot.start_m > near_m && slot.width_m > near_m) {
        const double low = slot.lower_v_m();
        const double high = low + slot.width_m;
        cuts.push_back(
            {{{slot.start_m, low}, {slot.end_m, low}, {slot.end_m, high}, {slot.start_m, high}}});
      }
    }
  }
  return cuts.empty() ? polygon::Loops{} : regions::united(cuts);
}

/// Where `p` lies along a side, if on it at all.
std::optional<double> place_on(glm::dvec2 a, glm::dvec2 b, glm::dvec2 p) {
  const double length = glm::length(b - a);
  const glm::dvec2 along = (b - a) / length;
  const glm::dvec2 d = p - a;
  const double at = glm::dot(d, along);
  const bool is_on =
      std::abs(along.x * d.y - along.y * d.x) < near_m && at > -near_m && at < length + near_m;
  return is_on ? std::optional(at) : std::nullopt;
}

/// The lean of the border's side on which the middle of a side lies; cut square elsewhere.
double lean_at(const std::vector<SheetLoop>& border, glm::dvec2 middle) {
  for (const SheetLoop& loop : border) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      if (place_on(loop[i].at, loop[(i + 1) % loop.size()].at, middle)) {
        return loop[i].lean;
      }
    }
  }
  return 0.0;
}

/// The side from `a` to `b` cut up at the border's corners on it, and each piece with its lean.
void add_side(const std::vector<SheetLoop>& border, glm::dvec2 a, glm::dvec2 b, SheetLoop& loop) {
  const double length = glm::length(b - a);
  if (length < near_m) {
    return;
  }
  std::vector<double> places{0.0};
  for (const SheetLoop& other : border) {
    for (const SheetCorner& corner : other) {
      const std::optional<double> at = place_on(a, b, corner.at);
      if (at && *at > near_m && *at < length - near_m) {
        places.push_back(*at);
      }
    }
  }
  std::sort(places.begin(), places.end());
  places.push_back(length);
  for (std::size_t i = 0; i + 1 < places.size(); ++i) {
    const glm::dvec2 along = (b - a) / length;
    loop.push_back(
        {a + places[i] * along, lean_at(border, a + 0.5 * (places[i] + places[i + 1]) * along)});
  }
}

std::vector<SheetLoop> without(const std::vector<SheetLoop>& border, const polygon::Loops& cuts) {
  polygon::Loops flat;
  for (const SheetLoop& loop : border) {
    polygon::Loop& own = flat.emplace_back();
    for (const SheetCorner& corner : loop) {
      own.push_back(corner.at);
    }
  }
  polygon::Loops rest = regions::without(flat, cuts);
  std::stable_partition(rest.begin(), rest.end(),
                        [](const polygon::Loop& loop) { return polygon::area(loop) > 0.0; });
  std::vector<SheetLoop> loops;
  for (const polygon::Loop& loop : rest) {
    SheetLoop own;
    for (std::size_t i = 0; i < loop.size(); ++i) {
      add_side(border, loop[i], loop[(i + 1) % loop.size()], own);
    }
    if (own.size() >= 3 && std::abs(polygon::area(loop)) > least_m2) {
      loops.push_back(std::move(own));
    }
  }
  return loops;
}

Result<Shape> built_sheet(const surface::Plane& plane, const std::vector<SheetLoop>& loops,
                          double thickness_m, const std::string& what) {
  const std::optional<Facets> facets = sheet(plane.frame, loops, thickness_m);
  if (!facets) {
    return Fault{"solid.invalid", "", "the mitres of " + what + " meet above its underside", ""};
  }
  return built(*facets, what);
}

Faults DeckMaker::add(PlaneId id, Bodies& bodies) const {
  const surface::Plane& plane = surface_.planes[id];
  std::vector<SheetLoop> loops = border_of(id);
  if (const polygon::Loops cuts = cuts_in(id); !cuts.empty()) {
    loops = without(loops, cuts);
  }
  if (loops.empty()) {
    return {};
  }
  const std::string what = "the deck of " + plane.id;
  Result<Shape> shape = built_sheet(plane, loops, deck_m(id), what);
  if (!shape) {
    for (SheetLoop& loop : loops) {
      for (SheetCorner& corner : loop) {
        corner.lean = 0.0;
      }
    }
    shape = built_sheet(plane, loops, deck_m(id), what);
    bodies.notes.push_back("The sheet of " + plane.id +
                           " is cut square all around: its mitres run into each other.");
  }
  if (!shape) {
    return shape.faults();
  }
  bodies.all.push_back({"deck/" + plane.id, std::move(shape).value()});
  return {};
}

Result<Bodies> DeckMaker::run() {
  Bodies bodies;
  for (const PlaneId id : surface_.planes.ids()) {
    if (deck_m(id) <= near_m || surface_.planes[id].loops.empty()) {
      continue;
    }
    if (Faults faults = add(id, bodies); !faults.empty()) {
      return faults;
    }
  }
  return bodies;
}

}  // namespace

Result<Bodies> deck_bodies(const model::RoofModel& model, const surface::Surface& surface,
                           const vents::Vents* slots) {
  return DeckMaker(model, surface, slots).run();
}

}  // namespace ridgeward::solid
