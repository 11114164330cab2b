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
