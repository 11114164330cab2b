// STEP and BREP text.
#include "solid/held.hpp"

#include <APIHeaderSection_MakeHeader.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepTools.hxx>
#include <IFSelect_ReturnStatus.hxx>
#include <Interface_Static.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Message_Printer.hxx>
#include <STEPControl_Writer.hxx>
#include <Standard_Failure.hxx>
#include <StepBasic_Product.hxx>
#include <StepData_Protocol.hxx>
#include <StepData_StepModel.hxx>
#include <StepData_StepWriter.hxx>
#include <TCollection_HAsciiString.hxx>
#include <XSControl_WorkSession.hxx>
#include <gp_Trsf.hxx>

#include <mutex>
#include <sstream>

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

/// The writer counts its products; the second export of a session would be named "... 2".
void name_products(const Handle(StepData_StepModel) & model, const std::string& name) {
  const Handle(TCollection_HAsciiString) text = new TCollection_HAsciiString(name.c_str());
  for (int i = 1; i <= model->NbEntities(); ++i) {
    const auto product = Handle(StepBasic_Product)::DownCast(model->Value(i));
    if (!product.IsNull()) {
      product->SetId(text);
      product->SetName(text);
    }
  }
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

}  // namespace

Result<std::string> to_step(const Shape& shape, const std::string& name) {
  const std::lock_guard<std::mutex> guard(writer_lock());
  try {
    // The writer talks on the standard output, which belongs to the program.
    Message::DefaultMessenger()->RemovePrinters(STANDARD_TYPE(Message_Printer));
    STEPControl_Writer writer;
    Interface_Static::SetCVal("write.step.unit", "MM");
    Interface_Static::SetCVal("write.step.schema", "AP214IS");
    if (writer.Transfer(in_millimetres(shape.held().shape), STEPControl_ManifoldSolidBrep) !=
        IFSelect_RetDone) {
      return write_failed("the solid could not be turned into STEP");
    }
    // Header without the clock: equal models give equal bytes.
    APIHeaderSection_MakeHeader header(writer.Model());
    header.SetName(new TCollection_HAsciiString(name.c_str()));
    header.SetTimeStamp(new TCollection_HAsciiString("1970-01-01T00:00:00"));
    name_products(writer.Model(), name);
    std::ostringstream out;
    out.imbue(std::locale::classic());
    if (writer.Model().IsNull() || !write_model(writer, out)) {
      return write_failed("STEP text could not be written");
    }
    return out.str();
  } catch (const Standard_Failure& failure) {
    return write_failed(std::string("STEP: ") + failure.GetMessageString());
  }
}

Result<std::string> to_brep(const Shape& shape) {
  try {
    std::ostringstream out;
    out.imbue(std::locale::classic());
    BRepTools::Write(shape.held().shape, out);
    return out.str();
  } catch (const Standard_Failure& failure) {
    return write_failed(std::string("BREP: ") + failure.GetMessageString());
  }
}

}  // namespace ridgeward::solid
