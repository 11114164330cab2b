#include "papers/hooks.hpp"

#include "base/polygon.hpp"
#include "base/rays.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

namespace ridgeward::papers {

namespace {

using surface::LineKind;

constexpr double same_end_m = 1e-4;
constexpr double probe_m = 1e-3;
constexpr double most_overhang_m = 3.0;
/// A roof that comes nearer to the one above leaves no room to hook a tape beneath it.
constexpr double least_gap_m = 0.2;

/// In plan, a little into the plane and so far beyond the end.
glm::dvec2 plan_at(const Assessment& a, const BorderEnd& end, double out_m) {
  const surface::Frame& frame = a.surface.planes[end.plane].frame;
  const glm::dvec3 place = frame.at(end.uv + out_m * end.out + probe_m * end.in);
  return {place.x, place.y};
}

/// How high the roof of a part stands over a place; none where it does not.
double room_above_m(const Assessment& a, std::size_t part, glm::dvec3 place) {
  double least = HUGE_VAL;
  for (const surface::Plane& plane : a.surface.planes) {
    if (plane.part == part &&
        polygon::contains(surface::plan_of(a.surface, plane), glm::dvec2(place))) {
      const glm::dvec3 n = plane.frame.normal;
      least = std::min(least, glm::dot(n, plane.frame.origin - place) / n.z);
    }
  }
  return least < HUGE_VAL ? least : 0.0;
}

/// Decks of a plane that go on out of sight, each with the part above it.
std::vector<std::pair<std::size_t, polygon::Loops>> hidden_decks(const Assessment& a, PlaneId id) {
  std::vector<std::pair<std::size_t, polygon::Loops>> all;
  for (const surface::Sheltered& deck : a.surface.sheltered_decks) {
    if (deck.plane == id) {
      all.emplace_back(a.surface.planes[deck.above].part, deck.plan);
    }
  }
  for (const surface::BlindDeck& deck : a.surface.blind_decks) {
    if (deck.plane == id && deck.cricket.empty()) {
      all.emplace_back(deck.part, surface::plan_of(deck.frame, deck.outline_uv));
    }
  }
  return all;
}

/// The part whose wall stands over a border of the plane that ends here; none at a chimney.
std::optional<std::size_t> part_over(const Assessment& a, const BorderEnd& end) {
  const surface::Plane& plane = a.surface.planes[end.plane];
  for (const surface::Loop& loop : plane.loops) {
    for (const surface::LoopStep& step : loop) {
      const surface::Line& line = a.surface.lines[step.line];
      const surface::Side& side = line.left_plane().is_none() ? line.left : line.right;
      const bool is_here =
          glm::length(plane.frame.uv(a.surface.nodes[line.from]) - end.uv) < same_end_m ||
          glm::length(plane.frame.uv(a.surface.nodes[line.to]) - end.uv) < same_end_m;
      const bool is_wall = line.kind == LineKind::sidewall || line.kind == LineKind::headwall;
      if (is_here && is_wall && side.of == surface::Side::Of::wall &&
          !a.surface.walls[side.index].is_at_chimney &&
          a.surface.walls[side.index].part != plane.part) {
        return a.surface.walls[side.index].part;
      }
    }
  }
  return std::nullopt;
}

/// The overhang at whose drip line the border is drawn to end; none where a wall stands there.
std::optional<Overhang> overhang_at(const Assessment& a, const BorderEnd& end) {
  const glm::dvec2 start = plan_at(a, end, 0.0);
  const glm::dvec2 out = plan_at(a, end, 1.0) - start;
  const auto to_wall_m = [&](std::size_t part) {
    return polygon::nearest_side(a.surface.wall_outlines[part], start, out);
  };
  for (const auto& [part, plan] : hidden_decks(a, end.plane)) {
    const double way_m = to_wall_m(part);
    if (way_m > 2 * probe_m && way_m < most_overhang_m &&
        polygon::contains(plan, plan_at(a, end, probe_m))) {
      const surface::Frame& frame = a.surface.planes[end.plane].frame;
      const bool goes_on =
          polygon::contains(plan, plan_at(a, end, way_m - probe_m)) &&
          room_above_m(a, part, frame.at(end.uv + probe_m * (end.out + end.in))) >= least_gap_m;
      return Overhang{a.model.parts[part].id, way_m, goes_on};
    }
  }
  const std::optional<std::size_t> part = part_over(a, end);
  const double way_m = part ? to_wall_m(*part) : 0.0;
  if (way_m > 2 * probe_m && way_m < most_overhang_m) {
    return Overhang{a.model.parts[*part].id, way_m, false};
  }
  return std::nullopt;
}

}  // namespace

std::optional<Overhang> take_overhang(const Assessment& a, const BorderEnd& end,
                                      bool is_measured_on, std::string& hook) {
  std::optional<Overhang> over = hook == "wall" ? overhang_at(a, end) : std::nullopt;
  if (over && !(over->goes_on && is_measured_on)) {
    over->goes_on = false;
    hook = "drip line above (" + over->part + ")";
  }
  return over;
}

std::string mark_words(double from_hook_m, units::Style style) {
  return from_hook_m > -same_end_m ? units::show(from_hook_m, style)
                                   : units::show(-from_hook_m, style) + " beyond";
}

std::string from_words(double from_hook_m, const std::string& hook, units::Style style) {
  const char* way = from_hook_m > -same_end_m ? " from the " : " the ";
  return mark_words(from_hook_m, style) + way + hook;
}

std::string over_words(const std::string& end, const Overhang& over, units::Style style) {
  const std::string way = units::show(over.to_wall_m, style);
  return over.goes_on ? fmt::format(
                            "{} the deck goes on {} beneath the overhang of {}: hook the tape on "
                            "the wall there, not at the drip line above.",
                            end, way, over.part)
                      : fmt::format(
                            "{} the place to measure from is plumb below the drip line of {}, {} "
                            "out from its wall.",
                            end, over.part, way);
}

}  // namespace ridgeward::papers
