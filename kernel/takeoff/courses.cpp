#include "takeoff/courses.hpp"

#include "base/polygon.hpp"
#include "base/regions.hpp"
#include "surface/sheltered.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace ridgeward::takeoff {

namespace {

constexpr double near_m = 1e-6;
constexpr double idle_m = 1e-9;

/// A stretch of a course to be covered, along the eave.
struct Stretch {
  double from_m = 0.0;
  double to_m = 0.0;
};

/// Left-overs by the factory edge that they kept.
using LeftOvers = std::vector<double>;

/// The part of the plane beneath the shingles of one course, as stretches: those whose bodies
/// overlap anywhere in the band are one.
std::vector<Stretch> stretches_of(const polygon::Loops& border, double low_m, double high_m) {
  std::vector<Stretch> all;
  const double wide_m = 1e4;
  const polygon::Loops band{
      {{-wide_m, low_m}, {wide_m, low_m}, {wide_m, high_m}, {-wide_m, high_m}}};
  for (const polygon::Loop& loop : regions::common(border, band)) {
    if (polygon::area(loop) <= idle_m) {
      continue;  // holes lie within a stretch
    }
    const polygon::Box box = polygon::box_of(loop);
    all.push_back({box.low.x, box.high.x});
  }
  std::sort(all.begin(), all.end(),
            [](const Stretch& a, const Stretch& b) { return a.from_m < b.from_m; });
  return all;
}

class PlaneLayer {
 public:
  explicit PlaneLayer(ShingledPlane& plane) : plane_(plane) {}
  void lay(const Stretch& stretch, int row);

 private:
  void cut(double length_m, LeftOvers& from, LeftOvers& into);

  ShingledPlane& plane_;
  LeftOvers left_edge_;   ///< for right ends
  LeftOvers right_edge_;  ///< for left ends
};

/// A piece from the narrowest left-over of `from` that serves, else from a new shingle, whose rest
/// goes into `into`.
void PlaneLayer::cut(double length_m, LeftOvers& from, LeftOvers& into) {
  ++plane_.cut;
  const auto serves = std::lower_bound(from.begin(), from.end(), length_m - near_m);
  if (serves != from.end()) {
    ++plane_.from_left_over;
    from.erase(serves);
    return;
  }
  ++plane_.bought;
  const double rest_m = shingle::length_m - length_m;
  if (rest_m >= shingle::least_left_over_m) {
    into.insert(std::lower_bound(into.begin(), into.end(), rest_m), rest_m);
  }
}

void PlaneLayer::lay(const Stretch& stretch, int row) {
  double rest_m = stretch.to_m - stretch.from_m;
  const double first_m =
      shingle::length_m * (1.0 - static_cast<double>(row % shingle::steps) / shingle::steps);
  if (first_m < shingle::length_m - near_m && rest_m > near_m) {
    const double piece_m = std::min(first_m, rest_m);
    cut(piece_m, right_edge_, left_edge_);
    rest_m -= piece_m;
  }
  const auto whole = static_cast<int>(std::floor((rest_m + near_m) / shingle::length_m));
  plane_.whole += whole;
  plane_.bought += whole;
  rest_m -= whole * shingle::length_m;
  if (rest_m > near_m) {
    cut(rest_m, left_edge_, right_edge_);
  }
}

/// The plane, with what of it goes on beneath overhangs, without what obstacles take of its deck.
polygon::Loops border_of(const surface::Surface& surface, PlaneId id) {
  const surface::Plane& plane = surface.planes[id];
  polygon::Loops border;
  for (const surface::Loop& loop : plane.loops) {
    border.push_back(surface::corners_uv(surface, plane.frame, loop));
  }
  std::vector<polygon::Loops> whole = surface::sheltered_uv(surface, id);
  if (!whole.empty()) {
    whole.push_back(std::move(border));
    border = regions::united(whole);
  }
  for (const surface::Region& region : surface.regions) {
    if (region.plane == id && region.is_opening && region.outline_uv.size() > 2) {
      border = regions::without(border, {region.outline_uv});
    }
  }
  return border;
}

ShingledPlane lay_plane(const model::Roofing& roofing, const surface::Surface& surface,
                        PlaneId id) {
  ShingledPlane laid;
  laid.plane = id;
  const polygon::Loops border = border_of(surface, id);
  double low_m = HUGE_VAL;
  double high_m = -HUGE_VAL;
  for (const polygon::Loop& loop : border) {
    const polygon::Box box = polygon::box_of(loop);
    low_m = std::min(low_m, box.low.y);
    high_m = std::max(high_m, box.high.y);
  }
  PlaneLayer layer(laid);
  const double exposure_m = roofing.exposure_m;
  const double first_m = low_m - roofing.starter_m;
  const auto rows = static_cast<int>(std::ceil((high_m - near_m - first_m) / exposure_m));
  for (; laid.courses < rows; ++laid.courses) {
    const double butt_m = first_m + laid.courses * exposure_m;
    const double top_m = std::min(butt_m + shingle::height_m, high_m);
    for (const Stretch& stretch : stretches_of(border, butt_m, top_m)) {
      layer.lay(stretch, laid.courses);
    }
  }
  laid.laid_m2 = std::abs(polygon::area(border));
  const double bought_m2 = laid.bought * shingle::length_m * exposure_m;
  laid.waste_share = laid.laid_m2 > 0.0 ? bought_m2 / laid.laid_m2 - 1.0 : 0.0;
  return laid;
}

}  // namespace

std::vector<ShingledPlane> lay_shingles(const model::RoofModel& model,
                                        const surface::Surface& surface) {
  std::vector<ShingledPlane> all;
  for (const PlaneId id : surface.planes.ids()) {
    if (surface.planes[id].cricket.empty()) {
      all.push_back(lay_plane(model.roofing, surface, id));
    }
  }
  return all;
}

}  // namespace ridgeward::takeoff
