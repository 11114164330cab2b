// DXF: what plans as people draw them come to, and what is said. Lengths and areas by hand.
#include "model/read.hpp"
#include "plugin/guard.hpp"
#include "surface/stage.hpp"

#include "importers/bare_planes.hpp"
#include "importers/drawn.hpp"
#include "importers/from_plan.hpp"
#include "importers/imported.hpp"
#include "rebuild/stage.hpp"
#include "support/words.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

using namespace ridgeward;
using namespace ridgeward::tests;

TEST_CASE("both faces of walls make one roof, rooms none, and courtyards are told") {
  // 12 by 8 m outside, walls of 0.3 m; the drip line and the ridge lie on layers of their own.
  const std::string walls = box("WALL", 0, 0, 12, 8) + box("WALL", 0.3, 0.3, 11.7, 7.7);
  const FromPlan house = from_plan(
      in_dxf(6, walls + box("ROOF", -0.5, -0.5, 12.5, 8.5) + line("ROOF-RIDGE", 0, 4, 12, 4)));
  INFO(house.notes);
  CHECK(house.plan_m2() == Approx(13.0 * 9.0));  // to the drip line
  CHECK(
      house.says("the other face of the same walls: closed outlines on WALL (1); the walls are "
                 "0.30 m thick"));
  CHECK(house.says("outlines of roofs that run round the walls: ROOF (1)"));
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

namespace {

/// A closed polyline in space, as entities of release 12.
std::string closed_in_space(const std::string& layer,
                            const std::vector<std::array<double, 3>>& corners) {
  std::string text = fmt::format("0\nPOLYLINE\n8\n{}\n66\n1\n70\n9\n", layer);
  for (const std::array<double, 3>& p : corners) {
    text +=
        fmt::format("0\nVERTEX\n8\n{}\n10\n{}\n20\n{}\n30\n{}\n70\n32\n", layer, p[0], p[1], p[2]);
  }
  return text + fmt::format("0\nSEQEND\n8\n{}\n", layer);
}

}  // namespace

TEST_CASE("closed polylines in space are planes as faces are, of whatever shape") {
  // A hip of 12 by 8 m, 30 degrees at the long sides and 45 at the short ones: the ridge lies
  // 4 tan 30 up and its ends as far in. Each plane's area is that of its plan over the cosine.
  const double up = 4.0 * std::tan(std::acos(-1.0) / 6.0);
  const std::string hip =
      closed_in_space("ROOF",
                      {{0, 0, 2.7}, {12, 0, 2.7}, {12 - up, 4, 2.7 + up}, {up, 4, 2.7 + up}}) +
      closed_in_space("ROOF", {{12, 0, 2.7}, {12, 8, 2.7}, {12 - up, 4, 2.7 + up}}) +
      closed_in_space("ROOF",
                      {{12, 8, 2.7}, {12 - up, 4, 2.7 + up}, {up, 4, 2.7 + up}, {0, 8, 2.7}}) +
      closed_in_space("ROOF", {{0, 0, 2.7}, {0, 8, 2.7}, {up, 4, 2.7 + up}});
  const std::string eaves =
      closed_in_space("ROOF", {{0, 0, 2.7}, {12, 0, 2.7}, {12, 8, 2.7}, {0, 8, 2.7}});
  const std::string walls = box("WALL", 0.5, 0.5, 11.5, 7.5);
  const rebuild::Rebuilt house = rebuilt("dxf", in_dxf(6, hip + eaves + walls));
  REQUIRE(house.model.parts.size() == 1);
  CHECK(house.fits[0].plain == 0);
  const surface::Surface roof = raised(house.model);
  const double ends = 8.0 * up;
  CHECK(area_of(roof) == Approx((96.0 - ends) * 2.0 / std::sqrt(3.0) + ends * std::sqrt(2.0)));
  double ridge_m = 0.0;
  for (const surface::Line& line : roof.lines) {
    ridge_m += line.kind == surface::LineKind::ridge ? line.length_m : 0.0;
  }
  CHECK(ridge_m == Approx(12.0 - 2.0 * up));
  CHECK(house.model.parts[0].edges[0].overhang_m == Approx(0.5));
  // Planes with a corner inward, the two of a gable with a wing: 45 degrees, so the area is that of
  // the plan by root 2.
  const std::string ell =
      closed_in_space("0", {{0, 0, 3}, {14, 0, 3}, {14, 4, 7}, {0, 4, 7}}) +
      closed_in_space(
          "0", {{0, 8, 3}, {4, 8, 3}, {7, 5, 6}, {10, 8, 3}, {14, 8, 3}, {14, 4, 7}, {0, 4, 7}}) +
      closed_in_space("0", {{4, 8, 3}, {4, 11, 3}, {7, 11, 6}, {7, 5, 6}}) +
      closed_in_space("0", {{10, 8, 3}, {10, 11, 3}, {7, 11, 6}, {7, 5, 6}});
  const rebuild::Rebuilt winged = rebuilt("dxf", in_dxf(6, ell));
  CHECK(winged.fits[0].plain == 0);
  CHECK(winged.fits[0].area_rebuilt_m2 == Approx((14 * 8 + 6 * 3) * std::sqrt(2.0)));
  // One that is bent by more than 5 mm is no plane; asked for a plan, heights are passed over.
  const std::string bent = closed_in_space("ROOF", {{0, 0, 3}, {9, 0, 3}, {9, 6, 5}, {0, 6, 4}});
  const FromPlan plan = from_plan(in_dxf(6, bent));
  INFO(plan.notes);
  CHECK(plan.plan_m2() == Approx(54.0));
  CHECK(plan.says(
      "1 closed polyline in space not flat to 5 mm, no plane: one on layer ROOF at 0, 0"));
  CHECK(plan.says("the heights of 1 closed polyline in space are passed over"));
  CHECK(from_plan(in_dxf(6, hip + walls), "layer=wall").plan_m2() == Approx(77.0));
}

TEST_CASE("numbers that are none are faults with their line and group") {
  const std::string house = in_dxf(6, closed("WALL", {{0, 0}, {12, 0}, {12, 8}, {0, 8}}));
  const auto with = [&](const std::string& old, const std::string& text) {
    std::string changed = house;
    changed.replace(changed.find(old), old.size(), text);
    return changed;
  };
  // The second corner's x stands in the line after its group code, 10.
  const std::size_t at = house.find("10\n12\n");
  const auto line = std::count(house.begin(), house.begin() + static_cast<long>(at), '\n') + 2;
  for (const char* text : {"nan", "12O00", "inf", "12.5m", "1.2.3", "", "12 000", "0x10"}) {
    const Fault fault = refused("dxf", with("10\n12\n", fmt::format("10\n{}\n", text)));
    CHECK(fault.where == fmt::format("line {}, group 10", line));
    CHECK(fault.what ==
          fmt::format("an x of a LWPOLYLINE on layer WALL is \"{}\", which is no number", text));
  }
  for (const char* text : {"1e300", "-1e999", "2000000000"}) {
    const Fault fault = refused("dxf", with("10\n12\n", fmt::format("10\n{}\n", text)));
    CHECK(fault.where == fmt::format("line {}, group 10", line));
    CHECK(fault.what.find("beyond 1e9") != std::string::npos);
  }
  CHECK(refused("dxf", with("70\n6\n", "70\nm\n")).what == "the unit $INSUNITS is \"m\"");
  const Fault shifted = refused("dxf", with("70\n1\n", "1\n"));
  CHECK(shifted.what.find("stands where the number of a group is due") != std::string::npos);
  // As some write them: a comma, a plus, blanks; and nothing is asked of what is not read.
  for (const char* text : {"12,0", "+12", "  12.", "1.2e1", "1.2E+01"}) {
    CHECK(from_plan(with("10\n12\n", fmt::format("10\n{}\n", text))).plan_m2() == Approx(96.0));
  }
  CHECK(from_plan(with("0\nENDSEC\n0\nEOF", "0\nTEXT\n8\nA\n40\ntall\n0\nENDSEC\n0\nEOF"))
            .plan_m2() == Approx(96.0));
}

TEST_CASE("what is no DXF, a binary one, or one cut short is called so") {
  const std::string house = in_dxf(6, closed("WALL", {{0, 0}, {12, 0}, {12, 8}, {0, 8}}));
  struct Bad {
    std::string bytes;
    const char* what;
    const char* cure;
  };
  const std::vector<Bad> all{
      {"{\"type\": \"Feature\"}", "this is no DXF: it starts as JSON does", "--with"},
      {std::string("AutoCAD Binary DXF\r\n\x1A\0 and so on", 31), "this is a binary DXF",
       "save the drawing as text (ASCII) DXF"},
      {"AC1027 and so on", "this is a DWG drawing", "as text (ASCII) DXF"},
      {"\x68\xCF(.h`&\x1B\x88\n0\n", "this is no DXF", "as text"},
      {"1\n2\n3\n4\n", "this is no DXF", "SECTION"},
      {house.substr(0, house.find("$INSUNITS")), "the drawing is cut short", "again"},
      {house.substr(0, house.find("LWPOLYLINE") + 15), "in its section ENTITIES", "again"},
      {house.substr(0, house.find("10\n12")) + "10\n1", "cut short", "again"}};
  for (const Bad& bad : all) {
    const Fault fault = refused("dxf", bad.bytes);
    INFO(fault.what << "; " << fault.cure);
    CHECK(fault.what.find(bad.what) != std::string::npos);
    CHECK(fault.cure.find(bad.cure) != std::string::npos);
  }
  CHECK(from_plan("\xEF\xBB\xBF" + house + "\r\n\x1A").plan_m2() == Approx(96.0));
}

TEST_CASE("units by their numbers, and what can be no house for its size") {
  // Metres of one unit for each number of $INSUNITS (DXF reference, from memory); the foot of
  // surveyors is 1200/3937 m. A house of 12 m drawn in each.
  const std::vector<std::pair<int, double>> units{{1, 0.0254},
                                                  {2, 0.3048},
                                                  {3, 1609.344},
                                                  {4, 1e-3},
                                                  {5, 0.01},
                                                  {6, 1.0},
                                                  {7, 1000.0},
                                                  {8, 2.54e-8},
                                                  {9, 2.54e-5},
                                                  {10, 0.9144},
                                                  {13, 1e-6},
                                                  {14, 0.1},
                                                  {15, 10.0},
                                                  {16, 100.0},
                                                  {21, 1200.0 / 3937.0},
                                                  {22, 100.0 / 3937.0},
                                                  {23, 3600.0 / 3937.0}};
  for (const auto& [code, metres] : units) {
    INFO("$INSUNITS " << code);
    const FromPlan house = from_plan(in_dxf(code, box("WALL", 0, 0, 12 / metres, 8 / metres)));
    CHECK(house.plan_m2() == Approx(96.0).epsilon(1e-5));
    CHECK(house.says("the drawing says that its unit is "));
  }
  for (const int code : {25, 99, -1}) {
    const FromPlan house = from_plan(in_dxf(code, box("WALL", 0, 0, 12, 8)));
    CHECK(house.says(fmt::format("its unit is number {} of $INSUNITS, which is not known", code)));
    CHECK(house.plan_m2() == Approx(96.0));
  }
  // Metres that say they are millimetres: 12 by 8 mm.
  const std::string tiny = in_dxf(4, box("WALL", 0, 0, 8, 12));
  const Fault fault = refused("dxf", tiny);
  CHECK(fault.what == "by its unit it is 0.012 m wide, too small for a house");
  CHECK(fault.cure.find("option unit: unit=m makes it 12 m, unit=ft makes it 3.66 m") !=
        std::string::npos);
  CHECK(from_plan(tiny, "unit=mm").says("in doubt: all of it is 0.012 m wide"));
  CHECK(from_plan(tiny, "unit=m").plan_m2() == Approx(96.0));
  CHECK(refused("dxf", in_dxf(6, box("WALL", 0, 0, 12000, 8000))).what.find("too large") !=
        std::string::npos);
  CHECK(refused("dxf", in_dxf(18, box("WALL", 0, 0, 12, 8))).cure.find("unit=m makes it 12 m") !=
        std::string::npos);
  const std::string roof = face("ROOF", {{0, 0, 3}, {8, 0, 3}, {8, 3, 6}, {0, 3, 6}}) +
                           face("ROOF", {{0, 6, 3}, {8, 6, 3}, {8, 3, 6}, {0, 3, 6}});
  CHECK(refused("dxf", in_dxf(4, roof)).cure.find("unit=m makes it 8 m") != std::string::npos);
}

namespace {

std::string with_blocks(const std::string& blocks, const std::string& entities) {
  std::string all = in_dxf(6, entities);
  all.insert(all.find("0\nSECTION\n2\nENTITIES"),
             "0\nSECTION\n2\nBLOCKS\n" + blocks + "0\nENDSEC\n");
  return all;
}

std::string block(const std::string& name, const std::string& entities, double x = 0,
                  double y = 0) {
  return fmt::format("0\nBLOCK\n8\n0\n2\n{}\n70\n0\n10\n{}\n20\n{}\n30\n0\n{}0\nENDBLK\n", name, x,
                     y, entities);
}

/// A reference on a layer, at a place; `more` holds further groups.
std::string insert(const std::string& name, const std::string& layer, double x, double y,
                   const std::string& more = "") {
  return fmt::format("0\nINSERT\n8\n{}\n2\n{}\n10\n{}\n20\n{}\n{}", layer, name, x, y, more);
}

}  // namespace

TEST_CASE("a house in a block stands where its references say") {
  // 24 by 16 about its base point at half the scale, turned by 90 degrees and moved: 8 by 12.
  const std::string house =
      block("HOUSE", box("0", 1, 1, 25, 17) + line("GABLE", 25, 1, 25, 17), 1, 1);
  const std::string half = "41\n0.5\n42\n0.5\n43\n0.5\n50\n90\n";
  const FromPlan one = from_plan(with_blocks(house, insert("house", "A-WALL", 100, 50, half)));
  INFO(one.notes);
  CHECK(one.plan_m2() == Approx(96.0));
  CHECK(one.says("taken as what their blocks hold: house (1)"));
  CHECK(one.says("on layers with \"wall\" in their name"));
  const model::Part& part = one.model.parts.at(0);
  CHECK(edge_words(part).find("gable") != std::string::npos);
  CHECK(glm::length(part.outline[1] - part.outline[0]) == Approx(12.0));
  // Nested, mirrored, in two columns 20 m apart along the turned axis.
  const std::string street =
      house + block("PAIR", insert("HOUSE", "0", 0, 0, "41\n-0.5\n42\n0.5\n70\n2\n44\n20\n"));
  const FromPlan two = from_plan(with_blocks(street, insert("PAIR", "WALL", 0, 0, "50\n90\n")));
  REQUIRE(two.model.parts.size() == 2);
  CHECK(two.plan_m2() == Approx(2 * 96.0));
  CHECK(two.model.parts[1].outline[0].y - two.model.parts[0].outline[0].y == Approx(20.0));
  const std::string roof =
      block("R", face("ROOF", {{0, 0, 3}, {8, 0, 3}, {8, 3, 6}, {0, 3, 6}}) +
                     face("ROOF", {{0, 6, 3}, {8, 6, 3}, {8, 3, 6}, {0, 3, 6}}));
  CHECK(rebuilt("dxf", with_blocks(roof, insert("R", "0", 9, 9, "50\n30\n")))
            .fits[0]
            .area_rebuilt_m2 == Approx(2 * 8 * 3 * std::sqrt(2.0)));
  // Furniture beside a plan is no house, a column within it no courtyard.
  const std::string column = block("COLUMN", box("0", 0, 0, 1, 1));
  const std::string walls = box("P", 0, 0, 12, 8);
  const FromPlan plan = from_plan(with_blocks(column, walls + insert("COLUMN", "P", 20, 3)));
  CHECK(plan.plan_m2() == Approx(96.0));
  CHECK(plan.says("closed outlines in blocks: COLUMN (1)"));
  CHECK(from_plan(with_blocks(column, box("WALL", 0, 0, 12, 8) + insert("COLUMN", "WALL", 5, 3)))
            .plan_m2() == Approx(96.0));
  const Fault fault =
      refused("dxf", with_blocks("", insert("DOOR", "0", 0, 0) + insert("DOOR", "0", 5, 0)));
  CHECK(fault.what.find("blocks that are not in the file: DOOR (2); bind or explode them") !=
        std::string::npos);
  const std::string round = block("A", insert("B", "0", 1, 0)) + block("B", insert("A", "0", 1, 0));
  CHECK(refused("dxf", with_blocks(round, insert("A", "0", 0, 0))).what ==
        "blocks are nested more than 16 deep");
  const std::string many =
      block("E", "") + block("F", insert("E", "0", 0, 0, "70\n30000\n71\n30000\n"));
  CHECK(refused("dxf", with_blocks(many, insert("F", "0", 0, 0))).what ==
        "there are more than 20000 block references");
}

TEST_CASE("arcs are taken as chords, and circles are named") {
  // Half a circle of 4 m beside 12 by 8 m: twelve triangles of 15 degrees; 4 (1 - cos 7.5 deg) off.
  const double area_m2 = 96.0 + 12 * 0.5 * 4 * 4 * std::sin(std::acos(-1.0) / 12.0);
  const std::string three =
      line("WALL", 0, 0, 12, 0) + line("WALL", 12, 8, 0, 8) + line("WALL", 0, 8, 0, 0);
  const std::string arc = "0\nARC\n8\nWALL\n10\n12\n20\n4\n40\n4\n50\n270\n51\n90\n";
  // Drawn from below: x is turned about.
  const std::string below =
      "0\nARC\n8\nWALL\n10\n-12\n20\n4\n40\n4\n50\n90\n51\n270\n210\n0\n220\n0\n230\n-1\n";
  std::string bulge = box("WALL", 0, 0, 12, 8);
  bulge.insert(bulge.find("10\n12\n20\n8\n"), "42\n1\n");
  for (const std::string& drawn : {three + arc, three + below, bulge}) {
    const FromPlan house = from_plan(in_dxf(6, drawn));
    INFO(house.notes);
    CHECK(house.plan_m2() == Approx(area_m2));
    CHECK(house.model.parts[0].outline.size() == 15);
    CHECK(house.says("chords of 15 degrees or less, 0.034 m off at most"));
  }
  const std::string circle = "0\nCIRCLE\n8\nWALL\n10\n0\n20\n0\n40\n5\n";
  CHECK(refused("dxf", in_dxf(6, circle)).what.find("passed over: circle on WALL (1)") !=
        std::string::npos);
  CHECK(from_plan(in_dxf(6, bulge + circle)).says("passed over: circle on WALL (1)"));
}

TEST_CASE("ends that nearly meet are joined, and wider openings are told") {
  // Of the longest line, 20 m, 5 ten-thousandths are 10 mm.
  const auto house = [](double gap) {
    return in_dxf(6, line("WALL", 0, gap, 20, 0) + line("WALL", 20, 0, 20, 8) +
                         line("WALL", 0, 8, 20, 8) + line("WALL", 0, 0, 0, 8));
  };
  const FromPlan near = from_plan(house(0.008));
  CHECK(near.plan_m2() == Approx(160.0).epsilon(1e-3));
  CHECK(near.says("ends of lines that lay up to 0.0080 m apart were joined, at 1 corner"));
  CHECK_FALSE(from_plan(house(0.001)).says("joined"));
  const Fault open = refused("dxf", house(0.25));
  CHECK(open.what.find("on layer WALL 4 lines run end to end from ") != std::string::npos);
  CHECK(open.what.find("0, 0.25") != std::string::npos);
  CHECK(open.what.find("which lie 0.25 units of the drawing apart") != std::string::npos);
  CHECK(open.cure == "close the polyline, or draw the line that is missing");
  // A polyline that was left open; beside one that is closed it is told.
  std::string ell = closed("MUR", {{0, 0}, {12, 0}, {12, 6}, {6, 6}, {6, 10}, {0, 10}});
  ell.replace(ell.find("70\n1\n"), 5, "70\n0\n");
  CHECK(refused("dxf", in_dxf(6, ell)).what.find("on layer MUR 5 lines run end to end from ") !=
        std::string::npos);
  CHECK(from_plan(in_dxf(6, ell + box("MUR", 20, 0, 32, 8))).says("nearly closed: on layer MUR"));
  // A stub on a corner hinders nothing.
  for (const bool is_first : {true, false}) {
    const std::string stub = line("WALL", 20, 8, 25, 9);
    std::string all = house(0.0);
    all.insert(is_first ? all.find("0\nLINE") : all.rfind("0\nENDSEC"), stub);
    CHECK(from_plan(all).plan_m2() == Approx(160.0));
  }
  const std::string both = in_dxf(6, box("ROOF", 0, 0, 9, 9) + line("ROOF-RIDGE", 0, 0, 5, 0));
  CHECK(refused("dxf", both, "layer=NOPE")
            .cure.find("layers with closed outlines: ROOF (1); with lines: ROOF-RIDGE (1)") !=
        std::string::npos);
}
