// One gable said otherwise: in feet, far from the origin, without what a standard leaves out. Each
// has to come back as the same house.
#include "model/file_bytes.hpp"
#include "plugin/guard.hpp"

#include "importers/imported.hpp"
#include "rebuild/stage.hpp"
#include "support/program.hpp"
#include "support/seed.hpp"
#include "support/words.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <map>
#include <random>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

using namespace ridgeward;
using namespace ridgeward::tests;

namespace {

using Spot = std::array<double, 3>;
using Shape = std::vector<std::vector<Spot>>;

/// Two planes of 12 m by 5 m, rise 3 in run 4, eaves at 3 m (importers/imported.hpp).
const Shape two_slopes{{{0, 0, 3}, {12, 0, 3}, {12, 4, 6}, {0, 4, 6}},
                       {{12, 8, 3}, {0, 8, 3}, {0, 4, 6}, {12, 4, 6}}};

/// Turned by `angle_deg` about the upright, then moved.
Shape moved_by(Shape shape, double angle_deg, const Spot& by) {
  const double c = std::cos(angle_deg * M_PI / 180.0);
  const double s = std::sin(angle_deg * M_PI / 180.0);
  for (auto& face : shape) {
    for (Spot& p : face) {
      p = {c * p[0] - s * p[1] + by[0], s * p[0] + c * p[1] + by[1], p[2] + by[2]};
    }
  }
  return shape;
}

/// As OBJ, `up` 'y' or 'z'.
std::string obj_of(const Shape& shape, char up = 'y', const std::string& name = "house") {
  std::string text = "o " + name + "\n";
  std::string faces;
  int corner = 0;
  for (const auto& face : shape) {
    faces += "f";
    for (const Spot& p : face) {
      text += up == 'y' ? fmt::format("v {:.6f} {:.6f} {:.6f}\n", p[0], p[2], -p[1])
                        : fmt::format("v {:.6f} {:.6f} {:.6f}\n", p[0], p[1], p[2]);
      faces += fmt::format(" {}", ++corner);
    }
    faces += "\n";
  }
  return text + faces;
}

/// Triangles fanned from each face's first corner, as STL in letters or PLY in letters.
std::string stl_of(const Shape& shape) {
  std::string text = "solid house\n";
  for (const auto& face : shape) {
    for (std::size_t k = 1; k + 1 < face.size(); ++k) {
      text += "facet normal 0 0 0\nouter loop\n";
      for (const Spot& p : {face[0], face[k], face[k + 1]}) {
        text += fmt::format("vertex {:.6f} {:.6f} {:.6f}\n", p[0], p[1], p[2]);
      }
      text += "endloop\nendfacet\n";
    }
  }
  return text + "endsolid house\n";
}

/// 80 bytes that say nothing, the count, 50 bytes a triangle.
std::string binary_stl_of(const Shape& shape) {
  std::string triangles;
  std::uint32_t count = 0;
  for (const auto& face : shape) {
    for (std::size_t k = 1; k + 1 < face.size(); ++k, ++count) {
      triangles.append(12, '\0');
      for (const Spot& p : {face[0], face[k], face[k + 1]}) {
        for (const double value : p) {
          const auto single = static_cast<float>(value);
          triangles.append(reinterpret_cast<const char*>(&single), sizeof(single));
        }
      }
      triangles.append(2, '\0');
    }
  }
  std::string bytes(80, ' ');
  bytes.append(reinterpret_cast<const char*>(&count), sizeof(count));
  return bytes + triangles;
}

std::string ply_of(const Shape& shape) {
  std::string corners;
  std::string faces;
  int count = 0;
  for (const auto& face : shape) {
    faces += fmt::format("{}", face.size());
    for (const Spot& p : face) {
      corners += fmt::format("{:.6f} {:.6f} {:.6f}\n", p[0], p[1], p[2]);
      faces += fmt::format(" {}", count++);
    }
    faces += "\n";
  }
  return fmt::format(
             "ply\nformat ascii 1.0\nelement vertex {}\nproperty double x\nproperty double y\n"
             "property double z\nelement face {}\nproperty list uchar int vertex_indices\n"
             "end_header\n",
             count, shape.size()) +
         corners + faces;
}

/// How an IFC file says the gable: faces of a shell, in a storey 3 m up.
struct Written {
  double unit_m = 1.0;
  /// Statements from #1 on; #1 is the length unit.
  std::string unit = "#1=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);\n";
  std::string schema = "IFC2X3";
  bool has_owner = true;
  std::array<double, 2> site{0.0, 0.0};  ///< metres
  double turned_deg = 0.0;               ///< the site
};

class IfcText {
 public:
  explicit IfcText(Written how) : how_(std::move(how)) {}

  std::string whole() {
    text_ = how_.unit;
    const std::string units = add("IFCUNITASSIGNMENT((#1))");
    const std::string context = add("IFCGEOMETRICREPRESENTATIONCONTEXT($,'Model',3,1.0E-5," +
                                    axes({0, 0, 0}, {1, 0, 0}) + ",$)");
    if (how_.has_owner) {
      const std::string person = add("IFCPERSON($,'x',$,$,$,$,$,$)");
      const std::string firm = add("IFCORGANIZATION($,'x',$,$,$)");
      const std::string both = add("IFCPERSONANDORGANIZATION(" + person + "," + firm + ",$)");
      const std::string tool = add("IFCAPPLICATION(" + firm + ",'1','x','x')");
      owner_ = add("IFCOWNERHISTORY(" + both + "," + tool + ",$,.ADDED.,$,$,$,0)");
    }
    const std::string project = root("PROJECT", "'P',$,$,$,$,(" + context + ")," + units);
    const double turn = how_.turned_deg * M_PI / 180.0;
    const std::string site_place =
        add("IFCLOCALPLACEMENT($," +
            axes({how_.site[0], how_.site[1], 0}, {std::cos(turn), std::sin(turn), 0}) + ")");
    const std::string site = root("SITE", "'S',$,$," + site_place + ",$,$,.ELEMENT.,$,$,$,$,$");
    const std::string place =
        add("IFCLOCALPLACEMENT(" + site_place + "," + axes({0, 0, 3}, {1, 0, 0}) + ")");
    const std::string house = root("BUILDING", "'B',$,$," + site_place + ",$,$,.ELEMENT.,$,$,$");
    const std::string storey =
        root("BUILDINGSTOREY", "'Loft',$,$," + place + ",$,$,.ELEMENT.," + real(3.0));
    root("RELAGGREGATES", "$,$," + project + ",(" + site + ")");
    root("RELAGGREGATES", "$,$," + site + ",(" + house + ")");
    root("RELAGGREGATES", "$,$," + house + ",(" + storey + ")");
    std::string slabs;
    for (const std::string& shape : shapes(context)) {
      slabs += slabs.empty() ? "" : ",";
      slabs += root("SLAB", "'Slope',$,$," + place + "," + shape + ",$,.ROOF.");
    }
    root("RELCONTAINEDINSPATIALSTRUCTURE", "$,$,(" + slabs + ")," + storey);
    return "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((''),'2;1');\nFILE_NAME('','',(''),(''),'','',"
           "'');\nFILE_SCHEMA(('" +
           how_.schema + "'));\nENDSEC;\nDATA;\n" + text_ + "ENDSEC;\nEND-ISO-10303-21;\n";
  }

 protected:
  /// One a slab.
  virtual std::vector<std::string> shapes(const std::string& context) {
    std::vector<std::string> made;
    for (const auto& slope : two_slopes) {
      std::string corners;
      for (const Spot& p : slope) {
        corners += (corners.empty() ? "" : ",") + point({p[0], p[1], p[2] - 3.0});
      }
      const std::string bound =
          add("IFCFACEOUTERBOUND(" + add("IFCPOLYLOOP((" + corners + "))") + ",.T.)");
      const std::string face = add("IFCFACE((" + bound + "))");
      const std::string shell = add("IFCOPENSHELL((" + face + "))");
      const std::string surface = add("IFCSHELLBASEDSURFACEMODEL((" + shell + "))");
      made.push_back(body(context, "SurfaceModel", surface));
    }
    return made;
  }
  std::string body(const std::string& context, const std::string& kind, const std::string& item) {
    return add("IFCPRODUCTDEFINITIONSHAPE($,$,(" +
               add("IFCSHAPEREPRESENTATION(" + context + ",'Body','" + kind + "',(" + item + "))") +
               "))");
  }
  std::string add(const std::string& words) {
    const std::string name = fmt::format("#{}", ++last_);
    text_ += name + "=" + words + ";\n";
    return name;
  }
  std::string real(double metres) const { return fmt::format("{:.9f}", metres / how_.unit_m); }
  std::string point(const Spot& p) {
    return add("IFCCARTESIANPOINT((" + real(p[0]) + "," + real(p[1]) + "," + real(p[2]) + "))");
  }
  std::string direction(const Spot& p) {
    return add(fmt::format("IFCDIRECTION(({:.12f},{:.12f},{:.12f}))", p[0], p[1], p[2]));
  }
  std::string axes(const Spot& at, const Spot& x, const Spot& z = {0, 0, 1}) {
    const std::string from = point(at);
    const std::string up = direction(z);
    return add("IFCAXIS2PLACEMENT3D(" + from + "," + up + "," + direction(x) + ")");
  }

 private:
  std::string root(const std::string& kind, const std::string& rest) {
    return add(fmt::format("IFC{}('0{:021}',{},{})", kind, ++ids_, owner_, rest));
  }

  Written how_;
  std::string text_;
  std::string owner_ = "$";
  int last_ = 20;  // below it the unit
  int ids_ = 0;
};

/// The slopes as slabs 0.2 m thick over them, cut square all round.
class SlabText : public IfcText {
 public:
  using IfcText::IfcText;

 protected:
  std::vector<std::string> shapes(const std::string& context) override {
    std::vector<std::string> made;
    for (const double turn : {1.0, -1.0}) {
      const Spot corner = turn > 0 ? Spot{0, 0, 0} : Spot{12, 8, 0};
      const std::string place = axes(corner, {turn, 0, 0}, {0, -0.6 * turn, 0.8});
      std::string ring;
      std::string first;
      for (const auto& p : {Spot{0, 0, 0}, Spot{12, 0, 0}, Spot{12, 5, 0}, Spot{0, 5, 0}}) {
        const std::string at = add("IFCCARTESIANPOINT((" + real(p[0]) + "," + real(p[1]) + "))");
        first = first.empty() ? at : first;
        ring += at + ",";
      }
      const std::string line = add("IFCPOLYLINE((" + ring + first + "))");
      const std::string profile = add("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$," + line + ")");
      const std::string solid = add("IFCEXTRUDEDAREASOLID(" + profile + "," + place + "," +
                                    direction({0, 0, 1}) + "," + real(0.2) + ")");
      made.push_back(body(context, "SweptSolid", solid));
    }
    return made;
  }
};

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

/// Slabs as thick as `thick_m` over faces, cut square all round.
Shape slabs_over(const Shape& faces, double thick_m) {
  Shape all;
  for (const auto& face : faces) {
    Spot a{};
    Spot b{};
    for (std::size_t k = 0; k < 3; ++k) {
      a.at(k) = face[1].at(k) - face[0].at(k);
      b.at(k) = face[2].at(k) - face[0].at(k);
    }
    Spot normal{a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
    const double size = std::hypot(normal[0], normal[1], normal[2]);
    auto top = face;
    for (Spot& p : top) {
      for (std::size_t k = 0; k < 3; ++k) {
        p.at(k) += normal.at(k) / size * thick_m;
      }
    }
    for (std::size_t k = 0; k < face.size(); ++k) {
      const std::size_t next = (k + 1) % face.size();
      all.push_back({face[k], face[next], top[next], top[k]});
    }
    all.push_back(top);
    all.emplace_back(face.rbegin(), face.rend());
  }
  return all;
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

struct Told {
  rebuild::Rebuilt house;
  std::string notes;
};

/// The house and all that is said.
Told told(const std::string& importer, const std::string& bytes, const std::string& options = "") {
  const auto given = plugin::read_apart(library(importer), {bytes, options, ""});
  INFO(tests::words(given));
  REQUIRE(given.ok());
  Told all{rebuilt(importer, bytes, options), {}};
  for (const std::string& note : given.value().notes) {
    all.notes += note + "\n";
  }
  for (const std::string& note : all.house.notes) {
    all.notes += note + "\n";
  }
  return all;
}

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
  // Numbers that are of single precision in the file have lost it already.
  const std::string coarse = binary_stl_of(moved_by(two_slopes, 17.0, {412345.25, 312345.75, 0.0}));
  CHECK(support::has(told("mesh", coarse).notes, "to 0.05 m only (single precision)"));
  // The cure never names an option that is not there.
  const Fault gone = refused("ifc", IfcText({.unit_m = 1e-7}).whole());
  CHECK_FALSE(support::has(gone.cure, "scale"));
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
