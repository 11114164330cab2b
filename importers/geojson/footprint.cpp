#include "geojson/footprint.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace ridgeward::geojson {

namespace {

struct Box {
  Position least{std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
  Position most{-std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};
};

void widen(Box& box, const Position& p) {
  for (std::size_t i = 0; i < 2; ++i) {
    box.least.at(i) = std::min(box.least.at(i), p.at(i));
    box.most.at(i) = std::max(box.most.at(i), p.at(i));
  }
}

Box box_of(const std::vector<Footprint>& all) {
  Box box;
  for (const Footprint& footprint : all) {
    for (const Ring& ring : footprint.rings) {
      for (const Position& p : ring) {
        widen(box, p);
      }
    }
  }
  return box;
}

template <class Move>
void each_position(std::vector<Footprint>& all, Move move) {
  for (Footprint& footprint : all) {
    for (Ring& ring : footprint.rings) {
      for (Position& p : ring) {
        p = move(p);
      }
    }
  }
}

double to_mm(double length_m) { return std::round(length_m * 1000.0) / 1000.0; }

}  // namespace

double twice_area(const Ring& ring) {
  double sum = 0.0;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Position& a = ring[i];
    const Position& b = ring[(i + 1) % ring.size()];
    sum += (a[0] - ring[0][0]) * (b[1] - ring[0][1]) - (a[1] - ring[0][1]) * (b[0] - ring[0][0]);
  }
  return sum;
}

bool are_degrees(const std::vector<Footprint>& all) {
  const Box box = box_of(all);
  return box.least[0] >= -180.0 && box.most[0] <= 180.0 && box.least[1] >= -90.0 &&
         box.most[1] <= 90.0 && box.most[0] - box.least[0] < 0.2 &&
         box.most[1] - box.least[1] < 0.2;
}

void project(std::vector<Footprint>& all) {
  // WGS 84 (its defining constants: semi-major axis, inverse flattening).
  constexpr double semi_major_m = 6378137.0;
  constexpr double flattening = 1.0 / 298.257223563;
  constexpr double square_eccentricity = flattening * (2.0 - flattening);
  constexpr double rad_per_deg = std::numbers::pi / 180.0;
  const Box box = box_of(all);
  const Position middle{(box.least[0] + box.most[0]) / 2.0, (box.least[1] + box.most[1]) / 2.0};
  const double sine = std::sin(middle[1] * rad_per_deg);
  const double root = std::sqrt(1.0 - square_eccentricity * sine * sine);
  const double prime_vertical_m = semi_major_m / root;
  const double meridian_m = semi_major_m * (1.0 - square_eccentricity) / (root * root * root);
  const double parallel_m = prime_vertical_m * std::cos(middle[1] * rad_per_deg);
  each_position(all, [&](const Position& p) {
    return Position{(p[0] - middle[0]) * rad_per_deg * parallel_m,
                    (p[1] - middle[1]) * rad_per_deg * meridian_m};
  });
}

void move_to_origin(std::vector<Footprint>& all) {
  const Box box = box_of(all);
  each_position(all, [&](const Position& p) {
    return Position{to_mm(p[0] - box.least[0]), to_mm(p[1] - box.least[1])};
  });
}

void tidy(Footprint& footprint) {
  bool is_outer = true;
  for (Ring& ring : footprint.rings) {
    ring.erase(std::unique(ring.begin(), ring.end()), ring.end());
    while (ring.size() > 1 && ring.front() == ring.back()) {
      ring.pop_back();
    }
    if (ring.size() > 2 && (twice_area(ring) > 0.0) != is_outer) {
      std::reverse(ring.begin(), ring.end());
    }
    is_outer = false;
  }
}

}  // namespace ridgeward::geojson
