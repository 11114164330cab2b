// DXF: what a drawing holds beside the house, and what is said of it. Group codes by the DXF
// reference (from memory). Lengths and areas by hand.
#include "importers/from_plan.hpp"

#include <fmt/format.h>

#include <array>
#include <string>
#include <vector>

using namespace ridgeward;
using namespace ridgeward::tests;

namespace {

/// With groups of its own before its layer: "60\n1\n".
std::string with_group(const std::string& groups, std::string entity) {
  return entity.insert(entity.find("8\n"), groups);
}

/// A table of layers before the entities: each with its flags and colour.
struct LayerSaid {
  std::string name;
  int flags;
  int colour;
};
std::string with_layers(const std::vector<LayerSaid>& layers, std::string drawing) {
  std::string table = "0\nSECTION\n2\nTABLES\n0\nTABLE\n2\nLAYER\n70\n9\n";
  for (const LayerSaid& one : layers) {
    table += fmt::format("0\nLAYER\n2\n{}\n70\n{}\n62\n{}\n6\nCONTINUOUS\n", one.name, one.flags,
                         one.colour);
  }
  return drawing.insert(drawing.find("0\nSECTION\n2\nENTITIES"), table + "0\nENDTAB\n0\nENDSEC\n");
}

std::string with_block_section(const std::string& blocks, std::string drawing) {
  return drawing.insert(drawing.find("0\nSECTION\n2\nENTITIES"),
                        "0\nSECTION\n2\nBLOCKS\n" + blocks + "0\nENDSEC\n");
}

/// A POLYLINE that is a mesh: its flags, size, corners, and its faces by the numbers of corners.
std::string mesh(int flags, const std::array<int, 2>& size,
                 const std::vector<std::array<double, 3>>& corners,
                 const std::vector<std::array<int, 4>>& faces = {}) {
  std::string text =
      fmt::format("0\nPOLYLINE\n8\nROOF\n66\n1\n70\n{}\n71\n{}\n72\n{}\n", flags, size[0], size[1]);
  for (const std::array<double, 3>& p : corners) {
    text += fmt::format("0\nVERTEX\n8\nROOF\n10\n{}\n20\n{}\n30\n{}\n70\n{}\n", p[0], p[1], p[2],
                        flags >= 64 ? 192 : 64);
  }
  for (const std::array<int, 4>& f : faces) {
    text += fmt::format(
        "0\nVERTEX\n8\nROOF\n10\n0\n20\n0\n30\n0\n70\n128\n71\n{}\n72\n{}\n73\n{}\n74\n{}\n", f[0],
        f[1], f[2], f[3]);
  }
  return text + "0\nSEQEND\n8\nROOF\n";
}

/// A gable of 12 by 8 m, 3 m up in 4: two slopes of 12 by 5 m.
const std::vector<std::array<double, 3>> row_by_row{{0, 0, 3},  {12, 0, 3}, {0, 4, 6},
                                                    {12, 4, 6}, {0, 8, 3},  {12, 8, 3}};

}  // namespace

TEST_CASE("what stands on sheets, or is off, frozen or invisible, is no part of the house") {
  const std::string house = box("WALL", 0, 0, 12, 8);
  const std::string beside = box("WALL", 12, 0, 18, 6);
  const auto is_house = [](const FromPlan& plan) {
    INFO(plan.notes);
    CHECK(plan.plan_m2() == Approx(96.0));
    CHECK(plan.says("1 closed outline on layers with"));
  };
  // Group 67: the frame of a sheet, around the house by its numbers, as one polyline and as lines.
  const std::string frame = with_group("67\n1\n", box("WALL", -1, -1, 41, 28.7));
  is_house(from_plan(in_dxf(6, frame + house)));
  CHECK(from_plan(in_dxf(6, frame + house)).says("left out, on sheets (paper space): WALL (1)"));
  const std::string lines = with_group("67\n1\n", line("WALL", 20, 0, 29, 0)) +
                            with_group("67\n1\n", line("WALL", 29, 0, 29, 9)) +
                            with_group("67\n1\n", line("WALL", 29, 9, 20, 0));
  is_house(from_plan(in_dxf(6, lines + house)));
  const std::string sheet =
      "0\nBLOCK\n8\n0\n2\n*Paper_Space\n70\n0\n10\n0\n20\n0\n30\n0\n" + beside + "0\nENDBLK\n";
  const FromPlan with_sheet = from_plan(with_block_section(sheet, in_dxf(6, house)));
  is_house(with_sheet);
  CHECK(with_sheet.says("on sheets (paper space): WALL (1)"));
  // A colour below 0: the layer is off. Flag 1: it is frozen.
  const std::string old = box("wall-old", 12, 0, 18, 6);
  const FromPlan off =
      from_plan(with_layers({{"WALL", 0, 7}, {"WALL-OLD", 0, -1}}, in_dxf(6, house + old)));
  is_house(off);
  CHECK(off.says("left out, on layers that are off: wall-old (1); switch them on"));
  const FromPlan frozen = from_plan(with_layers({{"WALL-OLD", 1, 7}}, in_dxf(6, old + house)));
  is_house(frozen);
  CHECK(frozen.says("left out, on layers that are frozen: wall-old (1)"));
  const FromPlan shown = from_plan(with_layers({{"WALL-OLD", 4, 7}}, in_dxf(6, old + house)));
  CHECK(shown.plan_m2() == Approx(96.0 + 36.0));  // locked only
  // Group 60: invisible, also a reference to a block; what a frozen reference holds, too.
  const FromPlan invisible = from_plan(in_dxf(6, with_group("60\n1\n", beside) + house));
  is_house(invisible);
  CHECK(invisible.says("left out, drawn as invisible: WALL (1)"));
  const std::string block = "0\nBLOCK\n8\n0\n2\nB\n70\n0\n10\n0\n20\n0\n30\n0\n" +
                            box("WALL", 0, 0, 6, 6) + "0\nENDBLK\n";
  const auto placed = [&](const std::string& groups, const std::string& layer) {
    return in_dxf(6,
                  house + with_group(groups, "0\nINSERT\n8\n" + layer + "\n2\nB\n10\n12\n20\n0\n"));
  };
  CHECK(from_plan(with_block_section(block, placed("", "X"))).plan_m2() == Approx(132.0));
  is_house(from_plan(with_block_section(block, placed("60\n1\n", "X"))));
  is_house(from_plan(with_layers({{"X", 1, 7}}, with_block_section(block, placed("", "X")))));
  // Of a layer that is off only what lies on it is hidden: the block's walls have their own.
  CHECK(from_plan(with_layers({{"X", 0, -7}}, with_block_section(block, placed("", "X"))))
            .plan_m2() == Approx(132.0));
  // Where nothing else is there, the fault says so.
  CHECK(refused("dxf", in_dxf(6, frame)).what.find("on sheets (paper space): WALL (1)") !=
        std::string::npos);
}

TEST_CASE("meshes drawn as polylines are faces, and other meshes are named") {
  const std::vector<std::array<int, 4>> faces{{1, 2, 4, 3}, {3, -4, 6, 5}};
  const std::string walls = box("WALL", 0.5, 0.5, 11.5, 7.5);
  for (const std::string& drawn :
       {mesh(64, {6, 2}, row_by_row, faces), mesh(65, {6, 2}, row_by_row, faces),
        mesh(64, {6, 2}, row_by_row, faces) + walls, mesh(16, {3, 2}, row_by_row),
        mesh(64, {6, 3}, row_by_row, {{1, 2, 4, 0}, {1, 4, 3, 0}, {3, 4, 6, 5}})}) {
    const rebuild::Rebuilt house = rebuilt("dxf", in_dxf(6, drawn));
    require_gable(house);
  }
  // A grid that comes round bears a face from its last row to its first: rows at the ridge, one
  // eave, far beneath and the other eave make the same slopes.
  const std::string round = mesh(
      17, {4, 2},
      {{0, 4, 6}, {12, 4, 6}, {0, 0, 3}, {12, 0, 3}, {0, 4, 0}, {12, 4, 0}, {0, 8, 3}, {12, 8, 3}});
  require_gable(rebuilt("dxf", in_dxf(6, round)));
  // Corners that are none, a grid of another size, and one whose surface is not its corners.
  for (const std::string& bad : {mesh(64, {6, 1}, row_by_row, {{1, 2, 7, 9}}),
                                 mesh(16, {3, 3}, row_by_row), mesh(20, {3, 2}, row_by_row)}) {
    CHECK(refused("dxf", in_dxf(6, bad)).what.find("no roof drawn in space") != std::string::npos);
  }
  CHECK(refused("dxf", in_dxf(6, mesh(20, {3, 2}, row_by_row)))
            .what.find("passed over: smoothed or incomplete mesh on ROOF (1)") !=
        std::string::npos);
  const std::string others = "0\nMESH\n8\nROOF\n71\n2\n72\n0\n0\nHATCH\n8\nWALL\n2\nSOLID\n";
  CHECK(from_plan(in_dxf(6, walls + others))
            .says("passed over: hatch on WALL (1), mesh (MESH) on ROOF (1)"));
}

TEST_CASE("outlines that no house has are told for their unit, or as pieces of walls") {
  // In feet, said to be inches: 62 by 44, less 34 by 14: 2252 in2.
  const std::vector<Place> ell{{0, 0}, {62, 0}, {62, 30}, {28, 30}, {28, 44}, {0, 44}};
  const std::string feet = in_dxf(1, closed("A-ROOF", ell));
  const Fault fault = refused("dxf", feet);
  CHECK(fault.what == "by its unit the largest outline covers 1.45 m2, too small for a house");
  CHECK(fault.cure.find("unit=ft makes it 18.9 m") != std::string::npos);
  CHECK(from_plan(feet, "unit=ft").plan_m2() == Approx(2252 * 0.3048 * 0.3048));
  CHECK(from_plan(feet, "unit=in").says("in doubt: 1 closed outline under 4 m2 or 1.5 m wide"));
  // A hut may be small.
  CHECK_FALSE(from_plan(in_dxf(6, box("WALL", 0, 0, 2.1, 2.4))).says("in doubt"));
  // Walls drawn piece by piece, one of them at a slant.
  const std::string pieces = box("WALL", 0, 0, 12, 0.3) + box("WALL", 0, 7.7, 12, 8) +
                             box("WALL", 0, 0.3, 0.3, 7.7) +
                             closed("WALL", {{11.7, 0.3}, {12, 0.3}, {16, 7.7}, {15.7, 7.7}});
  for (const char* options : {"", "layer=wall", "unit=m"}) {
    const Fault walls = refused("dxf", in_dxf(6, pieces), options);
    CHECK(walls.what.find("seem to be walls drawn piece by piece, on WALL (4)") !=
          std::string::npos);
    CHECK(walls.cure.find("the outer face of the walls as one closed polyline") !=
          std::string::npos);
  }
  // Beside a house a garden wall and a post bear no roof, a porch of 1.2 m may.
  const std::string house = box("WALL", 0, 0, 12, 8);
  const FromPlan garden =
      from_plan(in_dxf(6, house + box("WALL", 20, 0, 30, 0.3) + box("WALL", 20, 4, 20.4, 4.4)));
  CHECK(garden.plan_m2() == Approx(96.0));
  CHECK(
      garden.says("left out, too small to bear a roof (pieces of walls, posts, chimneys): closed "
                  "outlines on WALL (2)"));
  const FromPlan porch = from_plan(in_dxf(6, house + box("WALL", 12, 0, 13.2, 3)));
  CHECK(porch.plan_m2() == Approx(99.6));
  CHECK(porch.says("in doubt: 1 closed outline under 4 m2"));
}

TEST_CASE("lines drawn twice count once, and ends that don't meet are named") {
  const auto walls = [](double by) {
    return line("WALL", by, 0, 12 - by, 0) + line("WALL", 12, by, 12, 8 - by) +
           line("WALL", 12 - by, 8, by, 8) + line("WALL", 0, 8 - by, 0, by);
  };
  const std::string back = line("WALL", 12, 0, 0, 0) + line("WALL", 0, 8, 0, 0);
  const FromPlan twice = from_plan(in_dxf(6, walls(0) + walls(0) + back));
  CHECK(twice.plan_m2() == Approx(96.0));
  CHECK(twice.says("lines drawn twice count once: WALL (6)"));
  // 0.1 m short of each corner, and 0.05 m over it: across the corner the root of 2 times that.
  const std::string one_short = refused("dxf", in_dxf(6, walls(0.1))).what;
  CHECK(one_short.find("the 4 lines on layer WALL don't join: of their open ends those at ") !=
        std::string::npos);
  CHECK(one_short.find("lie nearest, 0.1414 units of the drawing apart") != std::string::npos);
  const std::string over =
      refused("dxf", in_dxf(6, walls(-0.05) + box("X", 0, 0, 9, 9)), "layer=wall").what;
  CHECK(over.find("0.07071 units of the drawing apart") != std::string::npos);
  CHECK(over.find("05") < over.find("lie nearest"));
}

TEST_CASE("the roof's outline round the walls gives the overhangs") {
  const std::string walls = box("A-WALL", 0, 0, 12, 8);
  const FromPlan house = from_plan(in_dxf(6, walls + box("A-ROOF", -0.5, -0.4, 12.5, 8.6)));
  INFO(house.notes);
  CHECK(house.plan_m2() == Approx(13.0 * 9.0));
  REQUIRE(house.model.parts.size() == 1);
  CHECK(house.model.parts[0].edges[0].overhang_m == Approx(0.4));
  CHECK(house.model.parts[0].edges[1].overhang_m == Approx(0.5));
  CHECK(house.model.parts[0].edges[2].overhang_m == Approx(0.6));
  CHECK(house.says("the outline of the roof gives the overhangs of 4 edges"));
  CHECK_FALSE(house.says("passed over"));
  // In an L, flush with its wall at one end; and as the option says.
  const std::vector<Place> inner{{0, 0}, {12, 0}, {12, 8}, {7, 8}, {7, 13}, {0, 13}};
  const std::vector<Place> outer{{-.5, -.5}, {12, -.5},   {12, 8.5},
                                 {7.5, 8.5}, {7.5, 13.5}, {-.5, 13.5}};
  const std::string ell = closed("WAND", inner) + closed("DACH", outer);
  CHECK(from_plan(in_dxf(6, ell)).plan_m2() == Approx(12.5 * 9.0 + 8.0 * 5.0));
  CHECK(from_plan(in_dxf(6, ell), "overhang=0.2 m").plan_m2() == Approx(12.4 * 8.4 + 7.4 * 5.0));
  // One that lies far out gives none.
  const FromPlan far = from_plan(in_dxf(6, walls + box("A-ROOF", -4, -4, 16, 12)));
  CHECK(far.plan_m2() == Approx(96.0));
  CHECK(far.says("passed over, outlines of roofs that don't run round walls within 2 m"));
}

TEST_CASE("plans by the words of other languages, and options that no house has") {
  // A sheet's frame in the model: the layer named after the roof wins.
  const std::string frame = box("0", -5, -5, 37, 24.7);
  for (const char* layer : {"Dach", "A-DACHKANTE", "TOITURE", "02_cubierta", "Tejado"}) {
    const FromPlan roof = from_plan(in_dxf(6, frame + box(layer, 0, 0, 12, 8)));
    INFO(layer << roof.notes);
    CHECK(roof.plan_m2() == Approx(96.0));
    CHECK(roof.says("taken as drip lines"));
  }
  for (const char* layer :
       {"AUSSENWAND", "W\xC3\x84NDE", "Mauerwerk", "MURS-EXT", "muro", "Pared"}) {
    const FromPlan walls = from_plan(in_dxf(6, frame + box(layer, 0, 0, 12, 8)));
    INFO(layer << walls.notes);
    CHECK(walls.plan_m2() == Approx(96.0));
    CHECK(walls.says("taken as the outer faces of walls"));
  }
  // No word of a wall is in "prepared": the largest outline counts.
  CHECK(from_plan(in_dxf(6, frame + box("PREPARED", 0, 0, 12, 8))).plan_m2() == Approx(42 * 29.7));
  CHECK(from_plan(in_dxf(6, box("WAND", 0, 0, 12, 8) + line("GIEBEL", 0, 0, 0, 8)))
            .says("gables: 1 edge,"));
  // A bare number is one of the drawing's units.
  const std::string plan = in_dxf(4, box("WALL", 0, 0, 12000, 8000));
  CHECK(refused("dxf", plan, "plate=3").what ==
        "the option plate=3 is 0.003 m, no height of a plate");
  CHECK(refused("dxf", plan, "plate=-3m").what.find("no height of a plate") != std::string::npos);
  CHECK(refused("dxf", plan, "overhang=50m").what.find("no overhang of a roof") !=
        std::string::npos);
  // 2 m at 60 degrees fall 3.46 m.
  CHECK(refused("dxf", plan, "overhang=2 m\npitch=60 deg").what.find("under the ground") !=
        std::string::npos);
  CHECK(from_plan(plan, "plate=3000").says("plates the height 3000 mm"));
  CHECK(from_plan(plan, "plate=3000").model.parts.at(0).plate_m == Approx(3.0));
  CHECK(refused("dxf", plan, "from=lines").what == "there are no lines of a roof in space");
  const std::string wide("\xFF\xFE\x30\x00\x0A\x00", 6);  // "0" and the end of the line
  CHECK(refused("dxf", wide).what == "the file is UTF-16");
  CHECK(refused("dxf", "PK\x03\x04rest").what.find("packed file") != std::string::npos);
  // The name may be another's: what is in the file decides; a DWG is told as one.
  const auto sure = [](const char* importer, const std::string& bytes, const std::string& name) {
    return plugin::sniff_apart(library(importer), bytes, name).value();
  };
  CHECK(sure("dxf", plan, "plan.obj") > sure("mesh", plan, "plan.obj"));
  CHECK(sure("dxf", "AC1032", "plan.dwg") > 0);
  CHECK(sure("mesh", plan, "plan.obj") < 50);  // who is half sure is not asked further
}
