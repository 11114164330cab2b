#pragma once
// The gable that all importers know (importers/imported.hpp), written in ways of other programs.

#include "model/file_bytes.hpp"
#include "plugin/guard.hpp"

#include "importers/imported.hpp"
#include "rebuild/stage.hpp"
#include "support/words.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <array>
#include <cmath>
#include <cstdint>
#include <map>
#include <string>
#include <utility>
#include <vector>

namespace ridgeward::tests {

using Spot = std::array<double, 3>;
using Shape = std::vector<std::vector<Spot>>;

/// Two planes of 12 m by 5 m, rise 3 in run 4, eaves at 3 m (importers/imported.hpp).
inline const Shape two_slopes{{{0, 0, 3}, {12, 0, 3}, {12, 4, 6}, {0, 4, 6}},
                              {{12, 8, 3}, {0, 8, 3}, {0, 4, 6}, {12, 4, 6}}};

/// Turned by `angle_deg` about the upright, then moved.
inline Shape moved_by(Shape shape, double angle_deg, const Spot& by) {
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
inline std::string obj_of(const Shape& shape, char up = 'y', const std::string& name = "house") {
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
inline std::string stl_of(const Shape& shape) {
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
inline std::string binary_stl_of(const Shape& shape) {
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

inline std::string ply_of(const Shape& shape) {
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
  std::array<double, 2> site{0.0, 0.0};   ///< metres
  double turned_deg = 0.0;                ///< the site
  std::array<double, 2> shape{0.0, 0.0};  ///< of all shapes in their place; metres
  bool is_in_outlines = false;            ///< of slabs this stands in their outlines
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
        corners += (corners.empty() ? "" : ",") + point(inside({p[0], p[1], p[2] - 3.0}));
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
  /// What is the same is written once, as programs do.
  std::string add(const std::string& words) {
    const auto [at, is_new] = names_.emplace(words, fmt::format("#{}", last_ + 1));
    if (is_new) {
      ++last_;
      text_ += at->second + "=" + words + ";\n";
    }
    return at->second;
  }
  const Written& how() const { return how_; }
  Spot inside(const Spot& p) const { return {p[0] + how_.shape[0], p[1] + how_.shape[1], p[2]}; }
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
  std::map<std::string, std::string> names_;
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
      Spot corner = inside(turn > 0 ? Spot{0, 0, 0} : Spot{12, 8, 0});
      const double up = -0.6 * turn * corner[1];  // of the corner along the third axis
      const Spot away{turn * corner[0], turn * 0.8 * corner[1], 0};
      corner = how().is_in_outlines ? Spot{0, -0.6 * turn * up, 0.8 * up} : corner;
      const std::string place = axes(corner, {turn, 0, 0}, {0, -0.6 * turn, 0.8});
      std::string ring;
      std::string first;
      for (const auto& p : {Spot{0, 0, 0}, Spot{12, 0, 0}, Spot{12, 5, 0}, Spot{0, 5, 0}}) {
        const double more = how().is_in_outlines ? 1.0 : 0.0;
        const std::string at = add("IFCCARTESIANPOINT((" + real(p[0] + more * away[0]) + "," +
                                   real(p[1] + more * away[1]) + "))");
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

/// Slabs as thick as `thick_m` over faces, cut square all round.
inline Shape slabs_over(const Shape& faces, double thick_m) {
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

struct Told {
  rebuild::Rebuilt house;
  std::string notes;
};

/// The house and all that is said.
inline Told told(const std::string& importer, const std::string& bytes,
                 const std::string& options = "") {
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

}  // namespace ridgeward::tests
