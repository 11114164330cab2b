#include "support/read_solids.hpp"

#include <BRepCheck_Analyzer.hxx>
#include <BRepGProp.hxx>
#include <BRepTools.hxx>
#include <BRep_Builder.hxx>
#include <GProp_GProps.hxx>
#include <Interface_Static.hxx>
#include <STEPCAFControl_Reader.hxx>
#include <TDF_LabelSequence.hxx>
#include <TDataStd_Name.hxx>
#include <TDocStd_Document.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS_Shape.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>

#include <filesystem>
#include <fstream>
#include <sstream>
#include <unistd.h>

namespace ridgeward::support {

namespace {

ReadSolid measured(const TopoDS_Shape& shape, const std::string& path, double unit_m) {
  ReadSolid solid;
  solid.path = path;
  GProp_GProps volume;
  BRepGProp::VolumeProperties(shape, volume);
  solid.volume_m3 = volume.Mass() * unit_m * unit_m * unit_m;
  GProp_GProps area;
  BRepGProp::SurfaceProperties(shape, area);
  solid.area_m2 = area.Mass() * unit_m * unit_m;
  solid.is_valid = BRepCheck_Analyzer(shape).IsValid();
  return solid;
}

std::string name_of(const TDF_Label& label) {
  Handle(TDataStd_Name) name;
  if (!label.FindAttribute(TDataStd_Name::GetID(), name)) {
    return "?";
  }
  const TCollection_AsciiString text(name->Get());
  return text.ToCString();
}

void gather(const TDF_Label& label, const std::string& above, std::vector<ReadSolid>& all) {
  TDF_Label meant = label;
  XCAFDoc_ShapeTool::GetReferredShape(label, meant);
  const std::string path = (above.empty() ? "" : above + " > ") + name_of(meant);
  if (!XCAFDoc_ShapeTool::IsAssembly(meant)) {
    all.push_back(measured(XCAFDoc_ShapeTool::GetShape(label), path, 0.001));
    return;
  }
  TDF_LabelSequence parts;
  XCAFDoc_ShapeTool::GetComponents(meant, parts);
  for (int i = 1; i <= parts.Length(); ++i) {
    gather(parts.Value(i), path, all);
  }
}

}  // namespace

std::vector<ReadSolid> read_step(const std::string& text) {
  const auto file = std::filesystem::temp_directory_path() /
                    ("ridgeward-read-back-" + std::to_string(getpid()) + ".step");
  std::ofstream(file) << text;
  STEPCAFControl_Reader reader;
  std::vector<ReadSolid> all;
  if (reader.ReadFile(file.c_str()) == IFSelect_RetDone) {
    Handle(TDocStd_Document) document = new TDocStd_Document("XmlXCAF");
    reader.Transfer(document);
    TDF_LabelSequence roots;
    XCAFDoc_DocumentTool::ShapeTool(document->Main())->GetFreeShapes(roots);
    for (int i = 1; i <= roots.Length(); ++i) {
      gather(roots.Value(i), "", all);
    }
  }
  std::filesystem::remove(file);
  return all;
}

std::vector<ReadSolid> read_brep(const std::string& text) {
  TopoDS_Shape shape;
  std::istringstream in(text);
  BRepTools::Read(shape, in, BRep_Builder());
  std::vector<ReadSolid> all;
  for (TopExp_Explorer it(shape, TopAbs_SOLID); it.More(); it.Next()) {
    all.push_back(measured(it.Current(), "", 1.0));
  }
  return all;
}

}  // namespace ridgeward::support
