#include <gtest/gtest.h>

#include "reading.h"

namespace kw {
namespace {

using namespace testing_piece;

constexpr double inch = static_cast<double>(Length::ticks_per_inch);

Document read_clean(const Text& text) {
  Reading<Document> reading = read_piece(text);
  EXPECT_TRUE(reading.diagnostics.empty()) << render(text, reading.diagnostics);
  return std::move(reading.value);
}

std::vector<std::string> texts_of(const std::vector<Name>& names) {
  std::vector<std::string> texts;
  for (const Name& name : names) texts.push_back(name.text);
  return texts;
}

using Words = std::vector<std::string>;

TEST(ReadPiece, ReadsTheHeadOfTheFile) {
  const Document document = read_clean(piece(R"(rule = "1/32"
author = "A"
licence = "B"
note = "C"
tags = ["d", "e"]
currency = "F"
[saw]
kerf = "1/8"
trim = 0.25
offcut = 12
)"));
  EXPECT_EQ(document.title, "Test");
  EXPECT_EQ(document.unit, LengthUnit::inch);
  EXPECT_EQ(value_of(document.rule), 1.0 / 32);
  EXPECT_EQ(document.author + document.licence + document.note + document.currency, "ABCF");
  EXPECT_EQ(document.tags, (Words{"d", "e"}));
  EXPECT_EQ(value_of(*document.kerf), 1.0 / 8);
  EXPECT_EQ(value_of(*document.trim), 0.25);
  EXPECT_EQ(value_of(*document.offcut), 12);
}

TEST(ReadPiece, TakesTheUnitFromAnywhereInTheFile) {
  const Text text{"a.toml", "format = 1\npiece = \"T\"\nrule = \"1\"\nunit = \"mm\"\n"};
  EXPECT_EQ(read_clean(text).unit, LengthUnit::mm);
}

TEST(ReadPiece, ReadsNumbersHoweverTheyAreWritten) {
  const Document document = read_clean(piece(R"([derived]
a = 12
b = +7
c = -3
d = 1_000
e = 0x1F
f = 0.5
j = 2e2
h = -1.25e1
i = 0b101
)"));
  std::vector<double> values;
  for (const DerivedDecl& derived : document.top.derived) values.push_back(value_of(derived.is));
  EXPECT_EQ(values, (std::vector<double>{12, 7, -3, 1000, 31, 0.5, 200, -12.5, 5}));
}

TEST(ReadPiece, ReadsMarksHoweverTheyAreQuoted) {
  const Document document =
      read_clean(piece("[derived]\n"
                       "a = \"3' 2 3/8\\\"\"\n"
                       "b = '29 11/16\"'\n"
                       "c = \"29 \\u00BE\"\n"
                       "d = \"\"\"\n1 +\n 2 in\"\"\"\n"
                       "e = '''1 in'''\n"));
  std::vector<double> values;
  for (const DerivedDecl& derived : document.top.derived) values.push_back(value_of(derived.is));
  EXPECT_EQ(values, (std::vector<double>{38.375 * inch, 29.6875 * inch, 29.75, 3 * inch, inch}));
}

TEST(ReadPiece, ReadsSizes) {
  const Document document = read_clean(piece(R"([size.height]
is = "30"
from = "24"
to = "36"
step = "1/2"
note = "tall"
[size.slats]
is = 7
)"));
  ASSERT_EQ(document.sizes.size(), 2U);
  const SizeDecl& height = document.sizes[0];
  EXPECT_EQ(height.name.text, "height");
  EXPECT_EQ(value_of(height.is), 30);
  EXPECT_EQ(value_of(*height.from), 24);
  EXPECT_EQ(value_of(*height.to), 36);
  EXPECT_EQ(value_of(*height.step), 0.5);
  EXPECT_EQ(height.note, "tall");
  EXPECT_FALSE(document.sizes[1].from);
}

TEST(ReadPiece, ReadsStock) {
  const Document document = read_clean(piece(R"([stock.leg]
section = "2x4"
species = "oak"
rip = "3"
actual = ["1 1/2", "3 7/16"]
green = true
buy = [{ length = "8 ft", price = "4.50" }, { length = "10 ft" }]
have = [{ length = "61", count = 2 }]
note = "n"
[stock.back]
section = ["1/4", "48"]
sheet = 96
)"));
  ASSERT_EQ(document.stocks.size(), 2U);
  const StockDecl& leg = document.stocks[0];
  EXPECT_EQ(std::get<Name>(leg.section).text, "2x4");
  EXPECT_EQ(leg.species->text, "oak");
  EXPECT_EQ(value_of(*leg.rip), 3);
  EXPECT_EQ(value_of((*leg.actual)[1]), 3.4375);
  EXPECT_TRUE(leg.is_green);
  ASSERT_EQ(leg.buy.size(), 2U);
  EXPECT_EQ(value_of(leg.buy[0].length), 96 * inch);
  EXPECT_EQ(value_of(*leg.buy[0].price), 4.5);
  EXPECT_FALSE(leg.buy[1].price);
  ASSERT_EQ(leg.have.size(), 1U);
  EXPECT_EQ(value_of(*leg.have[0].count), 2);
  EXPECT_EQ(leg.note, "n");
  EXPECT_EQ(value_of(std::get<Formula2>(document.stocks[1].section)[0]), 0.25);
  EXPECT_EQ(value_of(*document.stocks[1].sheet), 96);
}

TEST(ReadPiece, ReadsPointsAndDirections) {
  const Document document = read_clean(piece(R"([point]
foot = ["1", 2, "3"]
[plane.a]
at = "foot"
faces = "up"
[plane.b]
at = [0, 0, 1]
faces = [1, 0, 2]
[plane.c]
at = "foot"
faces = { from = "foot", to = [0, 0, 0], turn = "15 deg", about = "x" }
[plane.d]
at = "foot"
faces = { is = "-y" }
)"));
  ASSERT_EQ(document.top.points.size(), 1U);
  EXPECT_EQ(value_of(document.top.points[0].at[1]), 2);
  const auto& planes = document.top.planes;
  ASSERT_EQ(planes.size(), 4U);
  EXPECT_EQ(std::get<Name>(planes[0].at).text, "foot");
  EXPECT_EQ(std::get<Name>(planes[0].faces.is).text, "up");
  EXPECT_EQ(value_of(std::get<Formula3>(planes[1].at)[2]), 1);
  EXPECT_EQ(value_of(std::get<Formula3>(planes[1].faces.is)[2]), 2);
  const auto& between = std::get<std::array<PointRef, 2>>(planes[2].faces.is);
  EXPECT_EQ(std::get<Name>(between[0]).text, "foot");
  EXPECT_EQ(value_of(*planes[2].faces.turn), 15);
  EXPECT_EQ(planes[2].faces.about->text, "x");
  EXPECT_EQ(std::get<Name>(planes[3].faces.is).text, "-y");
}

TEST(ReadPiece, ReadsBoards) {
  const Document document = read_clean(piece(R"([board.leg]
stock = "s"
runs = ["foot", [0, 0, 30]]
face = "+x"
hold = ["low", "high"]
shift = ["1", "2"]
show = "+z"
note = "n"
[board.rail]
stock = "s"
at = "foot"
along = "x"
length = "24"
)"));
  ASSERT_EQ(document.top.boards.size(), 2U);
  const BoardDecl& leg = document.top.boards[0];
  EXPECT_EQ(leg.stock.text, "s");
  EXPECT_EQ(std::get<Name>((*leg.placement.runs)[0]).text, "foot");
  EXPECT_EQ(value_of(std::get<Formula3>((*leg.placement.runs)[1])[2]), 30);
  EXPECT_EQ(std::get<Name>(leg.placement.face->is).text, "+x");
  EXPECT_EQ((*leg.placement.hold)[1].text, "high");
  EXPECT_EQ(value_of((*leg.placement.shift)[1]), 2);
  EXPECT_EQ(leg.show->text + leg.note, "+zn");
  EXPECT_TRUE(std::holds_alternative<SquareEnd>(leg.start.how));
  const BoardDecl& rail = document.top.boards[1];
  EXPECT_EQ(std::get<Name>(*rail.placement.from).text, "foot");
  EXPECT_EQ(std::get<Name>(rail.placement.along->is).text, "x");
  EXPECT_EQ(value_of(*rail.placement.length), 24);
  EXPECT_FALSE(rail.placement.runs);
}

EndDecl end_read(const std::string& toml) {
  const Document document =
      read_clean(piece("[board.a]\nstock = \"s\"\nruns = [\"p\", \"q\"]\nend = " + toml + "\n"));
  return document.top.boards.at(0).end;
}

TEST(ReadPiece, ReadsEveryWayOfAnEnd) {
  EXPECT_TRUE(std::holds_alternative<SquareEnd>(end_read("\"square\"").how));
  EXPECT_EQ(std::get<PlaneEnd>(end_read("\"floor\"").how).plane.text, "floor");
  const EndDecl plane = end_read("{ plane = \"floor\", add = \"1/2\" }");
  EXPECT_EQ(std::get<PlaneEnd>(plane.how).plane.text, "floor");
  EXPECT_EQ(value_of(*plane.add), 0.5);
  const EndDecl against = end_read("{ against = \"b\", face = \"+z\" }");
  EXPECT_EQ(std::get<AgainstEnd>(against.how).board.text, "b");
  EXPECT_EQ(std::get<AgainstEnd>(against.how).face->text, "+z");
  EXPECT_EQ(std::get<MitreEnd>(end_read("{ mitre-with = \"b\" }").how).board.text, "b");
  const EndDecl angles = end_read("{ mitre = \"35 deg\", bevel = \"10 deg\" }");
  EXPECT_EQ(value_of(*std::get<AngleEnd>(angles.how).mitre), 35);
  EXPECT_EQ(value_of(*std::get<AngleEnd>(angles.how).bevel), 10);
  EXPECT_FALSE(std::get<AngleEnd>(end_read("{ bevel = \"10 deg\" }").how).mitre);
  const EndDecl longer = end_read("{ add = 3 }");
  EXPECT_TRUE(std::holds_alternative<SquareEnd>(longer.how));
  EXPECT_EQ(value_of(*longer.add), 3);
}

TEST(ReadPiece, ReadsPanelsAndTheirOutlines) {
  const Document document = read_clean(piece(R"([panel.lid]
stock = "s"
runs = ["p", "q"]
width = "12"
outline = [["0", "1"], { to = [2, 3], through = [4, 5] }, { to = [6, 7], radius = 8, turn = "left" }]
)"));
  const PanelDecl& lid = document.top.panels.at(0);
  EXPECT_EQ(value_of(*lid.width), 12);
  EXPECT_FALSE(lid.strips);
  ASSERT_EQ(lid.outline.size(), 3U);
  EXPECT_EQ(value_of(lid.outline[0].to[1]), 1);
  EXPECT_EQ(value_of((*lid.outline[1].through)[0]), 4);
  EXPECT_EQ(value_of(*lid.outline[2].radius), 8);
  EXPECT_EQ(lid.outline[2].turn->text, "left");
}

TEST(ReadPiece, ReadsWhatIsTakenFromBoards) {
  const Document document = read_clean(piece(R"([cut.a]
of = ["leg-*"]
plane = "slope"
[cut.b]
of = "leg"
edge = "+y"
from = 3
to = 2
starts = 6
[hole.c]
of = "leg"
face = "+z"
along = 3
diameter = "1/2"
[corner.d]
of = "leg"
at = ["start +y", "end -y"]
clip = 1
)"));
  EXPECT_EQ(document.top.cuts.at(0).plane->text, "slope");
  EXPECT_EQ(texts_of(document.top.cuts.at(0).of), Words{"leg-*"});
  EXPECT_EQ(value_of(*document.top.cuts.at(1).starts), 6);
  EXPECT_FALSE(document.top.cuts.at(1).ends);
  const HoleDecl& hole = document.top.holes.at(0);
  EXPECT_EQ(value_of(hole.across), 0) << "none means the middle";
  EXPECT_FALSE(hole.depth);
  EXPECT_EQ(texts_of(document.top.corners.at(0).at), (Words{"start +y", "end -y"}));
}

TEST(ReadPiece, ReadsCopiesOfAllKindsInTheOrderOfTheText) {
  const Document document = read_clean(piece(R"([fill.c]
of = "slat"
along = "x"
from = 0
to = 40
gap = { from = "1/4", to = "1/2" }
[mirror.b]
of = ["leg"]
across = "y"
names = ["leg-b"]
joints = false
[turn.d]
of = "leg"
count = 4
about = "z"
[repeat.a]
of = "leg"
count = 3
step = [4, 0, 0]
)"));
  const auto& copies = document.top.copies;
  ASSERT_EQ(copies.size(), 4U);
  EXPECT_EQ(copies[0].name.text + copies[1].name.text + copies[2].name.text + copies[3].name.text,
            "cbda");
  EXPECT_EQ(value_of(*std::get<FillDecl>(copies[0].how).gap_to), 0.5);
  EXPECT_EQ(std::get<MirrorDecl>(copies[1].how).across.text, "y");
  EXPECT_EQ(texts_of(copies[1].names), Words{"leg-b"});
  EXPECT_FALSE(copies[1].with_joints);
  EXPECT_TRUE(copies[0].with_joints);
  EXPECT_EQ(std::get<Name>(std::get<TurnDecl>(copies[2].how).about.is).text, "z");
  EXPECT_EQ(value_of(std::get<RepeatDecl>(copies[3].how).step[0]), 4);
}

TEST(ReadPiece, ReadsJoints) {
  const Document document = read_clean(piece(R"([joint.a]
kind = "tenon"
of = ["leg", "rail"]
long = 1
wide = 2
thick = 3
offset = [4, 5]
[joint.b]
kind = "groove"
of = ["side"]
face = "+z"
offset = 6
width = 7
depth = 8
[joint.c]
kind = "screw"
of = ["rail", "slat-*"]
fasten = "screw-8x1-1/4"
from = "b"
step = 2
)"));
  const auto& joints = document.top.joints;
  ASSERT_EQ(joints.size(), 3U);
  EXPECT_EQ(joints[0].kind, JointKind::tenon);
  EXPECT_EQ(value_of(*joints[0].length), 1);
  EXPECT_EQ(value_of(*joints[0].wide), 2);
  EXPECT_EQ(value_of((*joints[0].offset)[1]), 5);
  EXPECT_FALSE(joints[0].across);
  EXPECT_EQ(joints[1].kind, JointKind::groove);
  EXPECT_EQ(value_of(*joints[1].across), 6);
  EXPECT_EQ(value_of(*joints[1].wide), 7);
  EXPECT_EQ(joints[2].fasten->text, "screw-8x1-1/4");
  EXPECT_EQ(joints[2].from->text, "b");
  EXPECT_EQ(value_of(*joints[2].step), 2);
}

TEST(ReadPiece, ReadsAssembliesUsesAndLoads) {
  const Document document = read_clean(piece(R"([assembly.box.derived]
width = "8"
[assembly.box.board.side]
stock = "s"
runs = ["p", "q"]
[assembly.box.use.inner]
assembly = "tray"
[use.left]
assembly = "box"
at = "foot"
turn = "90 deg"
mirror = "x"
with = { width = "10" }
[load.seat]
on = ["slat-*"]
kind = "people"
each = "180 lb"
)"));
  const AssemblyDecl& box = document.assemblies.at(0);
  EXPECT_EQ(box.name.text, "box");
  EXPECT_EQ(box.scope.derived.at(0).name.text, "width");
  EXPECT_EQ(box.scope.boards.at(0).name.text, "side");
  EXPECT_EQ(box.scope.uses.at(0).assembly.text, "tray");
  const UseDecl& left = document.top.uses.at(0);
  EXPECT_EQ(value_of(*left.turn), 90);
  EXPECT_FALSE(left.about);
  EXPECT_EQ(left.mirror->text, "x");
  EXPECT_EQ(left.with.at(0).name.text, "width");
  EXPECT_EQ(value_of(left.with.at(0).is), 10);
  EXPECT_EQ(document.loads.at(0).kind.text, "people");
}

TEST(ReadPiece, KeepsWhatWasUnderstoodBesideAFault) {
  const Text text = piece(
      "[board.a]\nstock = 3\nruns = [\"p\", \"q\"]\nlenght = 2\nnote = \"n\"\n"
      "[joint.b]\nkind = \"tenom\"\nof = [\"a\", \"c\"]\n");
  const Reading<Document> reading = read_piece(text);
  EXPECT_EQ(reading.diagnostics.size(), 3U);
  ASSERT_EQ(reading.value.top.boards.size(), 1U);
  EXPECT_EQ(reading.value.top.boards[0].stock.text, "") << "told, and so left empty";
  EXPECT_EQ(reading.value.top.boards[0].note, "n");
  EXPECT_TRUE(reading.value.top.joints.empty()) << "a joint of no kind is none";
}

TEST(ReadPiece, TellsFaultsInTheOrderOfTheText) {
  const Reading<Document> reading = read_piece(
      piece("[repeat.a]\nof = 1\n[mirror.b]\nof = 2\n[board.c]\nstock = 3\n[size.d]\nis = true\n"));
  for (std::size_t i = 1; i < reading.diagnostics.size(); ++i) {
    EXPECT_LE(reading.diagnostics[i - 1].at.begin, reading.diagnostics[i].at.begin);
  }
}

TEST(ReadPiece, HintsAtTheNearestKey) {
  const Reading<Document> reading =
      read_piece(piece("[board.a]\nstock = \"s\"\nruns = [\"p\", \"q\"]\nshfit = [1, 2]\n"));
  ASSERT_EQ(reading.diagnostics.size(), 1U);
  EXPECT_EQ(reading.diagnostics[0].hint, "did you mean `shift`?");
}

TEST(ReadPiece, HintsHowToQuoteAnInchMark) {
  const Reading<Document> reading = read_piece(piece("[derived]\na = \"3 1/2\"\"\n"));
  ASSERT_EQ(reading.diagnostics.size(), 1U);
  EXPECT_NE(reading.diagnostics[0].hint.find("a = '3 1/2\"'"), std::string::npos)
      << reading.diagnostics[0].hint;
}

}  // namespace
}  // namespace kw
