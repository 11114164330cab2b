#include "geojson/shape.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

namespace ridgeward::geojson {

namespace {

constexpr double rad_per_deg = std::numbers::pi / 180.0;
/// Corners that turn less are none; outer corners that turn between these are square.
constexpr double least_turn_rad = 5.0 * rad_per_deg;
constexpr double least_square_rad = 60.0 * rad_per_deg;
constexpr double most_square_rad = 120.0 * rad_per_deg;
/// An end stands out by this share of its own length at least, or it is only a step in a wall.
constexpr double least_depth = 0.25;
/// What maps are drawn to.
constexpr double clear_slack_m = 0.05;

/// Lower and upper slope of gambrels and mansards: two thirds of the height over a third of the
/// width, so twice and half the mean slope.
constexpr double lower_share = 2.0;
constexpr double upper_share = 0.5;
constexpr double break_at = 2.0 / 3.0;

/// A straight stretch of the outline: edges from `first` on, around its end.
struct Side {
  std::size_t first = 0;
  std::size_t count = 0;
  Position from{0.0, 0.0};
  Position along{0.0, 0.0};  ///< unit
  double length_m = 0.0;
  double turn_rad = 0.0;  ///< to the left, where it starts
  bool is_end = false;
};

double turn_between(const Position& a, const Position& b) {
  return std::atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1]);
}

class Outline {
 public:
  /// REQUIRES rings: the outer one first.
  explicit Outline(const std::vector<Ring>& rings) : rings_(rings), ring_(rings.front()) {
    const Ring& ring = ring_;
    const std::size_t count = ring.size();
    std::vector<std::size_t> corners;
    for (std::size_t i = 0; i < count; ++i) {
      if (std::abs(turn_between(step((i + count - 1) % count), step(i))) >= least_turn_rad) {
        corners.push_back(i);
      }
    }
    if (corners.size() < 3) {  // nearly round: every edge is a side
      corners.resize(count);
      std::iota(corners.begin(), corners.end(), std::size_t{0});
    }
    for (std::size_t i = 0; i < corners.size(); ++i) {
      const std::size_t next = corners[(i + 1) % corners.size()];
      Side side;
      side.first = corners[i];
      side.count = next > corners[i] ? next - corners[i] : next + count - corners[i];
      side.from = ring[side.first];
      const Position way{ring[next][0] - side.from[0], ring[next][1] - side.from[1]};
      side.length_m = std::max(1e-6, std::hypot(way[0], way[1]));
      side.along = {way[0] / side.length_m, way[1] / side.length_m};
      sides.push_back(side);
    }
    for (std::size_t i = 0; i < sides.size(); ++i) {
      sides[i].turn_rad = turn_between(before(i).along, sides[i].along);
    }
  }

  const Side& before(std::size_t i) const { return sides[(i + sides.size() - 1) % sides.size()]; }
  const Side& after(std::size_t i) const { return sides[(i + 1) % sides.size()]; }

  bool is_convex() const {
    return std::all_of(sides.begin(), sides.end(),
                       [](const Side& side) { return side.turn_rad > 0.0; });
  }
  /// Inward, from the line of a side.
  static double inward(const Side& side, const Position& p) {
    return side.along[0] * (p[1] - side.from[1]) - side.along[1] * (p[0] - side.from[0]);
  }
  double depth_from(const Side& side) const {
    double most = 0.0;
    for (const Position& p : ring_) {
      most = std::max(most, inward(side, p));
    }
    return most;
  }
  /// How far it is straight in from a side to the next wall: the least over places along it.
  double clear_m(const Side& side) const {
    constexpr int places = 9;
    double least = HUGE_VAL;
    for (int i = 0; i < places; ++i) {
      const double t = side.length_m * (i + 0.5) / places;
      least = std::min(least,
                       clear_m({side.from[0] + t * side.along[0], side.from[1] + t * side.along[1]},
                               {-side.along[1], side.along[0]}));
    }
    return least;
  }
  Position centroid() const {
    Position sum{0.0, 0.0};
    double twice = 0.0;
    const Position& o = ring_[0];
    for (std::size_t i = 0; i < ring_.size(); ++i) {
      const Position a{ring_[i][0] - o[0], ring_[i][1] - o[1]};
      const Position& next = ring_[(i + 1) % ring_.size()];
      const Position b{next[0] - o[0], next[1] - o[1]};
      const double cross = a[0] * b[1] - a[1] * b[0];
      twice += cross;
      sum = {sum[0] + (a[0] + b[0]) * cross, sum[1] + (a[1] + b[1]) * cross};
    }
    const double whole = 3.0 * twice;
    return whole > 0.0 ? Position{o[0] + sum[0] / whole, o[1] + sum[1] / whole} : o;
  }

  /// Marks the ends; none where no side is one.
  void find_ends(bool is_across) {
    const auto can_be = [&](std::size_t i) {
      const auto is_square = [](double turn) {
        return turn > least_square_rad && turn < most_square_rad;
      };
      // The back of a U is none: behind it the house is not as deep as half the side is long.
      return is_square(sides[i].turn_rad) && is_square(after(i).turn_rad) &&
             clear_m(sides[i]) >= sides[i].length_m / 2.0 - clear_slack_m &&
             std::min(before(i).length_m, after(i).length_m) >= least_depth * sides[i].length_m;
    };
    if (sides.size() == 4) {
      const bool is_even =
          sides[0].length_m + sides[2].length_m <= sides[1].length_m + sides[3].length_m;
      const std::size_t first = is_even != is_across ? 0 : 1;
      sides[first].is_end = sides[first + 2].is_end = true;
      return;
    }
    std::vector<std::size_t> order(sides.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      return sides[a].length_m < sides[b].length_m;
    });
    for (const std::size_t i : order) {
      sides[i].is_end = can_be(i) && !before(i).is_end && !after(i).is_end;
    }
  }

  /// Half the greatest width between eaves: straight across from sides that are no ends, or of the
  /// widest end; where there is no end, the radius of a circle within.
  double half_width_m() const {
    double widest = 0.0;
    double across = 0.0;
    double around = 0.0;
    for (const Side& side : sides) {
      around += side.length_m;
      widest = std::max(widest, side.is_end ? side.length_m : 0.0);
      const double clear = side.is_end ? 0.0 : clear_m(side);
      // A short piece of wall looks along the house, not across it.
      across = std::max(across, side.length_m >= clear / 2.0 ? clear : 0.0);
    }
    if (widest > 0.0 && across > 0.0 && std::isfinite(across)) {
      return std::max(1e-3, across / 2.0);
    }
    return std::max(1e-3, widest > 0.0 ? widest / 2.0 : twice_area(ring_) / around);
  }

  std::vector<Side> sides;

 private:
  /// From a place on the outline the way that `in` points.
  double clear_m(const Position& from, const Position& in) const {
    double least = HUGE_VAL;
    for (const Ring& ring : rings_) {
      for (std::size_t i = 0; i < ring.size(); ++i) {
        const Position& a = ring[i];
        const Position& b = ring[(i + 1) % ring.size()];
        const Position way{b[0] - a[0], b[1] - a[1]};
        const Position to{a[0] - from[0], a[1] - from[1]};
        const double cross = in[0] * way[1] - in[1] * way[0];
        if (std::abs(cross) < 1e-9) {
          continue;
        }
        const double t = (to[0] * way[1] - to[1] * way[0]) / cross;
        const double share = (to[0] * in[1] - to[1] * in[0]) / cross;
        if (t > clear_slack_m && share >= 0.0 && share <= 1.0) {
          least = std::min(least, t);
        }
      }
    }
    return least;
  }
  Position step(std::size_t i) const {
    const Position& a = ring_[i];
    const Position& b = ring_[(i + 1) % ring_.size()];
    return {b[0] - a[0], b[1] - a[1]};
  }
  const std::vector<Ring>& rings_;
  const Ring& ring_;
};

/// Finds the slope over `run_m` from eave to top.
void settle_slope(const Footprint& footprint, double run_m, double otherwise_deg, Shaped& roof) {
  const RoofSaid& said = footprint.roof;
  if (said.pitch) {
    roof.slope = said.pitch->tangent();
  } else if (said.rise_m && *said.rise_m > 0.0) {
    roof.slope = *said.rise_m / run_m;
  } else if (said.levels && *said.levels > 0.0) {
    roof.slope = *said.levels * roof_storey_m / run_m;
    roof.levels_are_assumed = true;
  } else {
    roof.slope = std::tan(otherwise_deg * rad_per_deg);
    roof.slope_is_assumed = true;
    if (footprint.top_m && *footprint.top_m > 0.0) {
      roof.slope = std::min(roof.slope, 0.5 * *footprint.top_m / run_m);
    }
  }
  const double least = std::tan(level_slope_deg * rad_per_deg);
  roof.slope = std::max(roof.slope, least);
  roof.rise_m = roof.slope * run_m;
}

/// The same edge for each piece of a side.
void put(const Side& side, const EdgeSaid& edge, Shaped& roof) {
  for (std::size_t i = 0; i < side.count; ++i) {
    roof.edges[(side.first + i) % roof.edges.size()] = edge;
  }
}

/// One plane from the lowest side up.
void lean(const Footprint& footprint, const Outline& outline, bool is_level, Shaped& roof) {
  const auto better = [&](const Side& a, const Side& b) {
    if (!footprint.roof.direction_deg) {
      return a.length_m < b.length_m;
    }
    const double azimuth = *footprint.roof.direction_deg * rad_per_deg;
    const auto faces = [&](const Side& side) {  // outward, against the direction
      return side.along[1] * std::sin(azimuth) - side.along[0] * std::cos(azimuth);
    };
    return faces(a) < faces(b);
  };
  const Side& eave = *std::max_element(outline.sides.begin(), outline.sides.end(), better);
  if (is_level) {
    roof.slope = std::tan(level_slope_deg * rad_per_deg);
    roof.rise_m = 0.0;
  } else {
    settle_slope(footprint, std::max(1e-3, outline.depth_from(eave)), assumed_slope_deg, roof);
  }
  for (const Side& side : outline.sides) {
    const double against = side.along[0] * eave.along[0] + side.along[1] * eave.along[1];
    put(side, {against < -0.7 ? "shed_top" : "gable"}, roof);
  }
  put(eave, {"eave", roof.slope}, roof);
}

/// All sides rise to one point over the middle.
void point_up(const Footprint& footprint, const Outline& outline, Shaped& roof) {
  const Position middle = outline.centroid();
  double least_m = 0.0;
  for (const Side& side : outline.sides) {
    const double run_m = std::max(1e-3, Outline::inward(side, middle));
    least_m = least_m > 0.0 ? std::min(least_m, run_m) : run_m;
  }
  settle_slope(footprint, least_m, assumed_slope_deg, roof);
  for (const Side& side : outline.sides) {
    put(side, {"eave", roof.rise_m / std::max(1e-3, Outline::inward(side, middle))}, roof);
  }
}

/// Eaves along the sides, with the ends that the shape asks for.
void ridge(const Footprint& footprint, Shape shape, Outline& outline, Shaped& roof) {
  outline.find_ends(footprint.roof.is_across.value_or(false));
  const bool is_broken = shape == Shape::gambrel || shape == Shape::mansard;
  settle_slope(footprint, outline.half_width_m(),
               is_broken ? assumed_broken_slope_deg : assumed_slope_deg, roof);
  EdgeSaid eave{"eave", roof.slope};
  if (is_broken) {
    eave.slope = lower_share * roof.slope;
    eave.break_height_m = break_at * roof.rise_m;
    eave.break_slope = upper_share * roof.slope;
  }
  const bool has_gables = shape == Shape::gabled || shape == Shape::gambrel;
  const bool has_ends = has_gables || shape == Shape::half_hipped;
  for (const Side& side : outline.sides) {
    EdgeSaid end{"gable"};
    if (shape == Shape::half_hipped) {
      end = {"half_hip", roof.slope, 0.25 * roof.slope * side.length_m};
    }
    put(side, has_ends && side.is_end ? end : eave, roof);
  }
  roof.is_understood = !has_ends || std::any_of(outline.sides.begin(), outline.sides.end(),
                                                [](const Side& side) { return side.is_end; });
}

}  // namespace

Shaped shaped(const Footprint& footprint) {
  Shaped roof;
  roof.edges.resize(footprint.rings.front().size());
  if (roof.edges.size() < 3) {
    return roof;  // the reader of models says what is wrong with it
  }
  Outline outline(footprint.rings);
  const Shape shape = footprint.roof.shape.value_or(Shape::hipped);
  const bool is_one_plane = shape == Shape::flat || shape == Shape::skillion;
  const bool is_simple = outline.is_convex() && footprint.rings.size() == 1;
  if (is_one_plane && is_simple) {
    lean(footprint, outline, shape == Shape::flat, roof);
    return roof;
  }
  if (shape == Shape::pyramidal && is_simple) {
    point_up(footprint, outline, roof);
    return roof;
  }
  if (shape == Shape::flat) {  // falls to all sides
    roof.slope = std::tan(level_slope_deg * rad_per_deg);
    std::fill(roof.edges.begin(), roof.edges.end(), EdgeSaid{"eave", roof.slope});
    return roof;
  }
  ridge(footprint, shape, outline, roof);
  roof.is_understood = roof.is_understood && shape != Shape::skillion && shape != Shape::pyramidal;
  return roof;
}

}  // namespace ridgeward::geojson
