#include "xyz/outline.hpp"

#include "support/vectors.hpp"
#include "xyz/borders.hpp"
#include "xyz/cells.hpp"
#include "xyz/seams.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>
#include <map>
#include <numbers>
#include <optional>
#include <set>
#include <utility>

namespace ridgeward::xyz {

namespace {

using importing::cross;
using importing::dot;
using importing::length;
using importing::minus;
using importing::plus;
using importing::scaled;

constexpr double quarter = std::numbers::pi / 2.0;
constexpr double nearly_level = 0.026;  // 1.5 degrees
constexpr double widest_turn = 0.09;    // 5 degrees
constexpr double least_fold = 0.05;     // sine between planes that meet in a line
constexpr double same_height_m = 0.08;
constexpr double same_line_m = 0.15;
constexpr double seam_m = 0.08;
// How far a line may be trusted: Line::doubt_m.
constexpr double joint_doubt_m = 0.02;
constexpr double border_doubt_m = 0.06;
constexpr double slanting_doubt_m = 0.12;
constexpr double least_hole_m2 = 2.0;
constexpr std::size_t least_joint = 3;
constexpr std::size_t most_lines = 24;

/// A border of a region: level at `height_m`, or upright over the line dot(across, p) = offset_m.
struct Border {
  bool is_level = false;
  double at_m = 0.0;
  double angle = 0.0;  ///< of `across` in plan, 0 to pi
  double run_m = 0.0;
  double doubt_m = border_doubt_m;
};

/// A region with axes of its own: u level, v uphill.
struct Flat {
  Region region;
  double angle = 0.0;  ///< uphill in plan
  bool is_level = false;
  Point origin{0.0, 0.0, 0.0};
  Point u{1.0, 0.0, 0.0};
  Point v{0.0, 1.0, 0.0};
  std::vector<Spot> spots;
  double per_m2 = 0.0;
  std::vector<Joint> joints;
  std::vector<Border> borders;

  Spot spot_of(const Point& p) const {
    const Point d = minus(p, origin);
    return {dot(d, u), dot(d, v)};
  }
  Point point_of(const Spot& p) const {
    return plus(origin, plus(scaled(u, p[0]), scaled(v, p[1])));
  }
  /// Where the plane dot(normal, p) = offset cuts this one. REQUIRES that it does.
  Line line_of(const Point& normal, double offset) const {
    const Spot across{dot(normal, u), dot(normal, v)};
    const double size = std::hypot(across[0], across[1]);
    return {{across[0] / size, across[1] / size}, (offset - dot(normal, origin)) / size};
  }
};

/// The nearest to `angle` of `to` and what lies whole quarters from it.
double turned_to(double angle, double to) {
  return to + std::round((angle - to) / quarter) * quarter;
}

/// The plane that rises in the direction `angle`, nearest to the points by their profile.
Region along(const std::vector<Point>& points, Region region, double angle) {
  const double c = std::cos(angle);
  const double s = std::sin(angle);
  const auto n = static_cast<double>(region.points.size());
  double w0 = 0.0;
  double z0 = 0.0;
  for (const Index k : region.points) {
    w0 += (points[k][0] * c + points[k][1] * s) / n;
    z0 += points[k][2] / n;
  }
  double ww = 0.0;
  double wz = 0.0;
  double zz = 0.0;
  for (const Index k : region.points) {
    const double w = points[k][0] * c + points[k][1] * s - w0;
    const double z = points[k][2] - z0;
    ww += w * w / n;
    wz += w * z / n;
    zz += z * z / n;
  }
  const double slope = 0.5 * std::atan2(2.0 * wz, ww - zz);
  region.plane.normal = {-std::sin(slope) * c, -std::sin(slope) * s, std::cos(slope)};
  region.plane.offset = -std::sin(slope) * w0 + std::cos(slope) * z0;
  double sum = 0.0;
  for (const Index k : region.points) {
    const double d = off(region.plane, points[k]);
    sum += d * d / n;
  }
  region.spread_m = std::sqrt(sum);
  return region;
}

/// The direction of the smallest of the rectangles around points, in steps of a degree.
double direction_of(const std::vector<Point>& points, const std::vector<Index>& some) {
  double best = 0.0;
  double least = std::numeric_limits<double>::infinity();
  for (int degrees = 0; degrees < 90; ++degrees) {
    const double angle = degrees * std::numbers::pi / 180.0;
    Spot low{1e9, 1e9};
    Spot high{-1e9, -1e9};
    for (const Index k : some) {
      const Spot p{points[k][0] * std::cos(angle) + points[k][1] * std::sin(angle),
                   points[k][1] * std::cos(angle) - points[k][0] * std::sin(angle)};
      for (std::size_t i = 0; i < 2; ++i) {
        low.at(i) = std::min(low.at(i), p.at(i));
        high.at(i) = std::max(high.at(i), p.at(i));
      }
    }
    const double area = (high[0] - low[0]) * (high[1] - low[1]);
    if (area < least) {
      least = area;
      best = angle;
    }
  }
  return best;
}

class Outliner {
 public:
  Outliner(const std::vector<Point>& points, std::vector<Region> regions, double reach_m)
      : points_(points), reach_m_(reach_m), region_of_(points.size(), -1) {
    direct(std::move(regions));
    for (std::size_t f = 0; f < flats_.size(); ++f) {
      for (const Index k : flats_[f].region.points) {
        region_of_[k] = static_cast<std::ptrdiff_t>(f);
        flats_[f].spots.push_back(flats_[f].spot_of(points_[k]));
      }
    }
  }

  Outlined run(double least_area_m2) {
    find_joints();
    for (std::size_t f = 0; f < flats_.size(); ++f) {
      find_borders(f);
    }
    make_one(true, same_height_m);
    make_one(false, same_line_m);
    Outlined outlined;
    for (const Flat& flat : flats_) {
      add_pieces(flat, least_area_m2, outlined);
    }
    close_seams(pieces_, seam_m);
    for (Piece& piece : pieces_) {
      outlined.polygons.push_back(std::move(piece.polygon));
    }
    return outlined;
  }

 private:
  /// Gives each region its direction and its axes.
  void direct(std::vector<Region> regions) {
    for (Region& region : regions) {
      Flat flat;
      const Point& normal = region.plane.normal;
      flat.is_level = std::hypot(normal[0], normal[1]) < nearly_level;
      flat.angle = std::atan2(-normal[1], -normal[0]);
      flat.region = std::move(region);
      if (!flat.is_level && !take_direction(flat)) {
        frames_.push_back(flat.angle);
      }
      flats_.push_back(std::move(flat));
    }
    if (frames_.empty() && !flats_.empty()) {
      frames_.push_back(direction_of(points_, flats_.front().region.points));
    }
    for (Flat& flat : flats_) {
      set_axes(flat);
    }
  }
  /// That of a larger region, or square to it, where it is near and the points allow it.
  bool take_direction(Flat& flat) const {
    for (const double frame : frames_) {
      const double turned = turned_to(flat.angle, frame);
      if (std::abs(turned - flat.angle) > widest_turn) {
        continue;
      }
      Region there = along(points_, flat.region, turned);
      if (there.spread_m < 1.25 * flat.region.spread_m + 0.002) {
        flat.region = std::move(there);
        flat.angle = turned;
        return true;
      }
    }
    return false;
  }
  void set_axes(Flat& flat) const {
    if (flat.is_level) {
      flat.angle = frames_.front();
      double sum = 0.0;
      for (const Index k : flat.region.points) {
        sum += points_[k][2];
      }
      flat.region.plane = {{0.0, 0.0, 1.0}, sum / static_cast<double>(flat.region.points.size())};
    }
    const Plane& plane = flat.region.plane;
    const Point& near = points_[flat.region.points.front()];
    flat.origin = minus(near, scaled(plane.normal, off(plane, near)));
    flat.u = {std::sin(flat.angle), -std::cos(flat.angle), 0.0};
    flat.v = cross(plane.normal, flat.u);
  }

  // ---- Where planes meet. ----

  void find_joints() {
    const Grid grid(points_, reach_m_);
    std::map<std::pair<std::size_t, std::size_t>, std::set<Index>> beside;
    for (Index i = 0; i < points_.size(); ++i) {
      if (region_of_[i] < 0) {
        continue;
      }
      const auto own = static_cast<std::size_t>(region_of_[i]);
      grid.near(points_[i], reach_m_, [&](Index k) {
        if (region_of_[k] >= 0 && region_of_[k] != region_of_[i]) {
          beside[{own, static_cast<std::size_t>(region_of_[k])}].insert(i);
        }
      });
    }
    for (const auto& [pair, near] : beside) {
      Flat& flat = flats_[pair.first];
      const Plane& other = flats_[pair.second].region.plane;
      if (length(cross(flat.region.plane.normal, other.normal)) < least_fold ||
          flat.joints.size() >= most_lines / 2) {
        continue;
      }
      Line line = flat.line_of(other.normal, other.offset);
      line.doubt_m = joint_doubt_m;
      std::vector<double> along;
      for (const Index k : near) {
        const Spot p = flat.spot_of(points_[k]);
        if (std::abs(off(line, p)) <= reach_m_) {
          along.push_back(line.across[0] * p[1] - line.across[1] * p[0]);
        }
      }
      if (along.size() < least_joint || 2 * along.size() < near.size()) {
        continue;
      }
      const auto [low, high] = std::minmax_element(along.begin(), along.end());
      if (*high - *low > reach_m_) {
        flat.joints.push_back({line, *low - reach_m_, *high + reach_m_});
      }
    }
  }

  // ---- Other borders. ----

  void find_borders(std::size_t number) {
    Flat& flat = flats_[number];
    std::vector<Across> directions;
    for (const double angle : this->directions()) {
      const bool is_own = std::abs(turned_to(angle, flat.angle) - angle) < 1e-9;
      const Line line = flat.line_of({std::cos(angle), std::sin(angle), 0.0}, 0.0);
      directions.push_back({angle, line.across, is_own});
    }
    const Borders borders =
        borders_of(flat.spots, reach_m_, flat.joints, directions, most_lines - flat.joints.size());
    flat.per_m2 = borders.per_m2;
    for (const Straight& straight : borders.straight) {
      // What runs along a joint is that joint.
      const bool is_joint =
          std::any_of(flat.joints.begin(), flat.joints.end(), [&](const Joint& joint) {
            const Spot& across = joint.line.across;
            return std::abs(across[0] * straight.outward[0] + across[1] * straight.outward[1]) >
                       0.97 &&
                   std::abs(off(joint.line, straight.middle)) < 0.7 * reach_m_;
          });
      if (!is_joint) {
        flat.borders.push_back(border_at(flat, straight));
      }
    }
  }

  /// Directions that borders may be square to: those of the planes, quarters and halves of quarters
  /// from them.
  std::vector<double> directions() const {
    std::set<std::int64_t> seen;
    std::vector<double> all;
    for (const double frame : frames_) {
      for (int n = 0; n < 4; ++n) {
        double angle = std::fmod(frame + n * quarter / 2.0, std::numbers::pi);
        angle += angle < 0.0 ? std::numbers::pi : 0.0;
        if (all.size() < 24 && seen.insert(std::llround(angle * 1e6)).second) {
          all.push_back(angle);
        }
      }
    }
    return all;
  }

  static Border border_at(const Flat& flat, const Straight& straight) {
    const Spot edge{straight.outward[0] * straight.edge_m, straight.outward[1] * straight.edge_m};
    const Point at = flat.point_of(edge);
    Border border;
    border.angle = straight.along.angle;
    border.run_m = straight.length_m;
    border.doubt_m = straight.along.is_own ? border_doubt_m : slanting_doubt_m;
    border.is_level = !flat.is_level && std::abs(straight.outward[0]) < 1e-6;
    border.at_m =
        border.is_level ? at[2] : at[0] * std::cos(border.angle) + at[1] * std::sin(border.angle);
    return border;
  }

  /// Borders of nearly one height, or upright ones of one direction in nearly one line, become one,
  /// each by its length.
  void make_one(bool is_level, double within_m) {
    std::vector<Border*> all;
    for (Flat& flat : flats_) {
      for (Border& border : flat.borders) {
        if (border.is_level == is_level) {
          all.push_back(&border);
        }
      }
    }
    const auto key = [&](const Border* border) {
      return std::pair(is_level ? 0 : std::llround(border->angle * 1e6), border->at_m);
    };
    std::sort(all.begin(), all.end(),
              [&](const Border* a, const Border* b) { return key(a) < key(b); });
    for (std::size_t first = 0; first < all.size();) {
      double sum = 0.0;
      double weight = 0.0;
      std::size_t k = first;
      for (; k < all.size() && key(all[k]).first == key(all[first]).first &&
             (k == first || all[k]->at_m - all[k - 1]->at_m < 0.8 * within_m) &&
             all[k]->at_m - all[first]->at_m < within_m;
           ++k) {
        sum += all[k]->at_m * all[k]->run_m;
        weight += all[k]->run_m;
      }
      for (; first < k; ++first) {
        all[first]->at_m = sum / weight;
      }
    }
  }

  // ---- Polygons. ----

  static Line line_at(const Flat& flat, const Border& border) {
    return border.is_level
               ? flat.line_of({0.0, 0.0, 1.0}, border.at_m)
               : flat.line_of({std::cos(border.angle), std::sin(border.angle), 0.0}, border.at_m);
  }

  /// Whether no other region of roof is to be seen in a hole.
  bool is_to_fill(const Flat& flat, const std::vector<Spot>& hole) const {
    const double area_m2 = -area_of(hole);
    std::size_t count = 0;
    for (Index i = 0; i < points_.size() && area_m2 >= least_hole_m2; ++i) {
      const bool is_other =
          region_of_[i] >= 0 && &flats_[static_cast<std::size_t>(region_of_[i])] != &flat;
      count += is_other && contains(hole, flat.spot_of(points_[i])) ? 1 : 0;
    }
    return area_m2 < least_hole_m2 || static_cast<double>(count) < flat.per_m2 * area_m2 / 2.0;
  }

  void add_pieces(const Flat& flat, double least_area_m2, Outlined& outlined) {
    std::vector<Line> lines(flat.joints.size());
    std::transform(flat.joints.begin(), flat.joints.end(), lines.begin(),
                   [](const Joint& joint) { return joint.line; });
    for (const Border& border : flat.borders) {
      lines.push_back(line_at(flat, border));
      lines.back().doubt_m = border.doubt_m;
    }
    const std::vector<std::vector<Spot>> loops =
        filled(flat.spots, std::move(lines), flat.per_m2, 2.5 * reach_m_);
    const auto ring_of = [&](const std::vector<Spot>& loop) {
      importing::Ring ring;
      std::transform(loop.begin(), loop.end(), std::back_inserter(ring),
                     [&](const Spot& p) { return flat.point_of(p); });
      return ring;
    };
    for (const std::vector<Spot>& outer : loops) {
      if (area_of(outer) < least_area_m2) {
        continue;
      }
      importing::Polygon polygon{ring_of(outer)};
      for (const std::vector<Spot>& hole : loops) {
        if (area_of(hole) >= 0.0 || !contains(outer, hole.front())) {
          continue;
        }
        if (is_to_fill(flat, hole)) {
          ++outlined.filled_holes;
        } else {
          polygon.push_back(ring_of(hole));
        }
      }
      pieces_.push_back({flat.region.plane, std::move(polygon)});
    }
  }

  const std::vector<Point>& points_;
  double reach_m_;
  std::vector<std::ptrdiff_t> region_of_;
  std::vector<double> frames_;
  std::vector<Flat> flats_;
  std::vector<Piece> pieces_;
};

}  // namespace

Outlined outline(const std::vector<Point>& points, std::vector<Region> regions, double reach_m,
                 double least_area_m2) {
  return Outliner(points, std::move(regions), reach_m).run(least_area_m2);
}

}  // namespace ridgeward::xyz
