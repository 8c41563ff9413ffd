// The STEP file, read back by the kernel: valid solids, volumes, names, true cylinders.
#include <BRepAdaptor_Surface.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepGProp.hxx>
#include <GProp_GProps.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <STEPCAFControl_Reader.hxx>
#include <TDF_LabelSequence.hxx>
#include <TDataStd_Name.hxx>
#include <TDocStd_Document.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>
#include <filesystem>
#include <fstream>
#include <gtest/gtest.h>

#include "kerfwright/solid/export.h"

#include "kernel_door.h"
#include "made_bodies.h"
#include "made_piece.h"

namespace kw {
namespace {

using test::board_of;
using test::frame_at;
using test::joint_of;

struct ReadSolid {
  std::string name = {};
  double volume = 0;
  int cylinders = 0;
  bool is_valid = false;
};

ReadSolid read_solid(const TDF_Label& label) {
  ReadSolid read;
  TDF_Label product;
  XCAFDoc_ShapeTool::GetReferredShape(label, product);
  Handle(TDataStd_Name) name;
  if (product.FindAttribute(TDataStd_Name::GetID(), name)) {
    const TCollection_ExtendedString& wide = name->Get();
    std::string bytes(static_cast<std::size_t>(wide.LengthOfCString()) + 1, '\0');
    Standard_PCharacter into = bytes.data();
    wide.ToUTF8CString(into);
    read.name = bytes.c_str();
  }
  const TopoDS_Shape shape = XCAFDoc_ShapeTool::GetShape(label);
  read.is_valid = BRepCheck_Analyzer(shape).IsValid();
  GProp_GProps inside;
  BRepGProp::VolumeProperties(shape, inside);
  read.volume = inside.Mass();
  for (TopExp_Explorer it(shape, TopAbs_FACE); it.More(); it.Next())
    if (BRepAdaptor_Surface(TopoDS::Face(it.Current())).GetType() == GeomAbs_Cylinder)
      ++read.cylinders;
  return read;
}

std::vector<ReadSolid> read_back(const std::string& text) {
  Message::DefaultMessenger()->ChangePrinters().Clear();
  const auto path = std::filesystem::temp_directory_path() /
                    ("kw_step_test_" + std::to_string(getpid()) + ".step");
  std::ofstream(path, std::ios::binary) << text;
  STEPCAFControl_Reader reader;
  Handle(TDocStd_Document) document = new TDocStd_Document("XmlXCAF");
  const bool is_read =
      reader.ReadFile(path.c_str()) == IFSelect_RetDone && reader.Transfer(document);
  std::filesystem::remove(path);
  EXPECT_TRUE(is_read);
  const auto tool = XCAFDoc_DocumentTool::ShapeTool(document->Main());
  TDF_LabelSequence free, parts;
  tool->GetFreeShapes(free);
  EXPECT_EQ(free.Length(), 1);
  if (free.Length() > 0) XCAFDoc_ShapeTool::GetComponents(free.Value(1), parts);
  std::vector<ReadSolid> solids;
  for (int i = 1; i <= parts.Length(); ++i) solids.push_back(read_solid(parts.Value(i)));
  return solids;
}

// A leg with a rounded foot, a rail tenoned into it and pinned.
Resolved stool() {
  std::vector<ResolvedBoard> boards = {
      board_of("leg 'front'", 45, 60, 400, frame_at({0, 0, 0}, {0, 0, 1}, {1, 0, 0})),
      board_of("T\xC3\xBCr/2", 20, 60, 300, frame_at({22.5 - 30, 0, 200}, {1, 0, 0}, {0, 1, 0}))};
  boards[0].curves.push_back({{385, 15}, 15, false});
  for (int i = 0; i < 4; ++i) {
    const double turn = (i + 0.5) * 3.14159265358979323846 / 8;
    const Vec3 n = {std::cos(turn), std::sin(turn), 0};
    boards[0].cuts.push_back(
        {{n, dot(n, {385, 15, 0}) + 15 * std::cos(3.14159265358979323846 / 16)},
         CutSource::corner,
         "foot",
         0,
         {}});
  }
  Resolved piece = test::piece_of(std::move(boards), {joint_of(JointKind::tenon, 0, 1)});
  piece.title = "Stool \\ No. 1";
  ResolvedJoint& tenon = piece.joints[0];
  tenon.length = 30;
  tenon.wide = 40;
  tenon.thick = 8;
  tenon.count = 1;
  tenon.fastener = "dowel 1/4 x 1-1/2";
  return piece;
}

double pi_r2(double radius) {
  return 3.14159265358979323846 * radius * radius;
}

TEST(ToStep, ReadsBackAsValidSolidsWithNamesVolumesAndTrueCylinders) {
  const Resolved piece = stool();
  const auto text = to_step(piece, test::bodies_from(piece));
  ASSERT_TRUE(text) << text.diagnostics()[0].message;
  const auto solids = read_back(*text);
  ASSERT_EQ(solids.size(), 2u);
  EXPECT_TRUE(solids[0].is_valid && solids[1].is_valid);
  EXPECT_EQ(solids[0].name, "leg 'front'");
  EXPECT_EQ(solids[1].name, "T\xC3\xBCr/2");
  const double pin = 25.4 / 8;  // radius of 1/4 in
  const double leg = (400 * 60 - (225 - pi_r2(15) / 4)) * 45 - 30 * 40 * 8 - pi_r2(pin) * (60 - 8);
  const double rail = 300 * 60 * 20 - 30 * (60 * 20 - 40 * 8) - pi_r2(pin) * 8;
  EXPECT_NEAR(solids[0].volume, leg, 1e-6 * leg);
  EXPECT_NEAR(solids[1].volume, rail, 1e-6 * rail);
  EXPECT_EQ(solids[0].cylinders, 3);  // the foot, the pin in both cheeks
  EXPECT_EQ(solids[1].cylinders, 1);
}

TEST(ToStep, SaysThatItIsAP242AndHasNoTimeOfItsOwn) {
  const Resolved piece = stool();
  const auto bodies = test::bodies_from(piece);
  const auto first = to_step(piece, bodies), second = to_step(piece, bodies);
  ASSERT_TRUE(first && second);
  EXPECT_EQ(*first, *second);
  EXPECT_NE(first->find("AP242_MANAGED_MODEL_BASED_3D_ENGINEERING_MIM_LF"), std::string::npos);
  EXPECT_NE(first->find("'Stool \\\\ No. 1'"), std::string::npos);
  EXPECT_NE(first->find("'T\\X2\\00FC\\X0\\r/2'"), std::string::npos);
}

TEST(ToStep, WithoutTheKernelTellsHowToGetIt) {
  std::string why = "no such library";
  const auto none = written_by(nullptr, why, {});
  ASSERT_FALSE(none);
  EXPECT_EQ(none.diagnostics()[0].code, "solid.no-kernel");
  EXPECT_FALSE(none.diagnostics()[0].hint.empty());
}

TEST(ToStep, FindsTheKernelBesideTheProgram) {
  std::string why;
  EXPECT_NE(load_step_writer(kernel_folders(), why), nullptr) << why;
}

TEST(ToStep, TellsWhichBoardTheKernelCouldNotMake) {
  const auto fails = [](const kernel::StepRequest&, kernel::StepAnswer& answer) {
    answer.failed = "leg";
    answer.reason = "out of luck";
  };
  const auto text = written_by(fails, "", {});
  ASSERT_FALSE(text);
  EXPECT_EQ(text.diagnostics()[0].code, "solid.kernel-failed");
  EXPECT_NE(text.diagnostics()[0].message.find("leg"), std::string::npos);
}

}  // namespace
}  // namespace kw
