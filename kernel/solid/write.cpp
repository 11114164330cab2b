// STEP and BREP text.
#include "solid/held.hpp"

#include <APIHeaderSection_MakeHeader.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepTools.hxx>
#include <BRep_Builder.hxx>
#include <IFSelect_ReturnStatus.hxx>
#include <Interface_Static.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Message_Printer.hxx>
#include <STEPControl_Writer.hxx>
#include <Standard_Failure.hxx>
#include <StepBasic_Product.hxx>
#include <StepBasic_ProductDefinition.hxx>
#include <StepBasic_ProductDefinitionFormation.hxx>
#include <StepData_Protocol.hxx>
#include <StepData_StepModel.hxx>
#include <StepData_StepWriter.hxx>
#include <StepRepr_NextAssemblyUsageOccurrence.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TopoDS_Compound.hxx>
#include <TopoDS_Iterator.hxx>
#include <XSControl_WorkSession.hxx>
#include <gp_Trsf.hxx>

#include <algorithm>
#include <mutex>
#include <sstream>
#include <string>
#include <vector>

namespace ridgeward::solid {

namespace {

/// The STEP writer keeps global state.
std::mutex& writer_lock() {
  static std::mutex lock;
  return lock;
}

TopoDS_Shape in_millimetres(const TopoDS_Shape& shape) {
  gp_Trsf scale;
  scale.SetScaleFactor(1000.0);
  return BRepBuilderAPI_Transform(shape, scale, true).Shape();
}

/// Bodies under their groups, and the name of every level in the order in which the writer makes
/// its products: each before what is in it.
struct Tree {
  TopoDS_Compound whole;
  std::vector<std::string> names;
};

TopoDS_Compound empty_compound() {
  TopoDS_Compound compound;
  BRep_Builder().MakeCompound(compound);
  return compound;
}

/// "deck" of "deck/main/0"; empty for "roof".
std::string group_of(const std::string& name) {
  const std::size_t slash = name.find('/');
  return slash == std::string::npos ? std::string() : name.substr(0, slash);
}

void name_body(const Body& body, std::vector<std::string>& names) {
  names.push_back(body.name);
  int piece = 0;
  if (body.shape.held().shape.ShapeType() == TopAbs_COMPOUND) {
    for (TopoDS_Iterator it(body.shape.held().shape); it.More(); it.Next()) {
      names.push_back(body.name + "#" + std::to_string(++piece));
    }
  }
}

Tree tree_of(const std::vector<Body>& bodies, const std::string& name) {
  const BRep_Builder builder;
  Tree tree{empty_compound(), {name}};
  std::vector<std::string> groups;
  for (const Body& body : bodies) {
    const std::string group = group_of(body.name);
    if (std::find(groups.begin(), groups.end(), group) == groups.end()) {
      groups.push_back(group);
    }
  }
  for (const std::string& group : groups) {
    TopoDS_Compound members = group.empty() ? tree.whole : empty_compound();
    if (!group.empty()) {
      tree.names.push_back(group);
    }
    for (const Body& body : bodies) {
      if (group_of(body.name) == group) {
        builder.Add(members, body.shape.held().shape);
        name_body(body, tree.names);
      }
    }
    if (!group.empty()) {
      builder.Add(tree.whole, members);
    }
  }
  return tree;
}

/// The writer numbers its products, and their uses through the whole session; they get the names of
/// what they are.
bool name_products(const Handle(StepData_StepModel) & model,
                   const std::vector<std::string>& names) {
  std::size_t next = 0;
  for (int i = 1; i <= model->NbEntities(); ++i) {
    const auto product = Handle(StepBasic_Product)::DownCast(model->Value(i));
    if (!product.IsNull()) {
      if (next == names.size()) {
        return false;
      }
      const Handle(TCollection_HAsciiString) text =
          new TCollection_HAsciiString(names[next++].c_str());
      product->SetId(text);
      product->SetName(text);
    }
  }
  int uses = 0;
  for (int i = 1; i <= model->NbEntities(); ++i) {
    const auto use = Handle(StepRepr_NextAssemblyUsageOccurrence)::DownCast(model->Value(i));
    if (!use.IsNull()) {
      const Handle(TCollection_HAsciiString) number =
          new TCollection_HAsciiString(std::to_string(++uses).c_str());
      use->SetId(number);
      use->SetName(use->RelatedProductDefinition()->Formation()->OfProduct()->Name());
    }
  }
  return next == names.size();
}

/// The model as text, without a file in between.
bool write_model(STEPControl_Writer& writer, std::ostream& out) {
  const Handle(XSControl_WorkSession) session = writer.WS();
  StepData_StepWriter text(writer.Model());
  text.SendModel(Handle(StepData_Protocol)::DownCast(session->Protocol()));
  return text.Print(out);
}

Fault write_failed(const std::string& what) {
  return {"solid.write_failed", "", what, "try again; report the model if it happens again"};
}

Fault nothing() {
  return {"solid.nothing", "", "there is no body to write",
          "ask for bodies that this roof has: a roof without deck or ceiling has none of theirs"};
}

}  // namespace

Result<std::string> to_step(const std::vector<Body>& bodies, const std::string& name) {
  if (bodies.empty()) {
    return nothing();
  }
  const std::lock_guard<std::mutex> guard(writer_lock());
  try {
    // The writer talks on the standard output, which belongs to the program.
    Message::DefaultMessenger()->RemovePrinters(STANDARD_TYPE(Message_Printer));
    STEPControl_Writer writer;
    Interface_Static::SetCVal("write.step.unit", "MM");
    Interface_Static::SetCVal("write.step.schema", "AP214IS");
    Interface_Static::SetIVal("write.step.assembly", 1);
    // Faces are flat: curves in their own coordinates would say nothing new.
    Interface_Static::SetIVal("write.surfacecurve.mode", 0);
    const Tree tree = tree_of(bodies, name);
    if (writer.Transfer(in_millimetres(tree.whole), STEPControl_AsIs) != IFSelect_RetDone) {
      return write_failed("the solids could not be turned into STEP");
    }
    // Header without the clock: equal models give equal bytes.
    APIHeaderSection_MakeHeader header(writer.Model());
    header.SetName(new TCollection_HAsciiString(name.c_str()));
    header.SetTimeStamp(new TCollection_HAsciiString("1970-01-01T00:00:00"));
    if (!name_products(writer.Model(), tree.names)) {
      return write_failed("the writer made other products than the bodies given to it");
    }
    std::ostringstream out;
    out.imbue(std::locale::classic());
    if (!write_model(writer, out)) {
      return write_failed("STEP text could not be written");
    }
    return out.str();
  } catch (const Standard_Failure& failure) {
    return write_failed(std::string("STEP: ") + failure.GetMessageString());
  }
}

Result<std::string> to_brep(const std::vector<Body>& bodies) {
  if (bodies.empty()) {
    return nothing();
  }
  try {
    std::ostringstream out;
    out.imbue(std::locale::classic());
    const TopoDS_Shape shape = bodies.size() == 1 ? bodies.front().shape.held().shape
                                                  : TopoDS_Shape(tree_of(bodies, "").whole);
    BRepTools::Write(shape, out);
    return out.str();
  } catch (const Standard_Failure& failure) {
    return write_failed(std::string("BREP: ") + failure.GetMessageString());
  }
}

}  // namespace ridgeward::solid
