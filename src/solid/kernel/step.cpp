// STEP AP242 through the kernel: an assembly of one product a board.
#include <APIHeaderSection_MakeHeader.hxx>
#include <Interface_Static.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <STEPCAFControl_Controller.hxx>
#include <STEPCAFControl_Writer.hxx>
#include <STEPEdit.hxx>
#include <Standard_Failure.hxx>
#include <StepData_Protocol.hxx>
#include <StepData_StepModel.hxx>
#include <StepData_StepWriter.hxx>
#include <StepRepr_NextAssemblyUsageOccurrence.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TDataStd_Name.hxx>
#include <TDocStd_Document.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>
#include <XSControl_WorkSession.hxx>
#include <exception>
#include <sstream>
#include <string>

#include "kernel/kernel.h"
#include "kernel/place.h"
#include "kernel/step_text.h"
#include "kernel/true_solid.h"

namespace kw::kernel {
namespace {

// A fixed moment, so that the same piece gives the same bytes.
constexpr const char* no_time = "1970-01-01T00:00:00";

Handle(TCollection_HAsciiString) word(const std::string& text) {
  return new TCollection_HAsciiString(text.c_str());
}

void name(const TDF_Label& label, const std::string& token) {
  TDataStd_Name::Set(label, TCollection_ExtendedString(token.c_str()));
}

// Puts every board into the document. Should the kernel throw, answer.failed names the board it was
// at.
void add_boards(const StepRequest& request, const Handle(TDocStd_Document) & document,
                StepWords& words, StepAnswer& answer) {
  const auto tool = XCAFDoc_DocumentTool::ShapeTool(document->Main());
  const TDF_Label whole = tool->NewShape();
  name(whole, words.token_for(request.title));
  for (const Placed& board : request.boards) {
    answer.failed = board.name;
    const TopoDS_Shape shape = true_solid_of(board.recipe);
    if (shape.IsNull()) continue;
    const TDF_Label product = tool->AddShape(shape, false);
    name(product, words.token_for(board.name));
    const TDF_Label component =
        tool->AddComponent(whole, product, TopLoc_Location(displacement_to(board.frame)));
    name(component, words.token_for(board.name));
  }
  answer.failed.clear();
  tool->UpdateAssemblies();
}

void write_header(const StepRequest& request, const Handle(StepData_StepModel) & model,
                  StepWords& words) {
  APIHeaderSection_MakeHeader header(model);
  header.SetName(word(words.token_for(request.title)));
  header.SetTimeStamp(word(no_time));
  header.SetAuthorValue(1, word(words.token_for(request.author)));
  header.SetOrganizationValue(1, word(""));
  header.SetPreprocessorVersion(word("Kerfwright"));
  header.SetOriginatingSystem(word("Kerfwright"));
  header.Apply(model);
}

// The kernel counts these on from file to file.
void number_uses(const Handle(StepData_StepModel) & model) {
  int count = 0;
  for (int i = 1; i <= model->NbEntities(); ++i) {
    const auto use = Handle(StepRepr_NextAssemblyUsageOccurrence)::DownCast(model->Value(i));
    if (!use.IsNull()) use->SetId(word(std::to_string(++count)));
  }
}

void write(const StepRequest& request, StepAnswer& answer) {
  Message::DefaultMessenger()->ChangePrinters().Clear();
  STEPCAFControl_Controller::Init();
  // After the controller and before the writer is made, or the file is silently AP214.
  Interface_Static::SetCVal("write.step.schema", "AP242DIS");
  const Handle(TDocStd_Document) document = new TDocStd_Document("XmlXCAF");
  StepWords words;
  add_boards(request, document, words, answer);
  STEPCAFControl_Writer writer;
  writer.SetColorMode(false);
  writer.SetLayerMode(false);
  writer.SetPropsMode(false);
  if (!writer.Transfer(document)) throw Standard_Failure("nothing could be translated");
  const auto model = Handle(StepData_StepModel)::DownCast(writer.ChangeWriter().WS()->Model());
  number_uses(model);
  write_header(request, model, words);
  StepData_StepWriter text(model);
  text.SendModel(Handle(StepData_Protocol)::DownCast(STEPEdit::Protocol()));
  std::ostringstream out;
  if (!text.Print(out)) throw Standard_Failure("the file could not be written");
  answer.text = words.put_into(out.str());
}

}  // namespace
}  // namespace kw::kernel

void kw_kernel_write_step(const kw::kernel::StepRequest& request, kw::kernel::StepAnswer& answer) {
  try {
    kw::kernel::write(request, answer);
  } catch (const Standard_Failure& failure) {
    answer.text.clear();
    answer.reason = failure.GetMessageString();
  } catch (const std::exception& failure) {
    answer.text.clear();
    answer.reason = failure.what();
  }
}
