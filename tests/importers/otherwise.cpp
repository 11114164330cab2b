// One gable said otherwise: in feet, without what a standard leaves out, as slabs. Each has to come
// back as the same house.
#include "importers/as_written.hpp"
#include "importers/imported.hpp"
#include "support/program.hpp"
#include "support/words.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

using namespace ridgeward;
using namespace ridgeward::tests;

namespace {

/// The slopes as IFC4 has them: one in triangles, one as a polygon.
class FaceSetText : public IfcText {
 public:
  explicit FaceSetText(bool is_by_others)
      : IfcText({.schema = "IFC4"}), is_by_others_(is_by_others) {}

 protected:
  std::vector<std::string> shapes(const std::string& context) override {
    // A corner that is no face's: with PnIndex it is passed over.
    std::string list = "(9.,9.,9.)";
    for (const auto& slope : two_slopes) {
      for (const Spot& p : slope) {
        list += ",(" + real(p[0]) + "," + real(p[1]) + "," + real(p[2] - 3.0) + ")";
      }
    }
    const std::string points = add("IFCCARTESIANPOINTLIST3D((" + list + "))");
    const std::string others = is_by_others_ ? "(2,3,4,5,6,7,8,9)" : "$";
    const std::string triangles = is_by_others_ ? "((1,2,3),(1,3,4))" : "((2,3,4),(2,4,5))";
    const std::string face = add(std::string("IFCINDEXEDPOLYGONALFACE(") +
                                 (is_by_others_ ? "(5,6,7,8)" : "(6,7,8,9)") + ")");
    return {
        body(context, "Tessellation",
             add("IFCTRIANGULATEDFACESET(" + points + ",$,.F.," + triangles + "," + others + ")")),
        body(context, "Tessellation",
             add("IFCPOLYGONALFACESET(" + points + ",.F.,(" + face + ")," + others + ")"))};
  }

 private:
  bool is_by_others_;
};

/// An upright body over an outline, cut by half spaces.
class CutText : public IfcText {
 public:
  struct Slope {
    Spot at;
    Spot out;  ///< of the body
    std::vector<std::array<double, 2>> bounds{};
  };
  CutText(std::vector<std::array<double, 2>> outline, std::vector<Slope> slopes, bool agrees)
      : IfcText({.unit_m = 0.001,
                 .unit = "#1=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);\n",
                 .schema = "IFC4"}),
        outline_(std::move(outline)),
        slopes_(std::move(slopes)),
        agrees_(agrees) {}

 protected:
  std::vector<std::string> shapes(const std::string& context) override {
    const std::string profile =
        add("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$," + ring(outline_) + ")");
    std::string solid = add("IFCEXTRUDEDAREASOLID(" + profile + "," + axes({0, 0, 0}, {1, 0, 0}) +
                            "," + direction({0, 0, 1}) + "," + real(9.0) + ")");
    for (const Slope& slope : slopes_) {
      const double turn = agrees_ ? -1.0 : 1.0;
      const std::string plane =
          add("IFCPLANE(" +
              axes(slope.at, {1, 0, 0},
                   {turn * slope.out[0], turn * slope.out[1], turn * slope.out[2]}) +
              ")");
      const std::string flag = agrees_ ? ",.T." : ",.F.";
      const std::string half =
          slope.bounds.empty() ? add("IFCHALFSPACESOLID(" + plane + flag + ")")
                               : add("IFCPOLYGONALBOUNDEDHALFSPACE(" + plane + flag + "," +
                                     axes({0, 0, 0}, {1, 0, 0}) + "," + ring(slope.bounds) + ")");
      solid = add("IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.," + solid + "," + half + ")");
    }
    return {body(context, "Clipping", solid)};
  }

 private:
  std::string ring(const std::vector<std::array<double, 2>>& corners) {
    std::string list;
    std::string order;
    for (std::size_t i = 0; i < corners.size(); ++i) {
      list += fmt::format("{}({},{})", i == 0 ? "" : ",", real(corners[i][0]), real(corners[i][1]));
      order += fmt::format("{},", i + 1);
    }
    return add("IFCINDEXEDPOLYCURVE(" + add("IFCCARTESIANPOINTLIST2D((" + list + "))") +
               ",(IFCLINEINDEX((" + order + "1))),.F.)");
  }

  std::vector<std::array<double, 2>> outline_;
  std::vector<Slope> slopes_;
  bool agrees_;
};

}  // namespace

TEST_CASE("IFC: lengths in feet and inches are metres when they come") {
  // ISO 16739-1, IfcConversionBasedUnit: the factor of its IfcMeasureWithUnit. The international
  // foot is 0.3048 m, the inch 0.0254 m (NIST SP 811, B.6).
  const auto conversion = [](const char* name, const char* factor, const char* base) {
    return fmt::format(
        "#1=IFCCONVERSIONBASEDUNIT(#2,.LENGTHUNIT.,'{}',#3);\n"
        "#2=IFCDIMENSIONALEXPONENTS(1,0,0,0,0,0,0);\n#3=IFCMEASUREWITHUNIT({},#4);\n"
        "#4=IFCSIUNIT(*,.LENGTHUNIT.,{},.METRE.);\n",
        name, factor, base);
  };
  const std::vector<Written> files{
      {},
      {0.001, "#1=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);\n"},
      {0.3048, conversion("FOOT", "IFCLENGTHMEASURE(0.3048)", "$")},
      {0.3048, conversion("FOOT", "IFCRATIOMEASURE(304.8)", ".MILLI."), "IFC4"},
      {0.0254, conversion("INCH", "IFCPOSITIVELENGTHMEASURE(2.54)", ".CENTI.")}};
  for (const Written& file : files) {
    CAPTURE(file.unit);
    const Told all = told("ifc", IfcText(file).whole());
    require_gable(all.house);
    CHECK(all.house.model.parts[0].plate_m == Approx(3.0).margin(1e-5));
    CHECK(support::has(all.notes, "Loft at 3 (heights in metres)"));
    CHECK(
        support::has(all.notes, fmt::format("unit of length in the file is {:g} m", file.unit_m)));
  }
  // No unit that can be used: metres, and that is said.
  for (const char* unit : {"#1=IFCSIUNIT(*,.MASSUNIT.,.KILO.,.GRAM.);\n",
                           "#1=IFCCONVERSIONBASEDUNIT(#2,.LENGTHUNIT.,'ELL',#1);\n"}) {
    const Told all = told("ifc", IfcText({1.0, unit}).whole());
    require_gable(all.house);
    CHECK(support::has(all.notes, "metres are assumed"));
  }
}

TEST_CASE("IFC: an object needs no owner history") {
  // ISO 16739-1 (IFC4), IfcRoot: OwnerHistory is optional.
  require_gable(told("ifc", IfcText({.schema = "IFC4", .has_owner = false}).whole()).house);
}

TEST_CASE("IFC: what is taken is counted as what it is") {
  CHECK(support::has(told("ifc", IfcText({}).whole()).notes, ": 0 roofs, 2 such slabs"));
  // ISO 16739-1, IfcRoof: a roof with a shape of its own, or put together of slabs of any type.
  std::string text = IfcText({.schema = "IFC4"}).whole();
  for (std::size_t at = text.find("IFCSLAB("); at != std::string::npos;
       at = text.find("IFCSLAB(")) {
    text.replace(at, 8, "IFCROOF(");
  }
  for (std::size_t at = text.find(".ROOF."); at != std::string::npos; at = text.find(".ROOF.")) {
    text.replace(at, 6, ".GABLE_ROOF.");
  }
  const Told roofs = told("ifc", text);
  require_gable(roofs.house);
  CHECK(support::has(roofs.notes, ": 2 roofs, 0 such slabs"));
}

TEST_CASE("IFC4: roofs in triangles and polygons, and what is no roof in any shape") {
  // ISO 16739-1, IfcTriangulatedFaceSet and IfcPolygonalFaceSet: corners are counted from 1, in
  // PnIndex where it is there.
  for (const bool is_by_others : {false, true}) {
    CAPTURE(is_by_others);
    require_gable(told("ifc", FaceSetText(is_by_others).whole()).house);
  }
  std::string text = FaceSetText(false).whole();
  const std::string last = "IFCINDEXEDPOLYGONALFACE((6,7,8,9))";
  const std::size_t at = text.find(last);
  // A hole of 1 m by 1 m: filled, and said.
  std::string holed = text;
  holed.replace(at, last.size(), "IFCINDEXEDPOLYGONALFACEWITHVOIDS((6,7,8,9),((10,11,12,13)))");
  holed.replace(holed.find("))", holed.find("POINTLIST3D")), 2,
                "),(5.,6.,1.5),(5.,7.,.75),(6.,7.,.75),(6.,6.,1.5))");
  const Told filled = told("ifc", holed);
  require_gable(filled.house);
  CHECK(support::has(filled.notes, "filled: 1 opening, 1.25 m2"));
  std::string beyond = text;
  beyond.replace(at, last.size(), "IFCINDEXEDPOLYGONALFACE((6,7,8,10))");
  const Fault gone = refused("ifc", beyond);
  CHECK(
      support::has(gone.what, "IFCPOLYGONALFACESET has corners or faces that are not in the file"));
  CHECK(support::has(gone.where, "#"));
  // What nobody here reads is named where the roof has it, and harms nobody elsewhere.
  std::string smooth = text;
  smooth.replace(smooth.find("IFCTRIANGULATEDFACESET("), 23, "IFCADVANCEDBREP(");
  CHECK(support::has(refused("ifc", smooth).what, "can't be read: IFCADVANCEDBREP"));
  smooth.replace(smooth.find(".ROOF."), 6, ".FLOOR.");
  CHECK(told("ifc", smooth).house.fits[0].area_given_m2 == Approx(60.0));
  CHECK(told("ifc", smooth, "objects=slope").house.fits[0].area_given_m2 == Approx(60.0));
  CHECK(support::has(told("ifc", smooth, "objects=slope").notes, "IFCADVANCEDBREP"));
}

TEST_CASE("IFC: the cuts of a body that half spaces cut are its roof") {
  // ISO 16739-1, IfcHalfSpaceSolid: with AgreementFlag true the normal points out of it.
  const std::vector<std::array<double, 2>> box{{0, 0}, {12, 0}, {12, 8}, {0, 8}};
  const std::vector<std::array<double, 2>> all_round{{-1, -1}, {13, -1}, {13, 9}, {-1, 9}};
  for (const bool agrees : {false, true}) {
    for (const auto& bounds : {std::vector<std::array<double, 2>>{}, all_round}) {
      CAPTURE(agrees, bounds.size());
      const CutText::Slope south{{0, 0, 0}, {0, -0.6, 0.8}, bounds};
      const CutText::Slope north{{0, 8, 0}, {0, 0.6, 0.8}, bounds};
      require_gable(told("ifc", CutText(box, {south, north}, agrees).whole()).house);
    }
  }
  // Over an L of 12 m by 8 m less 6 m by 4 m one slope at 3 in 4: by hand 5/4 of the plan. Bounded
  // to the eastern half of the box, 5 m above the ground elsewhere, 6 m by 4 m of slope and the
  // rest of the plan level.
  const std::vector<std::array<double, 2>> ell{{0, 0}, {12, 0}, {12, 4}, {6, 4}, {6, 8}, {0, 8}};
  const CutText::Slope one{{0, 0, 0}, {0, -0.6, 0.8}};
  CHECK(told("ifc", CutText(ell, {one}, false).whole()).house.fits[0].area_given_m2 ==
        Approx(72.0 * 1.25));
  CutText::Slope east = one;
  east.bounds = {{6, -1}, {13, -1}, {13, 9}, {6, 9}};
  const CutText::Slope level{{0, 0, 5}, {0, 0, 1}};
  CHECK(told("ifc", CutText(ell, {level, east}, false).whole()).house.fits[0].area_given_m2 ==
        Approx(24.0 * 1.25 + 48.0));
  // What can't be cut is told, not given flat: a body of which not even the profile is known here.
  std::string text = CutText(box, {one}, false).whole();
  text.replace(text.find("IFCARBITRARYCLOSEDPROFILEDEF"), 28, "IFCARBITRARYOPENPROFILEDEF");
  CHECK(support::has(refused("ifc", text).what, "a body that slopes cut"));
}

TEST_CASE("triangles are roof whichever side is their front") {
  Shape turned = two_slopes;
  std::reverse(turned[1].begin(), turned[1].end());
  const Told one = told("mesh", obj_of(turned));
  require_gable(one.house);
  CHECK(support::has(one.notes, "taken as roof: 1 plane, 60.00 m2"));
  std::reverse(turned[0].begin(), turned[0].end());
  require_gable(told("mesh", obj_of(turned)).house);
  // A thick roof, plumb cut: its undersides face down and are none.
  Shape thick = two_slopes;
  for (const auto& slope : two_slopes) {
    auto under = slope;
    for (Spot& p : under) {
      p[2] -= 0.25;
    }
    thick.emplace_back(under.rbegin(), under.rend());
  }
  for (const bool is_inside_out : {false, true}) {
    if (is_inside_out) {
      for (auto& face : thick) {
        std::reverse(face.begin(), face.end());
      }
    }
    const Told all = told("mesh", obj_of(thick));
    require_gable(all.house);
    CHECK(support::has(all.notes, "hidden and left out: 2, 120.00 m2"));
    CHECK_FALSE(support::has(all.notes, "axis that points up"));
  }
  // Lying on its side.
  CHECK(support::has(told("mesh", obj_of(two_slopes, 'z', "roof")).notes,
                     "is z its axis that points up? (option up=z)"));
  CHECK_FALSE(
      support::has(told("mesh", obj_of(two_slopes, 'z', "roof"), "up=z").notes, "axis that"));
}

TEST_CASE("slabs cut square at ridge and hips are carried on to where their tops meet") {
  // By hand: the top of a slab of thickness t at 3 in 4 ends t tan(pitch) = 0.15 m short of the
  // ridge, measured along the slope.
  const double area_m2 = 2.0 * 12.0 * 5.15;
  for (const auto& [importer, bytes] : {std::pair("ifc", SlabText(Written{}).whole()),
                                        std::pair("mesh", obj_of(slabs_over(two_slopes, 0.2)))}) {
    CAPTURE(importer);
    const Told all = told(importer, bytes);
    REQUIRE(all.house.model.parts.size() == 1);
    CHECK(all.house.fits[0].plain == 0);
    CHECK(all.house.fits[0].planes_given == 2);
    CHECK(all.house.fits[0].area_rebuilt_m2 == Approx(area_m2).epsilon(1e-5));
    CHECK(support::has(all.notes, "left out: 2, 4.80 m2"));
    CHECK(support::has(all.notes, "carried on by up to 0.150 m"));
  }
  // Hips over 12 m by 8 m, all at 3 in 4: the eaves come out by 0.6 t all round, and the area over
  // the plan grows by 5/4.
  const Shape hipped{{{0, 0, 3}, {12, 0, 3}, {8, 4, 6}, {4, 4, 6}},
                     {{12, 0, 3}, {12, 8, 3}, {8, 4, 6}},
                     {{12, 8, 3}, {0, 8, 3}, {4, 4, 6}, {8, 4, 6}},
                     {{0, 8, 3}, {0, 0, 3}, {4, 4, 6}}};
  const Told all = told("mesh", obj_of(slabs_over(hipped, 0.2)));
  REQUIRE(all.house.model.parts.size() == 1);
  CHECK(all.house.fits[0].plain == 0);
  CHECK(all.house.fits[0].planes_given == 4);
  CHECK(all.house.fits[0].area_rebuilt_m2 == Approx(12.24 * 8.24 * 1.25).epsilon(1e-5));
}

TEST_CASE("a hole that is cut square into a slab, strip by strip, is filled") {
  // The gable of slabs 0.2 m thick, in the south one a window of 1 m by 1 m whose lower reveal
  // faces up. The faces around it meet in T-joints, as a library cuts them.
  const auto at = [](double x, double up, double out) {
    return Spot{x, 0.8 * up - 0.6 * out, 3.0 + 0.6 * up + 0.8 * out};
  };
  Shape house = slabs_over({two_slopes[1]}, 0.2);
  const auto wall = [&](double x, double up, double to_x, double to_up) {
    house.push_back({at(x, up, 0), at(to_x, to_up, 0), at(to_x, to_up, 0.2), at(x, up, 0.2)});
  };
  const std::array<Spot, 4> border{Spot{0, 0}, Spot{12, 0}, Spot{12, 5}, Spot{0, 5}};
  const std::array<Spot, 4> window{Spot{5, 2}, Spot{5, 3}, Spot{6, 3}, Spot{6, 2}};
  for (const auto& ring : {border, window}) {
    for (std::size_t i = 0; i < 4; ++i) {
      wall(ring.at(i)[0], ring.at(i)[1], ring.at((i + 1) % 4)[0], ring.at((i + 1) % 4)[1]);
    }
  }
  for (const auto& [x, up, to_x, to_up] :
       {std::tuple(0, 0, 12, 2), {0, 3, 12, 5}, {0, 2, 5, 3}, {6, 2, 12, 3}}) {
    house.push_back({at(x, up, 0.2), at(to_x, up, 0.2), at(to_x, to_up, 0.2), at(x, to_up, 0.2)});
    house.push_back({at(x, to_up, 0), at(to_x, to_up, 0), at(to_x, up, 0), at(x, up, 0)});
  }
  const Told all = told("mesh", obj_of(house));
  REQUIRE(all.house.model.parts.size() == 1);
  CHECK(all.house.model.parts[0].edges.size() == 4);
  CHECK(all.house.fits[0].planes_given == 2);
  CHECK(all.house.fits[0].area_rebuilt_m2 == Approx(2.0 * 12.0 * 5.15).epsilon(1e-5));
  CHECK(support::has(all.notes, "left out: 3, 5.00 m2"));
  CHECK(support::has(all.notes, "filled: 1 opening, 1.00 m2"));
}

TEST_CASE("a mesh in another unit is told so") {
  Shape large = two_slopes;
  for (auto& face : large) {
    for (Spot& p : face) {
      p = {p[0] * 1000.0, p[1] * 1000.0, p[2] * 1000.0};
    }
  }
  const Fault fault = refused("mesh", obj_of(large));
  CHECK(fault.what == "as read it is 12000 m long");
  CHECK(support::has(fault.cure, "scale=0.001"));
  require_gable(told("mesh", obj_of(large), "scale=0.001").house);
  // 12 m in inches.
  CHECK(support::has(told("mesh", obj_of(two_slopes), "scale=39.37").notes, "option scale"));
  CHECK_FALSE(support::has(told("mesh", obj_of(two_slopes)).notes, "option scale"));
}

TEST_CASE("roofs of solids that run into each other fit, less what lies inside") {
  // A main roof of 14 m by 8 m and a wing 6 m wide that sticks out 6 m and runs on 4 m into it,
  // all at 45 degrees. By hand: the plan is 14 by 8 and 6 by 6, the roof sqrt(2) times as large. Of
  // the wing's 6 by 4 inside a triangle of base 6 and depth 3 is seen, and hides as much of the
  // main slope.
  const Shape solids{{{0, 0, 3}, {14, 0, 3}, {14, 4, 7}, {0, 4, 7}},
                     {{14, 8, 3}, {0, 8, 3}, {0, 4, 7}, {14, 4, 7}},
                     {{4, -6, 3}, {7, -6, 6}, {7, 4, 6}, {4, 4, 3}},
                     {{10, -6, 3}, {10, 4, 3}, {7, 4, 6}, {7, -6, 6}}};
  const Told all = told("mesh", obj_of(solids));
  CHECK(all.house.fits[0].plain == 0);
  CHECK(all.house.fits[0].distance_m < 0.001);
  CHECK(all.house.fits[0].area_rebuilt_m2 == Approx((14 * 8 + 6 * 6) * std::sqrt(2.0)));
  CHECK(all.house.fits[0].area_given_m2 == Approx((14 * 8 + 6 * 6) * std::sqrt(2.0)));
  CHECK(support::has(all.notes, fmt::format("{:.2f} m2 of what was given lies inside",
                                            (6 * 4 - 9 + 9) * std::sqrt(2.0))));
}

TEST_CASE("an IFC file that is cut before its roof is told so") {
  std::string text = IfcText(Written{}).whole();
  text.resize(text.find("IFCSLAB"));
  CHECK(support::has(refused("ifc", text).what, "cut short"));
}

TEST_CASE("an IFC file that names two things alike, or holds two projects, is refused") {
  const std::string text = IfcText(Written{}).whole();
  const std::size_t at = text.find("IFCPROJECT(");
  const std::size_t from = text.rfind('#', at);
  const std::string project = text.substr(from, text.find(';', at) + 1 - from);
  const std::string name = project.substr(0, project.find('='));
  std::string twice = text;
  twice.insert(from, project + "\n");
  CHECK(refused("ifc", twice).where == name);
  CHECK(support::has(refused("ifc", twice).what, "two statements have this name"));
  // Zeros in front do not make another name (ISO 10303-21, 6.3.4).
  twice = text;
  twice.insert(from, "#00" + project.substr(1) + "\n");
  CHECK(support::has(refused("ifc", twice).what, "two statements have this name"));
  std::string second = text;
  second.insert(from, "#99999" + project.substr(project.find('=')) + "\n");
  CHECK(support::has(refused("ifc", second).what, "a second project, beside #99999"));
}
