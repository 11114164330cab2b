// Reads clouds of points as text (XYZ, PTS): planes are found in them, outlined, and given for a
// model to be made of.
#include "plugin/importer_abi.h"
#include "units/length.hpp"

#include "support/importing.hpp"
#include "support/planes.hpp"
#include "support/vectors.hpp"
#include "xyz/cloud.hpp"
#include "xyz/outline.hpp"
#include "xyz/read.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <limits>

namespace ridgeward::xyz {
namespace {

using importing::counted;
using importing::Host;
using importing::Refused;
using Options = std::map<std::string, std::string>;

constexpr double usual_tolerance_m = 0.06;
constexpr double usual_least_area_m2 = 1.0;
constexpr double least_upward = 0.17;         // of the normal: flatter than 80 degrees
constexpr double least_upward_ground = 0.97;  // flatter than 14 degrees
constexpr double least_storey_m = 1.5;        // no roof lies lower over the ground
constexpr double usual_plate_m = 2.5;
constexpr double farthest_m = 500.0;
constexpr double thinned_m = 0.08;
constexpr std::size_t most_kept = 500'000;

double unit_of(const Options& options) {
  constexpr double us_foot_m = 1200.0 / 3937.0;
  const std::map<std::string, double> known{{"m", 1.0},           {"ft", units::foot_m},
                                            {"us_ft", us_foot_m}, {"mm", 0.001},
                                            {"cm", 0.01},         {"in", units::inch_m}};
  const auto at = options.find("unit");
  if (at == options.end()) {
    return 1.0;
  }
  const auto unit = known.find(at->second);
  if (unit == known.end()) {
    throw Refused("", "unit=" + at->second + " is not known", "give m, ft, us_ft, mm, cm or in");
  }
  return unit->second;
}

bool is_y_up(const Options& options) {
  const auto at = options.find("up");
  if (at != options.end() && at->second != "y" && at->second != "z") {
    throw Refused("", "up=" + at->second + " is not known", "give up=y or up=z");
  }
  return at != options.end() && at->second == "y";
}

std::string words(const char* form, double a, double b = 0.0) {
  std::array<char, 200> text{};
  std::snprintf(text.data(), text.size(), form, a, b);
  return text.data();
}

/// Moves the points so that their middle is 0, 0 and drops those that lie far from it. Returns how
/// far they were moved.
Point gather(std::vector<Point>& points, const Host& host) {
  Point middle{0.0, 0.0, 0.0};
  for (std::size_t k = 0; k < 3; ++k) {
    std::vector<double> values;
    values.reserve(points.size());
    for (const Point& p : points) {
      values.push_back(p.at(k));
    }
    const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), half, values.end());
    middle.at(k) = std::floor(*half);
  }
  for (Point& p : points) {
    p = importing::minus(p, middle);
  }
  const std::size_t far = std::erase_if(points, [](const Point& p) {
    return std::abs(p[0]) > farthest_m || std::abs(p[1]) > farthest_m ||
           std::abs(p[2]) > farthest_m;
  });
  if (far > points.size() / 20) {
    throw Refused("", "the points reach over more than 1000 m",
                  "cut out the building and its surroundings; of other units name them with the "
                  "option unit");
  }
  if (far > 0) {
    host.note(counted(far, "point") + " more than 500 m from the middle of all are left out");
  }
  return middle;
}

/// Refused where degrees were given, or hardly anything.
void check_extent(const std::vector<Point>& points, const Point& middle) {
  Point low = points.front();
  Point high = low;
  for (const Point& p : points) {
    for (std::size_t k = 0; k < 3; ++k) {
      low.at(k) = std::min(low.at(k), p.at(k));
      high.at(k) = std::max(high.at(k), p.at(k));
    }
  }
  const double across_m = std::max(high[0] - low[0], high[1] - low[1]);
  if (across_m < 0.5 && high[2] - low[2] > 1.0 && std::abs(middle[0]) < 181.0 &&
      std::abs(middle[1]) < 181.0) {
    throw Refused("", "the points seem to be degrees of longitude and latitude",
                  "project them to metres first");
  }
  if (across_m < 1.0) {
    throw Refused("", words("the points reach over %.3f m only: that is no roof", across_m),
                  "check the unit of the file (option unit), and that it is whole");
  }
}

struct Roof {
  std::vector<Region> regions;
  double ground_m = 0.0;
  std::size_t ground_points = 0;
  std::size_t wall_points = 0;
};

double middle_height(const std::vector<Point>& points, const Region& region) {
  double sum = 0.0;
  for (const Index k : region.points) {
    sum += points[k][2];
  }
  return sum / static_cast<double>(region.points.size());
}

/// Whether `region` lies around what stands over it: on all four sides of its middle half.
bool lies_around(const std::vector<Point>& points, const Region& region, double over_m) {
  std::array<double, 4> above{1e9, 1e9, -1e9, -1e9};
  std::array<double, 4> own = above;
  const auto take = [](std::array<double, 4>& box, const Point& p) {
    box = {std::min(box[0], p[0]), std::min(box[1], p[1]), std::max(box[2], p[0]),
           std::max(box[3], p[1])};
  };
  for (const Point& p : points) {
    if (p[2] > over_m) {
      take(above, p);
    }
  }
  for (const Index k : region.points) {
    take(own, points[k]);
  }
  const double x = (above[2] - above[0]) / 4.0;
  const double y = (above[3] - above[1]) / 4.0;
  return x > 0.0 && own[0] < above[0] + x && own[1] < above[1] + y && own[2] > above[2] - x &&
         own[3] > above[3] - y;
}

/// The lowest level region that lies around what stands a storey over it; none where all is roof.
const Region* ground_of(const std::vector<Point>& points, const std::vector<Region>& regions) {
  const Region* ground = nullptr;
  for (const Region& region : regions) {
    const double height_m = middle_height(points, region);
    if (region.plane.normal[2] > least_upward_ground &&
        lies_around(points, region, height_m + least_storey_m) &&
        (ground == nullptr || height_m < middle_height(points, *ground))) {
      ground = &region;
    }
  }
  return ground;
}

/// Parts walls and ground from the roof. `given_m`: the ground's height, where the user said it.
Roof roof_of(const std::vector<Point>& points, std::vector<Region> regions,
             const std::optional<double>& given_m, double tolerance_m) {
  Roof roof;
  std::erase_if(regions, [&](const Region& region) {
    const bool is_wall = region.plane.normal[2] < least_upward;
    roof.wall_points += is_wall ? region.points.size() : 0;
    return is_wall || region.spread_m > tolerance_m;
  });
  std::optional<double> ground_m = given_m;
  if (!ground_m) {
    if (const Region* ground = ground_of(points, regions)) {
      ground_m = middle_height(points, *ground);
    }
  }
  if (ground_m) {
    std::erase_if(regions, [&](const Region& region) {
      const bool is_ground = middle_height(points, region) < *ground_m + least_storey_m;
      roof.ground_points += is_ground ? region.points.size() : 0;
      return is_ground;
    });
  }
  double lowest_m = std::numeric_limits<double>::infinity();
  for (const Region& region : regions) {
    for (const Index k : region.points) {
      lowest_m = std::min(lowest_m, points[k][2]);
    }
  }
  roof.ground_m = ground_m.value_or(lowest_m - usual_plate_m);
  roof.regions = std::move(regions);
  return roof;
}

void tell(const Roof& roof, bool has_ground, std::size_t all, const Host& host) {
  std::size_t used = 0;
  double squares = 0.0;
  for (const Region& region : roof.regions) {
    used += region.points.size();
    squares += region.spread_m * region.spread_m * static_cast<double>(region.points.size());
  }
  host.note(counted(used, "point") + " lie on " + counted(roof.regions.size(), "roof plane") +
            words(", %.3f m off on average (root mean square); ",
                  std::sqrt(squares / static_cast<double>(std::max<std::size_t>(used, 1)))) +
            std::to_string(roof.ground_points) + " on the ground, " +
            std::to_string(roof.wall_points) + " on walls and " +
            std::to_string(all - used - roof.ground_points - roof.wall_points) +
            " on nothing flat are left out");
  if (!has_ground) {
    host.note("no ground is in the file: it is taken to lie 2.5 m beneath the lowest roof point");
  }
}

/// Thins the points out and tells their density. Refused where there are too many or too few.
Density thinned(std::vector<Point>& points, bool has_words, const Host& host) {
  const std::size_t read = points.size();
  thin_out(points, thinned_m);
  if (points.size() > most_kept) {
    throw Refused("", "there are more than 500 000 points even 8 cm apart",
                  "cut out the building and its surroundings");
  }
  const Density density = density_of(points);
  if (density.per_m2 <= 0.0) {
    throw Refused("", "the points lie too thinly: fewer than about 3 on a square metre",
                  "check the unit of the file (option unit), or measure more densely");
  }
  host.note(counted(read, "point") + " read" + (has_words ? ", a line of words passed over" : "") +
            (points.size() < read ? "; thinned out to " + std::to_string(points.size()) : "") +
            words("; about %.0f on a square metre, neighbours are looked for within %.2f m",
                  density.per_m2, density.reach_m));
  return density;
}

void import_bytes(std::string_view bytes, const Options& options, const Host& host) {
  if (bytes.starts_with("LASF")) {
    throw Refused("", "this is a LAS file, which can't be read here",
                  "write its points as text, x y z a line (.xyz), with a tool of yours");
  }
  const Axes axes{unit_of(options), is_y_up(options)};
  const double tolerance_m =
      importing::number_option(options, "tolerance", 0.01, 1.0).value_or(usual_tolerance_m);
  const double least_area_m2 =
      importing::number_option(options, "least_area", 0.1, 100.0).value_or(usual_least_area_m2);
  std::optional<double> ground_m = importing::number_option(options, "ground", -1000.0, 10000.0);
  Text text = read_text(bytes, axes);
  std::vector<Point> points = std::move(text.points);
  if (points.size() < 10) {
    throw Refused("", counted(points.size(), "point") + " make no roof",
                  "give a file with x, y, z on each line");
  }
  const Point moved = gather(points, host);
  check_extent(points, moved);
  if (!host.go_on(0.3)) {
    return;
  }
  const auto [per_m2, reach_m] = thinned(points, text.passed_over > 0, host);
  const auto least_points = static_cast<std::size_t>(per_m2 * least_area_m2 / 2.0);
  std::vector<Region> flat = flat_regions(points, reach_m, tolerance_m, least_points);
  if (!host.go_on(0.7)) {
    return;
  }
  if (ground_m) {
    *ground_m -= moved[2];
  }
  Roof roof = roof_of(points, std::move(flat), ground_m, tolerance_m);
  tell(roof, ground_m.has_value() || roof.ground_points > 0, points.size(), host);
  Outlined outlined = outline(points, std::move(roof.regions), reach_m, least_area_m2);
  if (outlined.polygons.empty()) {
    throw Refused("", "nothing flat that could be a roof is in the file",
                  "check unit and up; a wider tolerance or a smaller least_area may help");
  }
  if (outlined.filled_holes > 0) {
    host.note("holes filled, in which no other roof is seen: " +
              std::to_string(outlined.filled_holes));
  }
  for (importing::Polygon& polygon : outlined.polygons) {
    for (importing::Ring& ring : polygon) {
      for (Point& p : ring) {
        p = importing::plus(p, moved);
      }
    }
  }
  host.emit(importing::planes_json(
      "", {{"points", roof.ground_m + moved[2], std::move(outlined.polygons)}}, tolerance_m));
}

int sniff(const char* head, std::size_t size, const char* file_name) {
  const std::string_view text(head, size);
  if (text.starts_with("LASF")) {
    return 90;
  }
  if (!looks_like_points(text)) {
    return 0;
  }
  const std::string name = importing::small(file_name == nullptr ? "" : file_name);
  const bool is_ours = name.ends_with(".xyz") || name.ends_with(".pts") || name.ends_with(".asc");
  return is_ours ? 90 : 40;
}

constexpr ridgeward_importer_table table{
    RIDGEWARD_IMPORTER_ABI,
    sizeof(ridgeward_importer_table),
    "xyz",
    "points that were measured on a house, one a line: x, y, z and further columns (XYZ, PTS)",
    ".xyz .pts .asc",
    sniff,
    importing::read_with<import_bytes>};

}  // namespace
}  // namespace ridgeward::xyz

extern "C" __attribute__((visibility("default"))) const ridgeward_importer_table*
ridgeward_importer(std::uint32_t host_abi) {
  return host_abi == RIDGEWARD_IMPORTER_ABI ? &ridgeward::xyz::table : nullptr;
}
