#include "geojson/footprint.hpp"

#include "support/crossing.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace ridgeward::geojson {

namespace {

/// A footprint that crosses the 180th meridian may run on beyond it.
constexpr double farthest_east_deg = 181.0;
/// As far as a model reaches.
constexpr double widest_m = 10000.0;

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

/// Where the longitudes are more than half the globe apart, those in the west go on beyond 180.
void join_at_180(std::vector<Footprint>& all) {
  const Box box = box_of(all);
  if (box.most[0] - box.least[0] <= 180.0) {
    return;
  }
  each_position(all, [](const Position& p) {
    return Position{p[0] < 0.0 ? p[0] + 360.0 : p[0], p[1]};
  });
}

void scale(std::vector<Footprint>& all, double unit_m) {
  each_position(all, [&](const Position& p) { return Position{p[0] * unit_m, p[1] * unit_m}; });
}

/// The longer side of the rectangle around all positions.
double spread(const std::vector<Footprint>& all) {
  const Box box = box_of(all);
  return std::max(box.most[0] - box.least[0], box.most[1] - box.least[1]);
}

bool are_degrees(const std::vector<Footprint>& all) {
  constexpr double doll_deg = 0.2;
  return std::all_of(all.begin(), all.end(), [](const Footprint& footprint) {
    std::vector<Footprint> one{footprint};
    const Box given = box_of(one);
    join_at_180(one);
    return given.least[0] >= -farthest_east_deg && given.most[0] <= farthest_east_deg &&
           given.least[1] >= -90.0 && given.most[1] <= 90.0 && spread(one) < doll_deg;
  });
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

bool wants_degrees(const std::vector<Footprint>& all, const Options& options,
                   const std::optional<importing::ReferenceSystem>& system) {
  const auto at = options.find("coordinates");
  if (at == options.end()) {
    if (options.contains("unit") || (system && system->unit != "degrees")) {
      return false;
    }
    return system.has_value() || are_degrees(all);
  }
  if (at->second != "degrees" && at->second != "metres") {
    throw importing::Refused("", "coordinates=" + at->second + " is not known",
                             "give coordinates=degrees or coordinates=metres");
  }
  return at->second == "degrees";
}

/// Refused where no model reaches so far.
void judge_spread(const std::vector<Footprint>& all) {
  if (const double spread_m = spread(all); spread_m > widest_m) {
    throw importing::Refused(
        "",
        all.size() > 1
            ? "the footprints lie " + std::to_string(std::lround(spread_m / 1000.0)) +
                  " km apart, too far for one model"
            : "the footprint is " + std::to_string(std::lround(spread_m / 1000.0)) + " km long",
        all.size() > 1 ? "pick one with the option feature=N, N from 0 to " +
                             std::to_string(all.size() - 1) + ", or cut the file down to 10 km"
                       : "give buildings, in degrees or in metres (option coordinates)");
  }
}

}  // namespace

void to_metres(std::vector<Footprint>& all, const Options& options,
               const std::optional<importing::ReferenceSystem>& system,
               const importing::Host& host) {
  const std::string asked = importing::unit_option(options);
  if (wants_degrees(all, options, system)) {
    join_at_180(all);
    project(all);
    host.note(
        "coordinates are taken as longitude and latitude (WGS 84), turned into metres about "
        "the middle of the file; north is up");
  } else {
    const std::string said =
        importing::system_note(system.value_or(importing::ReferenceSystem{}), asked, "positions");
    scale(all, importing::metres_in(asked.empty() && system ? system->unit : asked));
    host.note(said.empty() ? "coordinates are taken as plain metres; north is taken as up"
                           : said + "; north is taken as up");
  }
  judge_spread(all);
  move_to_origin(all);
  host.note("the plan is moved so that its lower left corner is 0, 0, and rounded to 1 mm");
}

std::size_t leave_out_outlines(std::vector<Footprint>& all) {
  constexpr double least_covered = 0.9;
  const auto middle = [](const Ring& ring) {
    Position sum{0.0, 0.0};
    for (const Position& p : ring) {
      sum = {sum[0] + p[0] / static_cast<double>(ring.size()),
             sum[1] + p[1] / static_cast<double>(ring.size())};
    }
    return sum;
  };
  const auto is_covered = [&](const Footprint& outline) {
    if (outline.is_part || outline.rings.empty()) {
      return false;
    }
    double covered = 0.0;
    for (const Footprint& part : all) {
      if (part.is_part && !part.rings.empty() &&
          importing::contains(outline.rings.front(), middle(part.rings.front()))) {
        covered += std::abs(twice_area(part.rings.front()));
      }
    }
    return covered > 0.0 && covered >= least_covered * std::abs(twice_area(outline.rings.front()));
  };
  std::vector<Footprint> kept;
  for (const Footprint& one : all) {
    if (!is_covered(one)) {
      kept.push_back(one);
    }
  }
  const std::size_t left_out = all.size() - kept.size();
  all = std::move(kept);
  return left_out;
}

double twice_area(const Ring& ring) {
  double sum = 0.0;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Position& a = ring[i];
    const Position& b = ring[(i + 1) % ring.size()];
    sum += (a[0] - ring[0][0]) * (b[1] - ring[0][1]) - (a[1] - ring[0][1]) * (b[0] - ring[0][0]);
  }
  return sum;
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
