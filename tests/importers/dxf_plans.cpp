// DXF: what a plan as people draw it comes to, and what is said of it. Lengths and areas by hand.
#include "model/read.hpp"
#include "plugin/guard.hpp"
#include "surface/stage.hpp"

#include "importers/drawn.hpp"
#include "importers/imported.hpp"
#include "support/raised.hpp"
#include "support/words.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <cmath>
#include <string>
#include <vector>

using namespace ridgeward;
using namespace ridgeward::tests;

namespace {

/// A model made of a drawing, and the notes, a line each.
struct FromPlan {
  model::RoofModel model;
  std::string notes;

  bool says(const std::string& words) const { return notes.find(words) != std::string::npos; }
  double plan_m2() const {
    double sum = 0.0;
    for (const surface::Plane& plane : support::raised(model).planes) {
      sum += plane.plan_area_m2;
    }
    return sum;
  }
};

FromPlan from_plan(const std::string& dxf, const std::string& options = "") {
  const auto given = plugin::read_apart(library("dxf"), {dxf, options, ""});
  INFO(tests::words(given));
  REQUIRE(given.ok());
  const auto read = model::read(given.value().json);
  INFO(tests::words(read));
  REQUIRE(read.ok());
  FromPlan made{read.value().model, ""};
  for (const std::string& note : given.value().notes) {
    made.notes += note + "\n";
  }
  return made;
}

std::string box(const std::string& layer, double x1, double y1, double x2, double y2) {
  return closed(layer, {{x1, y1}, {x2, y1}, {x2, y2}, {x1, y2}});
}

}  // namespace

TEST_CASE("both faces of walls make one roof, rooms none, and courtyards are told") {
  // 12 by 8 m outside, walls of 0.3 m; the drip line and the ridge lie on layers of their own.
  const std::string walls = box("WALL", 0, 0, 12, 8) + box("WALL", 0.3, 0.3, 11.7, 7.7);
  const FromPlan house = from_plan(
      in_dxf(6, walls + box("ROOF", -0.5, -0.5, 12.5, 8.5) + line("ROOF-RIDGE", 0, 4, 12, 4)));
  INFO(house.notes);
  CHECK(house.plan_m2() == Approx(96.0));
  CHECK(
      house.says("the other face of the same walls: closed outlines on WALL (1); the walls are "
                 "0.30 m thick"));
  CHECK(house.says("closed outlines on other layers: ROOF (1)"));
  CHECK(from_plan(in_dxf(6, walls), "layer=wall").plan_m2() == Approx(96.0));
  // The same in an L, where the inner face turns the corner 0.42 m away.
  const std::string ell =
      closed("WALL", {{0, 0}, {12, 0}, {12, 8}, {7, 8}, {7, 5}, {0, 5}}) +
      closed("WALL", {{.3, .3}, {11.7, .3}, {11.7, 7.7}, {7.3, 7.7}, {7.3, 4.7}, {.3, 4.7}});
  CHECK(from_plan(in_dxf(6, ell)).plan_m2() == Approx(12 * 8 - 7 * 3.0));
  // Of the walls around a courtyard the inner face is the one outside.
  const std::string yard = box("WALL", 4, 3, 8, 5) + box("WALL", 4.2, 3.2, 7.8, 4.8);
  const FromPlan ring = from_plan(in_dxf(6, walls + yard));
  INFO(ring.notes);
  CHECK(ring.plan_m2() == Approx(96.0 - 3.6 * 1.6));
  CHECK(ring.says("1 courtyard, open to the sky: 5.76 m2 from 4.2, 3.2 to 7.8, 4.8 on layer WALL"));
  CHECK(ring.says("closed outlines on WALL (2); the walls are 0.20 m thick to 0.30 m"));
  // Two houses, of which one has a room on a layer of its own.
  const std::string two = box("WALL", 0, 0, 12, 8) + box("Wall", 20, 0, 26, 6);
  const std::string room = box("WALL-INT", 4, 3, 8, 5);
  const FromPlan rooms = from_plan(in_dxf(6, two + room));
  INFO(rooms.notes);
  CHECK(rooms.plan_m2() == Approx(96.0 + 36.0));
  CHECK(rooms.says("taken as rooms: closed outlines on WALL-INT (1); name their layer"));
  CHECK_FALSE(rooms.says("courtyard,"));
  CHECK(from_plan(in_dxf(6, two + room), "layer=wall").plan_m2() == Approx(96.0 + 36.0 - 8.0));
  // Rooms along the walls tell that the one between them is a room too; twice drawn is once.
  const FromPlan flat = from_plan(in_dxf(6, box("0", 0, 0, 12, 8) + box("0", 0.3, 0.3, 4, 7.7) +
                                                box("0", 4.1, 3, 8, 5) + box("0", 0, 0, 12, 8)));
  INFO(flat.notes);
  CHECK(flat.plan_m2() == Approx(96.0));
  CHECK(flat.says("taken as rooms: closed outlines on 0 (2)"));
  CHECK(flat.says("drawn twice: closed outlines on 0 (1)"));
}
