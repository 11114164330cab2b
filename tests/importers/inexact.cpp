// Corners that are not exact: far from the origin, where single precision is coarse, or measured.
#include "importers/as_written.hpp"
#include "importers/imported.hpp"
#include "support/program.hpp"
#include "support/seed.hpp"
#include "support/words.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <array>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <map>
#include <random>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

using namespace ridgeward;
using namespace ridgeward::tests;

namespace {

/// As PLY with a colour before its doubles and y before x.
std::string columns_of(const Shape& shape, const std::string& format) {
  const bool is_text = format == "ascii";
  const auto number = [&](double value) {
    if (is_text) {
      return fmt::format(" {:.6f}", value);
    }
    std::string bytes(sizeof(value), '\0');
    std::memcpy(bytes.data(), &value, sizeof(value));
    return format == "binary_little_endian" ? bytes : std::string(bytes.rbegin(), bytes.rend());
  };
  const auto whole = [&](std::uint32_t value, std::size_t size) {
    std::string bytes;
    for (std::size_t i = 0; i < size; ++i) {
      const std::size_t shift = 8 * (format == "binary_little_endian" ? i : size - 1 - i);
      bytes += static_cast<char>(static_cast<unsigned char>(value >> shift));
    }
    return is_text ? fmt::format("{} ", value) : bytes;
  };
  std::string corners;
  std::string faces;
  std::uint32_t count = 0;
  for (const auto& face : shape) {
    faces += whole(static_cast<std::uint32_t>(face.size()), 1);
    for (const Spot& p : face) {
      corners += whole(200, 1) + number(p[1]) + number(p[0]) + number(p[2]) + (is_text ? "\n" : "");
      faces += whole(count++, 4);
    }
    faces += is_text ? "\n" : "";
  }
  return fmt::format(
             "ply\nformat {} 1.0\ncomment x y z\nelement vertex {}\nproperty uchar red\n"
             "property double y\nproperty double x\nproperty float64 z\nelement face {}\n"
             "property list uchar int vertex_indices\nend_header\n",
             format, count, shape.size()) +
         corners + faces;
}

/// As binary glTF, y up, `by` times as large, a mesh for each face.
std::string glb_of(const Shape& shape, double by, const std::string& nodes) {
  std::string bytes;
  std::string meshes;
  std::string accessors;
  std::string views;
  const auto word = [](std::size_t value) {
    const auto number = static_cast<std::uint32_t>(value);
    return std::string(reinterpret_cast<const char*>(&number), sizeof(number));
  };
  for (std::size_t i = 0; i < shape.size(); ++i) {
    const std::size_t start = bytes.size();
    for (std::size_t k = 1; k + 1 < shape[i].size(); ++k) {
      for (const Spot& p : {shape[i][0], shape[i][k], shape[i][k + 1]}) {
        for (const double value : {p[0], p[2], -p[1]}) {
          const auto single = static_cast<float>(value * by);
          bytes.append(reinterpret_cast<const char*>(&single), sizeof(single));
        }
      }
    }
    const char* comma = i == 0 ? "" : ",";
    meshes += fmt::format(R"({}{{"primitives":[{{"attributes":{{"POSITION":{}}}}}]}})", comma, i);
    accessors += fmt::format(
        R"({}{{"bufferView":{},"componentType":5126,"count":{},"type":"VEC3","min":[-99,-99,-99],)"
        R"("max":[99,99,99]}})",
        comma, i, (bytes.size() - start) / 12);
    views += fmt::format(R"({}{{"buffer":0,"byteOffset":{},"byteLength":{}}})", comma, start,
                         bytes.size() - start);
  }
  std::string scene = fmt::format(
      R"({{"asset":{{"version":"2.0"}},"scene":0,"scenes":[{{"nodes":[0]}}],"nodes":{},)"
      R"("meshes":[{}],"accessors":[{}],"bufferViews":[{}],"buffers":[{{"byteLength":{}}}]}})",
      nodes, meshes, accessors, views, bytes.size());
  scene.append((4 - scene.size() % 4) % 4, ' ');
  return "glTF" + word(2) + word(28 + scene.size() + bytes.size()) + word(scene.size()) + "JSON" +
         scene + word(bytes.size()) + std::string("BIN\0", 4) + bytes;
}

/// Each slope of the gable in `count` by `count` pieces, with errors in the heights.
Shape noisy(int count, double error_m) {
  std::mt19937_64 random(tests::seed());
  std::normal_distribution<double> off;
  std::map<std::array<long, 3>, double> errors;
  Shape all;
  for (const auto& slope : two_slopes) {
    const auto at = [&](int i, int j) {
      const double u = static_cast<double>(i) / count;
      const double v = static_cast<double>(j) / count;
      Spot p{};
      std::array<long, 3> key{};
      for (std::size_t k = 0; k < 3; ++k) {
        p.at(k) = slope[0].at(k) + u * (slope[1].at(k) - slope[0].at(k)) +
                  v * (slope[3].at(k) - slope[0].at(k));
        key.at(k) = std::lround(p.at(k) * 1e4);
      }
      const auto [found, is_new] = errors.emplace(key, 0.0);
      if (is_new) {
        // At most 3.3 times the error: what lies farther off is no noise.
        do {
          found->second = error_m * off(random);
        } while (std::abs(found->second) > 3.3 * error_m);
      }
      p[2] += found->second;
      return p;
    };
    for (int i = 0; i < count; ++i) {
      for (int j = 0; j < count; ++j) {
        all.push_back({at(i, j), at(i + 1, j), at(i + 1, j + 1)});
        all.push_back({at(i, j), at(i + 1, j + 1), at(i, j + 1)});
      }
    }
  }
  return all;
}

/// Hips over 12 m by 8 m at 3 in 4, in triangles of `step_m`, each corner moved in all directions.
Shape noisy_hips(double step_m, double error_m) {
  std::mt19937_64 random(tests::seed());
  std::normal_distribution<double> off;
  const int count_x = static_cast<int>(std::lround(12.0 / step_m));
  const int count_y = static_cast<int>(std::lround(8.0 / step_m));
  std::vector<std::vector<Spot>> corners;
  for (int i = 0; i <= count_x; ++i) {
    corners.emplace_back();
    for (int j = 0; j <= count_y; ++j) {
      const double x = i * step_m;
      const double y = j * step_m;
      const double z = 3.0 + 0.75 * std::min({x, 12.0 - x, y, 8.0 - y});
      corners.back().push_back({x, y, z});
      for (double& value : corners.back().back()) {
        value += error_m * off(random);
      }
    }
  }
  Shape all;
  for (int i = 0; i < count_x; ++i) {
    for (int j = 0; j < count_y; ++j) {
      const Spot& a = corners[i][j];
      const Spot& b = corners[i + 1][j];
      const Spot& c = corners[i + 1][j + 1];
      const Spot& d = corners[i][j + 1];
      const bool is_rising = (2 * i < count_x) == (2 * j < count_y);  // as the hips run
      all.push_back(is_rising ? std::vector{a, b, c} : std::vector{a, b, d});
      all.push_back(is_rising ? std::vector{a, c, d} : std::vector{b, c, d});
    }
  }
  return all;
}

}  // namespace

TEST_CASE("what lies far from the origin comes back as exactly") {
  // The middle of a zone of UTM, 48 degrees north: 500 km east, 5300 km north.
  const std::array<double, 2> away{512345.25, 5312345.75};
  const double step = 1e-4;
  for (const double turned : {0.0, 17.0}) {
    CAPTURE(turned);
    for (const double unit_m : {1.0, 0.001}) {
      Written file{.unit_m = unit_m, .site = away, .turned_deg = turned};
      file.unit = unit_m == 1.0 ? file.unit : "#1=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);\n";
      const Told all = told("ifc", IfcText(file).whole());
      require_gable(all.house, step);
      CHECK(all.house.model.parts[0].plate_m == Approx(3.0).margin(1e-4));
      CHECK(all.house.origin.y == Approx(away[1]).epsilon(1e-9));
    }
    const Shape far = moved_by(two_slopes, turned, {away[0], away[1], 300.0});
    for (const auto& [bytes, up] : {std::pair(obj_of(far), "up=y"), std::pair(stl_of(far), "up=z"),
                                    std::pair(ply_of(far), "up=z")}) {
      const Told all = told("mesh", bytes, up);
      require_gable(all.house, step);
      CHECK(all.house.origin.y == Approx(away[1]).epsilon(1e-9));
      CHECK(all.house.model.parts[0].plate_m == Approx(303.0).margin(1e-3));
      CHECK_FALSE(support::has(all.notes, "single precision"));
    }
  }
  // The cure never names an option that is not there.
  const Fault gone = refused("ifc", IfcText({.unit_m = 1e-7}).whole());
  CHECK_FALSE(support::has(gone.cure, "scale"));
}

TEST_CASE("IFC: shapes that are far away in themselves come back as exactly") {
  const std::array<double, 2> away{512345.25, 5312345.75};
  // By hand: the tops of slabs 0.2 m thick end 0.15 m short of the ridge along the slope, and are
  // carried on.
  const double slabs_m2 = 2.0 * 12.0 * 5.15;
  for (const double turned : {0.0, 17.0}) {
    for (const double unit_m : {1.0, 0.001}) {
      CAPTURE(turned, unit_m);
      Written file{.unit_m = unit_m, .turned_deg = turned, .shape = away};
      file.unit = unit_m == 1.0 ? file.unit : "#1=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);\n";
      const Told faces = told("ifc", IfcText(file).whole());
      require_gable(faces.house, 1e-4);
      CHECK(faces.house.model.parts[0].plate_m == Approx(3.0).margin(1e-4));
      CHECK_FALSE(support::has(faces.notes, "single precision"));
      const double turn = turned * M_PI / 180.0;
      CHECK(std::hypot(faces.house.origin.x, faces.house.origin.y) ==
            Approx(std::hypot(away[0], away[1])).epsilon(1e-5));
      CHECK(faces.house.origin.x ==
            Approx(std::cos(turn) * away[0] - std::sin(turn) * away[1]).margin(20.0));
      for (const bool is_in_outlines : {false, true}) {
        file.is_in_outlines = is_in_outlines;
        const Told slabs = told("ifc", SlabText(file).whole());
        CHECK(slabs.house.fits[0].plain == 0);
        CHECK(slabs.house.fits[0].planes_given == 2);
        CHECK(slabs.house.fits[0].area_rebuilt_m2 == Approx(slabs_m2).epsilon(1e-4));
        CHECK_FALSE(support::has(slabs.notes, "single precision"));
      }
    }
  }
}

TEST_CASE("PLY: doubles far from the origin keep their digits, in any order and either way round") {
  const Shape far = moved_by(two_slopes, 17.0, {512345.25, 5312345.75, 300.0});
  const Told plain = told("mesh", columns_of(far, "ascii"));
  require_gable(plain.house, 1e-4);
  for (const char* format : {"binary_little_endian", "binary_big_endian"}) {
    CAPTURE(format);
    const Told all = told("mesh", columns_of(far, format));
    require_gable(all.house, 1e-4);
    CHECK(all.house.origin.y == Approx(5312345.75).epsilon(1e-7));
    CHECK(all.house.model.parts[0].plate_m == Approx(303.0).margin(1e-3));
    CHECK_FALSE(support::has(all.notes, "single precision"));
  }
}

TEST_CASE("glTF: nodes far from the origin keep their digits") {
  // glTF 2.0, 3.5: corners are single, numbers of nodes are not. Each slope hangs on a node of its
  // own; the group above them is turned by 90 degrees about the upright (x, y, z, w) and twice as
  // large, so that the slopes are half as large.
  const std::string turn = fmt::format("[0,{0:.17g},0,{0:.17g}]", std::sqrt(0.5));
  const std::string group =
      R"({"name":"house","children":[1,2],"translation":[512345.25,300,-5312345.75],"scale":[2,2,2],)"
      R"("rotation":)" +
      turn + "}";
  const std::string nodes = "[" + group +
                            R"(,{"mesh":0,"translation":[0.3,0,0.7]},)"
                            R"({"mesh":1,"matrix":[1,0,0,0,0,1,0,0,0,0,1,0,0.3,0,0.7,1]}])";
  const Told all = told("mesh", glb_of(two_slopes, 0.5, nodes));
  require_gable(all.house, 1e-4);
  CHECK(all.house.model.parts[0].plate_m == Approx(303.0).margin(1e-3));
  CHECK(all.house.origin.y == Approx(5312345.75).epsilon(1e-5));
  CHECK_FALSE(support::has(all.notes, "single precision"));
  // The same where each slope stands so far away by itself.
  const std::string apart =
      R"([{"children":[1,2]},{"mesh":0,"translation":[512345.3,300,-5312345.7]},)"
      R"({"mesh":1,"translation":[512345.3,300,-5312345.7]}])";
  require_gable(told("mesh", glb_of(two_slopes, 1.0, apart)).house, 1e-4);
}

TEST_CASE("what single precision has lost is said, and the planes are found as coarsely") {
  // IEEE 754 binary32: 24 bits. From 2^18 on to 2^19 numbers stand 2^-5 m apart, from 2^22 on to
  // 2^23 half a metre; a house of 12 m by 8 m is then known to a few hundredths.
  const std::string coarse = binary_stl_of(moved_by(two_slopes, 17.0, {412345.25, 312345.75, 0.0}));
  const Told near = told("mesh", coarse);
  CHECK(support::has(near.notes, "on a grid of 0.044 m only"));
  CHECK(support::has(near.notes, "the tolerance is taken as 0.045 m"));
  CHECK(near.house.fits[0].plain == 0);
  CHECK(near.house.fits[0].planes_given == 2);
  CHECK(near.house.fits[0].area_rebuilt_m2 == Approx(gable_area_m2).epsilon(0.01));
  CHECK(support::has(told("mesh", coarse, "tolerance=0.03").notes, "the tolerance is as given"));
  const Told far =
      told("mesh", binary_stl_of(moved_by(two_slopes, 17.0, {512345.25, 5312345.75, 0.0})));
  CHECK(support::has(far.notes, "on a grid of 0.5 m only"));
  CHECK(far.house.fits[0].planes_given == 2);
  CHECK(far.house.fits[0].area_rebuilt_m2 == Approx(gable_area_m2).epsilon(0.05));
}

TEST_CASE("noisy meshes come back as one roof") {
  // Errors of a third of the tolerance, in triangles of a hand's width up to a metre and a half.
  for (const auto& [count, error_m, tolerance] :
       {std::tuple(20, 0.003, "tolerance=0.01"), std::tuple(20, 0.02, "tolerance=0.1"),
        std::tuple(8, 0.003, "tolerance=0.01"), std::tuple(40, 0.006, "tolerance=0.03")}) {
    CAPTURE(count, error_m);
    const Told all = told("mesh", obj_of(noisy(count, error_m)), tolerance);
    require_gable(all.house, 0.01);
    CHECK(all.house.fits[0].planes_given == 2);
  }
  // A mesh as fine as its roof is wide: what lies under others is looked up, not searched.
  const Told fine = told("mesh", obj_of(noisy(150, 0.0)));
  require_gable(fine.house);
}

TEST_CASE("noise of a measured mesh is told from it, and its planes come back whole") {
  // By hand: the plan grows by 5/4 at 3 in 4.
  const double area_m2 = 12.0 * 8.0 * 1.25;
  const auto check = [&](const Told& all) {
    REQUIRE(all.house.model.parts.size() == 1);
    CHECK(all.house.fits[0].plain == 0);
    CHECK(all.house.fits[0].planes_given == 4);
    CHECK(all.house.fits[0].area_rebuilt_m2 == Approx(area_m2).epsilon(0.01));
    CHECK(all.house.model.parts[0].edges.size() == 4);
    for (const model::Edge& edge : all.house.model.parts[0].edges) {
      CHECK(edge.kind == model::EdgeKind::eave);
      CHECK(edge.pitch.tangent() == Approx(0.75).epsilon(0.01));
    }
  };
  for (const double error_m : {0.0, 0.001, 0.005, 0.01}) {
    CAPTURE(error_m);
    const std::string bytes = obj_of(noisy_hips(0.25, error_m));
    const Told all = told("mesh", bytes);
    check(all);
    // Four deviations are more than the usual 10 mm from 2.5 mm on.
    CHECK(support::has(all.notes, "(standard deviation)") == (error_m > 0.0025));
    if (error_m > 0.0) {
      check(told("mesh", bytes, fmt::format("tolerance={}", 2.5 * error_m)));
    }
  }
  const std::string notes = told("mesh", obj_of(noisy_hips(0.25, 0.01))).notes;
  const std::string words = "those around them by ";
  REQUIRE(support::has(notes, words));
  CHECK(std::stod(notes.substr(notes.find(words) + words.size())) == Approx(0.01).epsilon(0.15));
  check(told("mesh", obj_of(noisy_hips(0.5, 0.01))));
  check(told("mesh", obj_of(noisy_hips(0.125, 0.005))));
}

TEST_CASE("what bends to one side is no noise") {
  // A barrel vault of radius 4 m in strips of 5 degrees: corners lie 15 mm over those around them.
  Shape vault;
  const auto at = [](int i, int j) {
    const double turn = (30.0 + 5.0 * j) * M_PI / 180.0;
    return Spot{0.35 * i, 4.0 * std::cos(turn), 4.0 * std::sin(turn)};
  };
  for (int i = 0; i < 30; ++i) {
    for (int j = 0; j < 24; ++j) {
      vault.push_back({at(i, j), at(i, j + 1), at(i + 1, j + 1)});
      vault.push_back({at(i, j), at(i + 1, j + 1), at(i + 1, j)});
    }
  }
  const auto given = plugin::read_apart(library("mesh"), {obj_of(vault), "", ""});
  REQUIRE(given.ok());
  for (const std::string& note : given.value().notes) {
    CHECK_FALSE(support::has(note, "standard deviation"));
  }
}
