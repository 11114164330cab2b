// Clouds of points to models. The clouds are drawn from the demo houses' own surfaces, so that what
// must come back is known: density, noise and outliers as airborne laser scans of towns have them
// (common practice, no source).
#include "model/read.hpp"
#include "surface/stage.hpp"

#include "importers/bare_planes.hpp"
#include "importers/imported.hpp"
#include "rebuild/stage.hpp"
#include "support/plans.hpp"
#include "support/program.hpp"
#include "support/seed.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <glm/common.hpp>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <random>
#include <string>

using namespace ridgeward;
using namespace ridgeward::tests;

namespace {

constexpr double per_m2 = 20.0;
constexpr double noise_m = 0.02;
constexpr double outliers = 0.05;

struct Cloud {
  std::vector<glm::dvec3> points;
  double roof_m2 = 0.0;
};

bool is_over(const surface::Surface& surface, const surface::Plane& plane, glm::dvec2 p) {
  bool is_in = false;
  for (const surface::Loop& loop : plane.loops) {
    const std::vector<glm::dvec3> corners = surface::corners(surface, loop);
    for (std::size_t i = 0; i < corners.size(); ++i) {
      const glm::dvec3 a = corners[i];
      const glm::dvec3 b = corners[(i + 1) % corners.size()];
      if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y)) {
        is_in = !is_in;
      }
    }
  }
  return is_in;
}

std::vector<glm::dvec3> corners_of(const surface::Surface& surface) {
  std::vector<glm::dvec3> all;
  for (const surface::Plane& plane : surface.planes) {
    for (const surface::Loop& loop : plane.loops) {
      const std::vector<glm::dvec3> corners = surface::corners(surface, loop);
      all.insert(all.end(), corners.begin(), corners.end());
    }
  }
  return all;
}

/// Points on the roof, on level ground around it and, in a band of 1 m, on the walls of its box.
class Scanner {
 public:
  explicit Scanner(std::uint64_t number) : random_(tests::seed() + number) {}

  Cloud scan(const surface::Surface& surface) {
    Cloud cloud;
    glm::dvec3 low(1e9);
    glm::dvec3 high(-1e9);
    for (const surface::Plane& plane : surface.planes) {
      cloud.roof_m2 += plane.area_m2;
    }
    for (const glm::dvec3& p : corners_of(surface)) {
      low = glm::min(low, p);
      high = glm::max(high, p);
    }
    for (const surface::Plane& plane : surface.planes) {
      const glm::dvec3 normal = plane.frame.normal;
      each(low, high, per_m2 / normal.z, [&](glm::dvec2 p) {
        if (is_over(surface, plane, p)) {
          const glm::dvec2 from = p - glm::dvec2(plane.frame.origin);
          add(cloud,
              {p.x, p.y, plane.frame.origin.z - glm::dot(glm::dvec2(normal), from) / normal.z});
        }
      });
    }
    const glm::dvec3 around(4.0, 4.0, 0.0);
    each(low - around, high + around, per_m2, [&](glm::dvec2 p) {
      const bool is_roof =
          std::any_of(surface.planes.begin(), surface.planes.end(),
                      [&](const surface::Plane& plane) { return is_over(surface, plane, p); });
      if (!is_roof) {
        add(cloud, {p.x, p.y, 0.0});
      }
    });
    for (double x = low.x + 1.0; x < high.x - 1.0; x += 0.2) {
      for (double z = 0.1; z < low.z - 0.4; z += 0.2) {
        add(cloud, {x, low.y + 0.6, z});
      }
    }
    const auto wrong =
        static_cast<std::size_t>(outliers * static_cast<double>(cloud.points.size()));
    for (std::size_t i = 0; i < wrong; ++i) {
      cloud.points.emplace_back(between(low.x - 1.0, high.x + 1.0),
                                between(low.y - 1.0, high.y + 1.0), between(0.0, high.z + 1.0));
    }
    std::shuffle(cloud.points.begin(), cloud.points.end(), random_);
    return cloud;
  }

 private:
  double between(double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random_);
  }
  template <class Take>
  void each(glm::dvec3 low, glm::dvec3 high, double density, Take take) {
    const auto count = static_cast<std::size_t>((high.x - low.x) * (high.y - low.y) * density);
    for (std::size_t i = 0; i < count; ++i) {
      take(glm::dvec2(between(low.x, high.x), between(low.y, high.y)));
    }
  }
  void add(Cloud& cloud, glm::dvec3 p) {
    std::normal_distribution<double> off(0.0, noise_m);
    cloud.points.emplace_back(p.x + off(random_), p.y + off(random_), p.z + off(random_));
  }

  std::mt19937_64 random_;
};

std::string as_text(const Cloud& cloud, const char* form = "{:.3f} {:.3f} {:.3f}\n",
                    glm::dvec3 moved = glm::dvec3(0.0), double unit_m = 1.0) {
  std::string text;
  for (const glm::dvec3& p : cloud.points) {
    const glm::dvec3 q = (p + moved) / unit_m;
    text += fmt::format(fmt::runtime(form), q.x, q.y, q.z);
  }
  return text;
}

model::RoofModel drawn(const std::string& name) {
  const auto read = model::read_file(support::demo_house(name));
  REQUIRE(read.ok());
  model::RoofModel roof = read.value().model;
  roof.obstacles.clear();
  return roof;
}

double length_of(const surface::Surface& surface, surface::LineKind kind) {
  double sum = 0.0;
  for (const surface::Line& line : surface.lines) {
    sum += line.kind == kind ? line.length_m : 0.0;
  }
  return sum;
}

double degrees_between(glm::dvec3 a, glm::dvec3 b) {
  return std::acos(std::min(1.0, glm::dot(a, b))) * 180.0 / std::acos(-1.0);
}

}  // namespace

TEST_CASE("scanned demo houses come back as parts with their planes, pitches and lengths") {
  // docs/importers.md states these bounds. What holds for every scan is asked of every one; the
  // rest of nine in ten, for where few points fall on a corner, it may go otherwise.
  struct House {
    const char* name;
    std::size_t planes;
  };
  const std::vector<House> houses{{"plain-gable", 2}, {"heron-court", 8}, {"otter-barn", 4},
                                  {"plover-hall", 3}, {"wren-cape", 2},   {"sorrel-lane", 5}};
  std::size_t right = 0;
  std::size_t all = 0;
  for (std::size_t i = 0; i < support::cases_or(18); ++i) {
    const House& house = houses[i % houses.size()];
    INFO(house.name << ", scan " << i);
    const surface::Surface before = raised(drawn(house.name));
    REQUIRE(before.planes.size() == house.planes);
    const Cloud cloud = Scanner(i).scan(before);
    const rebuild::Rebuilt again = rebuilt("xyz", as_text(cloud));
    REQUIRE(again.fits.size() == 1);
    const rebuild::Fit& fit = again.fits[0];
    CHECK(fit.planes_given == house.planes);
    CHECK(fit.distance_m < 0.12);
    CHECK(fit.area_rebuilt_m2 == Approx(cloud.roof_m2).epsilon(0.12));
    const surface::Surface after = raised(again.model);
    // Each plane is one that was drawn: pitch and direction to half a degree.
    for (const surface::Plane& plane : after.planes) {
      double nearest = 180.0;
      for (const surface::Plane& other : before.planes) {
        nearest = std::min(nearest, degrees_between(plane.frame.normal, other.frame.normal));
      }
      CHECK(nearest < 0.5);
    }
    const auto is_long = [&](surface::LineKind kind) {
      return length_of(after, kind) == Approx(length_of(before, kind)).epsilon(0.02).margin(0.25);
    };
    const bool is_right = fit.plain == 0 &&
                          fit.area_rebuilt_m2 == Approx(cloud.roof_m2).epsilon(0.015) &&
                          is_long(surface::LineKind::eave) && is_long(surface::LineKind::ridge);
    right += is_right ? 1U : 0U;
    ++all;
  }
  INFO(right << " of " << all);
  CHECK(support::is_share_at_least(0.9, right, all));
}

TEST_CASE("points are read as scanners and surveyors write them") {
  const Cloud cloud = Scanner(7).scan(raised(drawn("plain-gable")));
  const double right_m2 = rebuilt("xyz", as_text(cloud)).fits[0].area_rebuilt_m2;
  const auto same = [&](const std::string& text, const std::string& options = "") {
    const rebuild::Rebuilt house = rebuilt("xyz", text, options);
    CHECK(house.model.parts.size() == 1);
    CHECK(house.fits[0].area_rebuilt_m2 == Approx(right_m2).epsilon(0.025));
    return house;
  };
  // 1 ft = 0.3048 m (international yard and pound agreement of 1959); US survey foot 1200/3937 m.
  const glm::dvec3 here(0.0);
  same(as_text(cloud, "{:.4f},{:.4f},{:.4f}\n", here, 0.3048), "unit=ft");
  same(as_text(cloud, "{:.4f}\t{:.4f}\t{:.4f}\t7\n", here, 1200.0 / 3937.0), "unit=us_ft");
  same("id;Height;Easting;Northing\r\n" + [&] {
    std::string text;
    for (const glm::dvec3& p : cloud.points) {
      text += fmt::format("a;{:.3f};{:.3f};{:.3f}\r\n", p.z, p.x, p.y);
    }
    std::replace(text.begin(), text.end(), '.', ',');
    return text;
  }());
  same(fmt::format("# scan 1\n{}\n", cloud.points.size()) +
       as_text(cloud, "{:.3f} {:.3f} {:.3f} 120 255 0 17\n"));
  std::string y_up;
  for (const glm::dvec3& p : cloud.points) {
    y_up += fmt::format("{:.3f} {:.3f} {:.3f}\n", p.x, p.z, -p.y);
  }
  same(y_up, "up=y");
  // Coordinates as national grids have them; the ground is found, so plates count from it.
  const rebuild::Rebuilt far =
      same(as_text(cloud, "{:.3f} {:.3f} {:.3f}\n", {3512345.0, 5401234.0, 412.0}));
  double lowest_m = 1e9;
  for (const glm::dvec3& p : corners_of(raised(drawn("plain-gable")))) {
    lowest_m = std::min(lowest_m, p.z);
  }
  CHECK(far.model.parts[0].plate_m == Approx(lowest_m).margin(0.06));
}

TEST_CASE("clouds that are no roof are refused with the line or the reason") {
  const auto says = [](const std::string& text, const std::string& words,
                       const std::string& options = "") {
    const Fault fault = refused("xyz", text, options);
    INFO(fault.where << ": " << fault.what);
    CHECK((fault.where + ": " + fault.what).find(words) != std::string::npos);
  };
  const auto grid = [](const char* form, double step) {
    std::string text;
    for (int i = 0; i < 40; ++i) {
      for (int j = 0; j < 40; ++j) {
        text += fmt::format(fmt::runtime(form), i * step, j * step, (i + j) % 7 * step);
      }
    }
    return text;
  };
  says("", "0 points");
  says("# nothing\nx y z\n", "0 points");
  says("1 2 3\n", "1 point ");
  std::string line;
  for (int i = 0; i < 500; ++i) {
    line += fmt::format("{} {} {}\n", i * 0.1, i * 0.2, i * 0.05);
  }
  says(line, "thinly");
  says("x y z\n1 2 3\n1 2\n", "line 3: ");
  says("x y z\nand more words\n", "line 2: ");
  says("1 2 3\n1 nan 3\n", "line 2: a coordinate is no number");
  says("1 2 3\n1 2 inf\n", "line 2: a coordinate is no number");
  says("1 2 3\n1 2 1e999\n", "line 2: a coordinate is no number");
  says("5\n1 2 3\n1 2 3\n", "has 5 points, but there are 2");
  says(grid("{} {} {}\n", 40.0), "1000 m");
  says(grid("{} {} {}\n", 0.005), "that is no roof");
  says(grid("{} {} {}\n", 3.0), "thinly");
  says(grid("{0:.7f} {1:.7f} {2:.0f}\n", 1e-5) + "0 0 8\n", "degrees");
  says("1 2 3\n", "unit=yd", "unit=yd");
  says("1 2 3\n", "up=x", "up=x");
  says("1 2 3\n", "tolerance", "tolerance=9");
  says(std::string("LASF\0\0\0", 7), "LAS file");
  std::string many;
  many.reserve(60'000'006);
  for (int i = 0; i < 10'000'001; ++i) {
    many += "1 2 3\n";
  }
  says(many, "line 10000001: there are more than 10 million points");
}

TEST_CASE("a LAS file and a cloud find the importer by their content") {
  const auto sure = [](const std::string& head, const std::string& name) {
    const auto answer = plugin::sniff_apart(library("xyz"), head, name);
    REQUIRE(answer.ok());
    return answer.value();
  };
  CHECK(sure("1.0 2.0 3.0 9\n1.5 2.0 3.0 9\n1.", "a.xyz") > 80);
  CHECK(sure("1200\n1.0 2.0 3.0 9\n1.5 2.0 3.0 9\n", "a.pts") > 80);
  CHECK(sure("1,2,3\n4,5,6\n", "a.txt") > 0);
  CHECK(sure("LASF", "a.las") > 80);
  CHECK(sure("length,turn\n40,left\n", "walls.csv") == 0);
  CHECK(sure("v 1 2 3\n", "a.obj") == 0);
  CHECK(sure("", "a.xyz") == 0);
}
