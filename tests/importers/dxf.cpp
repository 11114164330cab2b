// DXF: plans with outlines, roofs drawn as lines in space or as faces.
#include "model/read.hpp"
#include "plugin/guard.hpp"
#include "surface/stage.hpp"

#include "importers/bare_planes.hpp"
#include "importers/drawn.hpp"
#include "importers/imported.hpp"
#include "rebuild/stage.hpp"
#include "support/plans.hpp"
#include "support/random_parts.hpp"
#include "support/seed.hpp"
#include "support/small_roofs.hpp"
#include "support/words.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <glm/trigonometric.hpp>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <random>
#include <string>
#include <vector>

using namespace ridgeward;
using namespace ridgeward::tests;

namespace {

std::string layer_of(surface::LineKind kind) {
  std::string layer = surface::word(kind);
  std::transform(layer.begin(), layer.end(), layer.begin(),
                 [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
  return layer;
}

/// All lines of a roof in space, in metres.
std::string in_space(const surface::Surface& roof, const std::string& before_layer = "") {
  std::string text;
  for (const surface::Line& one : roof.lines) {
    if (one.kind != surface::LineKind::wall_edge) {
      const glm::dvec3 a = roof.nodes[one.from];
      const glm::dvec3 b = roof.nodes[one.to];
      text += fmt::format("0\nLINE\n8\n{}\n", before_layer + layer_of(one.kind)) +
              fmt::format("10\n{:.7f}\n20\n{:.7f}\n30\n{:.7f}\n", a.x, a.y, a.z) +
              fmt::format("11\n{:.7f}\n21\n{:.7f}\n31\n{:.7f}\n", b.x, b.y, b.z);
    }
  }
  return text;
}

rebuild::RoofPlanes planes_in(const std::string& bytes, const std::string& options = "") {
  const auto given = plugin::read_apart(library("dxf"), {bytes, options, ""});
  INFO(tests::words(given));
  REQUIRE(given.ok());
  const auto planes = rebuild::read_planes(given.value().json);
  INFO(tests::words(planes));
  REQUIRE(planes.ok());
  REQUIRE(planes.value().buildings.size() == 1);
  return planes.value();
}

double area_between(const rebuild::RoofPolygon& polygon) {
  double area_m2 = 0.0;
  for (const std::vector<glm::dvec3>& loop : polygon) {
    glm::dvec3 sum(0.0);
    for (std::size_t i = 0; i < loop.size(); ++i) {
      sum += glm::cross(loop[i] - loop[0], loop[(i + 1) % loop.size()] - loop[0]);
    }
    area_m2 += (&loop == &polygon.front() ? 0.5 : -0.5) * glm::length(sum);
  }
  return area_m2;
}

/// A gable of 8 by 6 m, 45 degrees, eaves 3 m up, ridge along x: without its ridge where asked.
std::string gable_lines(bool has_ridge) {
  return line_in_space("EAVE", {0, 0, 3}, {8, 0, 3}) + line_in_space("EAVE", {0, 6, 3}, {8, 6, 3}) +
         line_in_space("RAKE", {0, 0, 3}, {0, 3, 6}) + line_in_space("RAKE", {0, 6, 3}, {0, 3, 6}) +
         line_in_space("RAKE", {8, 0, 3}, {8, 3, 6}) + line_in_space("RAKE", {8, 6, 3}, {8, 3, 6}) +
         (has_ridge ? line_in_space("RIDGE", {0, 3, 6}, {8, 3, 6}) : "");
}

}  // namespace

TEST_CASE("a plan in DXF: walls by layer, gables by lines, units by the file") {
  const auto drawn = [](const std::string& dxf, const std::string& options = "") {
    const auto given = plugin::read_apart(library("dxf"), {dxf, options, ""});
    INFO(tests::words(given));
    REQUIRE(given.ok());
    const auto read = model::read(given.value().json);
    INFO(tests::words(read));
    REQUIRE(read.ok());
    CHECK(read.value().warnings.empty());
    return read.value().model;
  };
  // 1 ft = 0.3048 m exactly (international foot); the drawing is in inches: 480 by 336.
  const std::string house =
      in_dxf(1, closed("A-WALL", {{100, 50}, {580, 50}, {580, 386}, {100, 386}}) +
                    closed("FURNITURE", {{0, 0}, {9, 0}, {9, 9}}) +
                    line("GABLES", 580, 50, 580, 386) + line("GABLES", 100, 386, 100, 50));
  const model::RoofModel roof = drawn(house, "pitch=8/12\nplate=9 ft\noverhang=18 in");
  REQUIRE(roof.parts.size() == 1);
  const model::Part& part = roof.parts[0];
  CHECK(part.outline[2].x == Approx(40 * 12 * 0.0254));
  CHECK(part.outline[2].y == Approx(28 * 12 * 0.0254));
  CHECK(edge_words(part) == "eave gable eave gable");
  CHECK(part.plate_m == Approx(9 * 0.3048));
  CHECK(part.edges[0].pitch.in_12() == Approx(8.0));
  CHECK(part.edges[0].overhang_m == Approx(1.5 * 0.3048));
  CHECK(part.drawn_to == model::DrawnTo::wall);
  REQUIRE(surface::raise(roof).ok());
  // Lines that join serve as well as a polyline, clockwise too; a courtyard is a hole.
  const auto joined_by = [](double s) {
    return in_dxf(
        6, line("Roof", 0, 0, 0, 9 * s) + line("Roof", 14 * s, 9 * s, 0, 9 * s) +
               line("Roof", 14 * s, 0, 14 * s, 9 * s) + line("Roof", 14 * s, 0, 0, 0) +
               closed("Roof", {{5 * s, 3 * s}, {8 * s, 3 * s}, {8 * s, 6 * s}, {5 * s, 6 * s}}));
  };
  const std::string joined = joined_by(1);
  const model::RoofModel second = drawn(joined);
  REQUIRE(second.parts.size() == 1);
  CHECK(second.parts[0].outline.size() == 4);
  CHECK(second.parts[0].holes.size() == 1);
  CHECK(second.parts[0].drawn_to == model::DrawnTo::drip);
  CHECK(drawn(joined_by(100), "unit=cm\ndrawn_to=wall").parts[0].holes.at(0).outline[0].x ==
        Approx(5));
  refused("dxf", "");
  refused("dxf", in_dxf(6, line("Roof", 0, 0, 0, 9)));
  refused("dxf", joined, "layer=walls");
  refused("dxf", joined, "unit=furlong");
  refused("dxf", joined, "drawn_to=moon");
  CHECK(refused("dxf", joined, "pitch=200").what == "the option pitch=200 is no pitch");
  CHECK(refused("dxf", joined, "plate=tall").what == "the option plate=tall is no length");
  refused("dxf", in_dxf(6, line("Roof", 0, 0, 0, 1e300)));
}

TEST_CASE("a drawing that ends early is said to, and only what is whole of it is read") {
  // Of the old polylines each corner is an entity of its own.
  std::string corners;
  for (const Place& p : {Place{20, 0}, {34, 0}, {34, 9}, {20, 9}}) {
    corners += fmt::format("0\nVERTEX\n8\nRoof\n10\n{}\n20\n{}\n", p[0], p[1]);
  }
  const std::string whole =
      in_dxf(6, closed("Roof", {{0, 0}, {14, 0}, {14, 9}, {0, 9}}) +
                    "0\nPOLYLINE\n8\nRoof\n66\n1\n70\n1\n" + corners + "0\nSEQEND\n8\nRoof\n");
  const auto read = [](const std::string& dxf) {
    const auto given = plugin::read_apart(library("dxf"), {dxf, "", ""});
    INFO(tests::words(given));
    REQUIRE(given.ok());
    const auto model = model::read(given.value().json);
    REQUIRE(model.ok());
    std::string all = fmt::format("parts: {}\n", model.value().model.parts.size());
    for (const std::string& note : given.value().notes) {
      all += note + "\n";
    }
    return all;
  };
  for (const char* end : {"", " \r\n\x1A"}) {
    const std::string said = read(whole + end);
    INFO(said);
    CHECK(said.find("ends early") == std::string::npos);
    CHECK(said.find("parts: 2\n") == 0);
    CHECK(said.find("2 closed outlines on layers") != std::string::npos);
  }
  // Cut in its fourth corner: the three before would make a triangle.
  const std::string said = read(whole.substr(0, whole.rfind("VERTEX") + 10));
  INFO(said);
  CHECK(said.find("the drawing ends early") != std::string::npos);
  CHECK(said.find("parts: 1\n") == 0);
  CHECK(said.find("1 closed outline on layers") != std::string::npos);
}

TEST_CASE("planes lie between the lines of a roof in space, however cut up it is") {
  std::mt19937_64 random(tests::seed());
  std::size_t roofs = 0;
  for (std::size_t i = 0; i < support::cases_or(60); ++i) {
    const bool is_turned = i % 3 == 0;
    const model::RoofModel house = support::random_parts(
        random, {is_turned ? 45.0 : 90.0, 0.0, 5, i % 2 == 0 ? 0.4 : 0.0, 0.3});
    const auto surface = surface::raise(house);
    if (!surface.ok()) {
      continue;
    }
    INFO("house " << i << "\n" << model::write(house));
    const rebuild::RoofPlanes planes = planes_in(in_dxf(6, in_space(surface.value(), "A-ROOF-")));
    double area_m2 = 0.0;
    for (const rebuild::RoofPolygon& polygon : planes.buildings[0].roof) {
      area_m2 += area_between(polygon);
    }
    CHECK(area_m2 == Approx(area_of(surface.value())).epsilon(1e-5));
    ++roofs;
  }
  CHECK(roofs > 0);
}

TEST_CASE("a roof drawn as lines in space hangs over the walls of the drawing") {
  // Walls 0.5 m within the eaves and 0.25 m within the rakes: at 45 degrees the plate lies 0.5 m
  // higher than the eaves. 8 by 3 m of plan a plane, times root 2.
  const std::string walls = closed("WALL", {{0.25, 0.5}, {7.75, 0.5}, {7.75, 5.5}, {0.25, 5.5}});
  const rebuild::Rebuilt house = rebuilt("dxf", in_dxf(6, gable_lines(true) + walls));
  REQUIRE(house.model.parts.size() == 1);
  const model::Part& part = house.model.parts[0];
  CHECK(part.plate_m == Approx(3.5));
  for (const model::Edge& edge : part.edges) {
    CHECK(edge.overhang_m == Approx(edge.kind == model::EdgeKind::eave ? 0.5 : 0.25));
  }
  CHECK(house.fits[0].area_rebuilt_m2 == Approx(2 * 8 * 3 * std::sqrt(2.0)));
  CHECK(house.notes[0].find("the overhangs of 4 edges and the plates of 1 part") !=
        std::string::npos);
  // Inches stay inches in the model that is made.
  CHECK(planes_in(in_dxf(1, gable_lines(true)), "unit=ft").unit == units::LengthUnit::ft);
}

TEST_CASE("lines in space that bound no planes all round leave a plan to its outlines") {
  const std::string walls = closed("WALL", {{0.25, 0.5}, {7.75, 0.5}, {7.75, 5.5}, {0.25, 5.5}});
  const std::string open = in_dxf(6, gable_lines(false) + walls);
  const auto given = plugin::read_apart(library("dxf"), {open, "", ""});
  INFO(tests::words(given));
  REQUIRE(given.ok());
  const auto read = model::read(given.value().json);
  REQUIRE(read.ok());
  const model::Part& part = read.value().model.parts.at(0);
  CHECK(edge_words(part) == "eave gable eave gable");
  CHECK(part.edges[0].pitch.degrees() == Approx(45.0));
  CHECK(part.edges[0].overhang_m == Approx(0.5));
  CHECK(part.plate_m == Approx(3.5));
  // Asked for, or with an option that speaks of outlines, whole lines are left alone too.
  const std::string whole = in_dxf(6, gable_lines(true) + walls);
  for (const char* options : {"from=outlines", "pitch=6/12"}) {
    const auto plan = plugin::read_apart(library("dxf"), {whole, options, ""});
    REQUIRE(plan.ok());
    CHECK_FALSE(rebuild::holds_planes(plan.value().json));
  }
  CHECK(refused("dxf", open, "from=lines").what.find("bound no planes") != std::string::npos);
  CHECK(refused("dxf", whole, "from=above").cure == "give from=faces, lines or outlines");
  // A plan with everything at one height is no roof in space.
  std::string level = whole;
  for (const char* height : {"30\n3\n", "30\n6\n", "31\n3\n", "31\n6\n"}) {
    for (std::size_t at = level.find(height); at != std::string::npos; at = level.find(height)) {
      level.replace(at + 3, 1, "0");
    }
  }
  const auto flat = plugin::read_apart(library("dxf"), {level, "", ""});
  REQUIRE(flat.ok());
  CHECK_FALSE(rebuild::holds_planes(flat.value().json));
}

TEST_CASE("a courtyard between eaves is no plane, nor is the hole of a dormer") {
  for (const char* name : {"heron-court", "tern-cottage"}) {
    INFO(name);
    const auto read =
        model::read_file(std::string(RIDGEWARD_SOURCE_DIR "/models/houses/") + name + ".roof.json");
    REQUIRE(read.ok());
    const surface::Surface before = raised(read.value().model);
    const rebuild::RoofPlanes planes = planes_in(in_dxf(6, in_space(before)));
    CHECK(planes.buildings[0].roof.size() == polygons_of(before).size());
  }
}

TEST_CASE("faces in space are a roof, whichever way round they were drawn") {
  // Triangles and quads, one upside down, over a floor and a wall. By hand as above.
  const std::string roof = face("A-ROOF", {{0, 0, 3}, {8, 0, 3}, {8, 3, 6}, {0, 3, 6}}) +
                           face("A-ROOF", {{0, 6, 3}, {0, 3, 6}, {8, 3, 6}}) +
                           face("A-ROOF", {{0, 6, 3}, {8, 6, 3}, {8, 3, 6}});
  const std::string rest = face("FLOOR", {{-5, -5, 0}, {15, -5, 0}, {15, 9, 0}, {-5, 9, 0}}) +
                           closed("WALL", {{0.25, 0.5}, {7.75, 0.5}, {7.75, 5.5}, {0.25, 5.5}});
  const rebuild::Rebuilt house = rebuilt("dxf", in_dxf(6, roof + rest));
  REQUIRE(house.model.parts.size() == 1);
  CHECK(house.fits[0].plain == 0);
  CHECK(house.fits[0].area_rebuilt_m2 == Approx(2 * 8 * 3 * std::sqrt(2.0)));
  CHECK(house.model.parts[0].plate_m == Approx(3.5));
  CHECK(refused("dxf", in_dxf(6, face("0", {{0, 0, 0}, {5, 0, 0}, {5, 0, 3}, {0, 0, 3}}))).cure ==
        "give the option from=outlines");
  refused("dxf", in_dxf(6, face("0", {{0, 0, 0}, {5, 0, 0}, {5, 0, 1e300}})));
}

TEST_CASE("an outline that crosses itself is told in the drawing's own places") {
  const auto told = [](const std::vector<Place>& corners, const std::string& options = "") {
    return refused("dxf", in_dxf(6, closed("A-WALL", corners)), options);
  };
  // The diagonals of 12 by 8 m cross in its middle; the drawing lies away from 0, 0.
  const Fault bow = told({{100, 50}, {112, 58}, {112, 50}, {100, 58}});
  CHECK(bow.where == "layer A-WALL, at 106, 54");
  CHECK(bow.what ==
        "the outline meets itself: its side from 100, 50 to 112, 58 and that from 112, 50 to "
        "100, 58");
  CHECK(told({{0, 0}, {12, 0}, {12, 8}, {12, 3}, {6, 8}}).where == "layer A-WALL, at 12, 8");
  CHECK(told({{0, 0}, {12, 0}, {6, 8}, {6, 0}, {2, 8}}).where == "layer A-WALL, at 6, 0");
  // Corners given twice, also the first one at the end, and corners in a straight side are none.
  const std::string twice =
      closed("WALL", {{0, 0}, {6, 0}, {6, 0}, {12, 0}, {12, 8}, {0, 8}, {0, 0}});
  const auto plan = plugin::read_apart(library("dxf"), {in_dxf(6, twice), "", ""});
  REQUIRE(plan.ok());
  CHECK(model::read(plan.value().json).ok());
}
