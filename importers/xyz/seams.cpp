#include "xyz/seams.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace ridgeward::xyz {

namespace {

double height_on(const Plane& plane, const Point& p) {
  return (plane.offset - plane.normal[0] * p[0] - plane.normal[1] * p[1]) / plane.normal[2];
}

/// All corners in plan, in the order of pieces and loops.
std::vector<Point> corners_of(const std::vector<Piece>& pieces) {
  std::vector<Point> all;
  for (const Piece& piece : pieces) {
    for (const importing::Ring& ring : piece.polygon) {
      for (const Point& p : ring) {
        all.push_back({p[0], p[1], 0.0});
      }
    }
  }
  return all;
}

/// Where each corner comes to lie: in the middle of those that hang together.
std::vector<Point> gathered(const std::vector<Point>& corners, double within_m) {
  const Grid grid(corners, within_m);
  std::vector<Index> leader(corners.size());
  std::iota(leader.begin(), leader.end(), Index{0});
  const auto find = [&](Index i) {
    while (leader[i] != i) {
      i = leader[i] = leader[leader[i]];
    }
    return i;
  };
  for (Index i = 0; i < corners.size(); ++i) {
    grid.near(corners[i], within_m, [&](Index k) { leader[find(k)] = find(i); });
  }
  std::vector<Point> sums(corners.size(), Point{0.0, 0.0, 0.0});
  for (Index i = 0; i < corners.size(); ++i) {
    Point& sum = sums[find(i)];
    sum = {sum[0] + corners[i][0], sum[1] + corners[i][1], sum[2] + 1.0};
  }
  std::vector<Point> moved(corners.size());
  for (Index i = 0; i < corners.size(); ++i) {
    const Point& sum = sums[find(i)];
    moved[i] = {sum[0] / sum[2], sum[1] / sum[2], 0.0};
  }
  return moved;
}

bool is_same(const Point& a, const Point& b) { return a[0] == b[0] && a[1] == b[1]; }

/// The loop with the places that lie along its sides.
importing::Ring with_places(const importing::Ring& ring, const std::vector<Point>& places,
                            double within_m) {
  importing::Ring whole;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Point& a = ring[i];
    const Point& b = ring[(i + 1) % ring.size()];
    const double x = b[0] - a[0];
    const double y = b[1] - a[1];
    const double length = std::hypot(x, y);
    std::vector<std::pair<double, Point>> on;
    for (const Point& p : places) {
      const double along = ((p[0] - a[0]) * x + (p[1] - a[1]) * y) / length;
      const double aside = ((p[1] - a[1]) * x - (p[0] - a[0]) * y) / length;
      if (along > within_m && along < length - within_m && std::abs(aside) < within_m) {
        on.emplace_back(along, p);
      }
    }
    std::sort(on.begin(), on.end());
    whole.push_back(a);
    for (const auto& [along, p] : on) {
      whole.push_back(p);
    }
  }
  return whole;
}

}  // namespace

void close_seams(std::vector<Piece>& pieces, double within_m) {
  std::vector<Point> places = gathered(corners_of(pieces), within_m);
  std::size_t next = 0;
  for (Piece& piece : pieces) {
    for (importing::Ring& ring : piece.polygon) {
      for (Point& p : ring) {
        p = places[next++];
      }
      ring.erase(std::unique(ring.begin(), ring.end(), is_same), ring.end());
      while (ring.size() > 1 && is_same(ring.front(), ring.back())) {
        ring.pop_back();
      }
    }
  }
  std::sort(places.begin(), places.end());
  places.erase(std::unique(places.begin(), places.end(), is_same), places.end());
  for (Piece& piece : pieces) {
    for (importing::Ring& ring : piece.polygon) {
      ring = with_places(ring, places, within_m);
      for (Point& p : ring) {
        p[2] = height_on(piece.plane, p);
      }
    }
    std::erase_if(piece.polygon, [](const importing::Ring& ring) { return ring.size() < 3; });
  }
  std::erase_if(pieces, [](const Piece& piece) { return piece.polygon.empty(); });
}

}  // namespace ridgeward::xyz
