// Reads solids from STEP through Open CASCADE: their faces as triangles, then as a mesh.
#include "plugin/importer_abi.h"

#include "mesh/regions.hpp"
#include "support/importing.hpp"
#include "support/planes.hpp"

#include <BRepGProp.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <Poly_Triangulation.hxx>
#include <STEPControl_Reader.hxx>
#include <Standard_Failure.hxx>
#include <TopExp_Explorer.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Shape.hxx>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <sstream>

namespace ridgeward::step {
namespace {

using importing::Host;
using importing::Refused;
using Options = std::map<std::string, std::string>;

constexpr double usual_tolerance_m = 0.01;
constexpr std::size_t most_triangles = 400000;
constexpr double mm = 0.001;  // the library reads every unit into millimetres
/// Sheets and timber are left out: solids whose volume, spread over half their surface, is thinner.
constexpr double least_thickness_m = 0.1;

TopoDS_Shape shape_in(std::string_view bytes) {
  std::istringstream stream{std::string(bytes)};
  STEPControl_Reader reader;
  if (reader.ReadStream("input.step", stream) != IFSelect_RetDone || reader.TransferRoots() < 1) {
    throw Refused("", "this is no STEP file with a shape", "check that the file is whole");
  }
  return reader.OneShape();
}

/// The solids that can be a roof; where there are none, the whole shape.
std::vector<TopoDS_Shape> solids_of(const TopoDS_Shape& shape, const Host& host) {
  std::vector<TopoDS_Shape> solids;
  std::size_t count = 0;
  for (TopExp_Explorer at(shape, TopAbs_SOLID); at.More(); at.Next()) {
    GProp_GProps volume;
    GProp_GProps surface;
    BRepGProp::VolumeProperties(at.Current(), volume);
    BRepGProp::SurfaceProperties(at.Current(), surface);
    ++count;
    if (2.0 * std::abs(volume.Mass()) >= least_thickness_m / mm * surface.Mass()) {
      solids.push_back(at.Current());
    }
  }
  if (solids.empty()) {
    host.note("there are no solids but thin ones: all faces are taken");
    return {shape};
  }
  host.note(std::to_string(solids.size()) + " of " + importing::counted(count, "solid") +
            " taken; sheets and timber, thinner than 0.1 m, are left out");
  return solids;
}

void add_face(const TopoDS_Face& face, bool is_y_up, mesh::Triangles& found) {
  TopLoc_Location place;
  const Handle(Poly_Triangulation) triangles = BRep_Tool::Triangulation(face, place);
  if (triangles.IsNull()) {
    return;
  }
  const auto first = static_cast<std::uint32_t>(found.points.size());
  for (int i = 1; i <= triangles->NbNodes(); ++i) {
    const gp_Pnt p = triangles->Node(i).Transformed(place.Transformation());
    const std::array<double, 3> at{p.X() * mm, p.Y() * mm, p.Z() * mm};
    if (!(std::abs(at[0]) + std::abs(at[1]) + std::abs(at[2]) < 1e6)) {
      throw Refused("", "a corner lies nowhere, or more than 1000 km away",
                    "check that the file is whole");
    }
    found.points.push_back(is_y_up ? mesh::Point{at[0], -at[2], at[1]} : at);
  }
  for (int i = 1; i <= triangles->NbTriangles(); ++i) {
    int a = 0;
    int b = 0;
    int c = 0;
    triangles->Triangle(i).Get(a, b, c);
    if (face.Orientation() == TopAbs_REVERSED) {
      std::swap(b, c);
    }
    const auto corner = [&](int node) { return first + static_cast<std::uint32_t>(node - 1); };
    found.corners.push_back({corner(a), corner(b), corner(c)});
  }
  if (found.corners.size() > most_triangles) {
    throw Refused("", "the faces make more than 400000 triangles", "give the roof by itself");
  }
}

void import_bytes(std::string_view bytes, const Options& options, const Host& host) {
  const double tolerance_m =
      importing::number_option(options, "tolerance", 0.001, 5.0).value_or(usual_tolerance_m);
  const auto up = options.find("up");
  if (up != options.end() && up->second != "y" && up->second != "z") {
    throw Refused("", "up=" + up->second + " is not known", "give up=y or up=z");
  }
  const bool is_y_up = up != options.end() && up->second == "y";
  mesh::Triangles found;
  for (const TopoDS_Shape& solid : solids_of(shape_in(bytes), host)) {
    const BRepMesh_IncrementalMesh mesher(solid, tolerance_m / mm);
    for (TopExp_Explorer at(solid, TopAbs_FACE); at.More(); at.Next()) {
      add_face(TopoDS::Face(at.Current()), is_y_up, found);
    }
  }
  mesh::Sought sought;
  sought.tolerance_m = tolerance_m;
  sought.id = "solids";
  sought.other_up = is_y_up ? "z" : "y";
  mesh::give_planes(std::move(found), sought, host);
}

int sniff(const char* head, std::size_t size, const char* file_name) {
  const std::string_view text(head, size);
  const std::string_view name = file_name == nullptr ? "" : file_name;
  if (text.find("ISO-10303-21") == std::string_view::npos) {
    return 0;
  }
  return name.ends_with(".step") || name.ends_with(".stp") ? 95 : 60;
}

int read(const char* bytes, std::size_t size, const char* options, const ridgeward_host* host) {
  return importing::guarded(*host, [&](const Host& to) {
    try {
      import_bytes(std::string_view(bytes, size), importing::options_of(options), to);
    } catch (const Standard_Failure&) {  // its words speak of the library's own parts
      throw Refused("", "the file can't be read", "check that it is whole");
    }
  });
}

constexpr ridgeward_importer_table table{RIDGEWARD_IMPORTER_ABI,
                                         sizeof(ridgeward_importer_table),
                                         "step",
                                         "roofs modelled as solids: STEP (AP203, AP214, AP242)",
                                         ".step .stp",
                                         sniff,
                                         read};

}  // namespace
}  // namespace ridgeward::step

extern "C" __attribute__((visibility("default"))) const ridgeward_importer_table*
ridgeward_importer(std::uint32_t host_abi) {
  return host_abi == RIDGEWARD_IMPORTER_ABI ? &ridgeward::step::table : nullptr;
}
