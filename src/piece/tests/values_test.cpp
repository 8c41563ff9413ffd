// Sizes, derived values, and what names in formulas mean.
#include <cmath>
#include <fmt/format.h>

#include "resolving.h"

namespace kw {
namespace {

using namespace testing_piece;

const NamedValue& named(const std::vector<NamedValue>& values, const std::string& name) {
  static const NamedValue none;
  for (const NamedValue& value : values)
    if (value.name == name) return value;
  ADD_FAILURE() << "there is no value " << name;
  return none;
}

double inches(const Value& value) {
  EXPECT_EQ(value.dimension, a_length);
  return value.amount / static_cast<double>(Length::ticks_per_inch);
}

double derived_inches(const Resolved& piece, const std::string& name) {
  return inches(named(piece.derived, name).value);
}

TEST(Values, AreWorkedOutInAnyOrder) {
  const Resolved piece = sound(R"toml(
[derived]
c = "b + 1"
b = "a * 2"
a = "height / 3"
[size.height]
is = "30"
)toml");
  EXPECT_DOUBLE_EQ(derived_inches(piece, "a"), 10);
  EXPECT_DOUBLE_EQ(derived_inches(piece, "b"), 20);
  EXPECT_DOUBLE_EQ(derived_inches(piece, "c"), 21);
}

TEST(Values, BareSizesAreLengthsInTheFilesUnit) {
  const Resolved piece = sound(
      "[size.h]\nis = 300\nfrom = 200\nto = \"40 cm\"\n[derived]\nr = \"h * sin(30 deg)\"\n", "mm");
  EXPECT_EQ(named(piece.sizes, "h").value.amount, value_of(Length::mm(300)).amount);
  EXPECT_EQ(named(piece.sizes, "h").to->amount, value_of(Length::mm(400)).amount);
  EXPECT_DOUBLE_EQ(named(piece.derived, "r").value.amount, value_of(Length::mm(150)).amount);
}

TEST(Values, BareSizesThatCountArePlainNumbers) {
  const Resolved piece = sound(usual_stock + R"toml(
[size.slats]
is = 7
[size.width]
is = "36"
[derived]
gap = "(width - slats * board.width) / (slats - 1)"
[board.slat]
stock = "board"
at = ["0", "0", "0"]
along = "y"
length = "20"
face = "up"
[repeat.row]
of = "slat"
count = "slats"
step = ["board.width + gap", "0", "0"]
joints = false
)toml");
  EXPECT_EQ(named(piece.sizes, "slats").value.dimension, a_number);
  EXPECT_DOUBLE_EQ(derived_inches(piece, "gap"), (36 - 7 * 5.5) / 6);
  EXPECT_EQ(piece.boards.size(), 7U);
}

TEST(Values, CountsMayComeByWayOfDerivedOnesAndOfAssemblies) {
  const Resolved piece = sound(usual_stock + R"toml(
[size.pairs]
is = 2
[derived]
all = "2 * pairs"
[assembly.row.derived]
more = 1
[assembly.row.board.slat]
stock = "board"
at = ["0", "0", "0"]
along = "y"
length = "20"
face = "up"
[assembly.row.repeat.r]
of = "slat"
count = "all + more"
step = ["8", "0", "0"]
[use.here]
assembly = "row"
)toml");
  EXPECT_EQ(piece.boards.size(), 5U);
  EXPECT_EQ(named(piece.derived, "all").value.amount, 4);
}

TEST(Values, ALengthDividedByALengthCountsWithoutBeingTakenForACount) {
  const Resolved piece = sound(usual_stock + R"toml(
[size.width]
is = "36"
[size.pitch]
is = "6"
[board.slat]
stock = "board"
at = ["width - pitch", "0", "0"]
along = "y"
length = "width"
face = "up"
[repeat.row]
of = "slat"
count = "round-down(width / pitch, 1)"
step = ["pitch", "0", "0"]
)toml");
  EXPECT_EQ(piece.boards.size(), 6U);
  EXPECT_NEAR(piece.boards[0].frame.origin.x, 30 * inch, 1e-9);
}

TEST(Values, DottedNamesGiveStocksBoardsPanelsPointsAndCopies) {
  const Resolved piece = sound(R"toml(
[stock.leg]
section = "2x4"
rip = "3"
[stock.top]
section = "1x4"
[point]
foot = ["0", "-4", "0"]
head = ["foot.x", "-foot.y * 2", "12"]
[board.leg-a]
stock = "leg"
runs = ["foot", "head"]
[mirror.m]
of = ["leg-a"]
across = "y"
names = ["leg-b"]
joints = false
[panel.lid]
stock = "top"
at = ["leg-a.length", "0", "17"]
along = "x"
length = "24"
face = "up"
strips = 4
[derived]
thick = "leg.thickness"
wide = "leg.width"
long = "leg-a.length"
copied = "leg-b.length - leg-a.width"
lid-wide = "lid.width"
lid-long = "lid.length"
lid-thick = "lid.thickness"
rise = "head.z - foot.z"
)toml");
  EXPECT_DOUBLE_EQ(derived_inches(piece, "thick"), 1.5);
  EXPECT_DOUBLE_EQ(derived_inches(piece, "wide"), 3);
  EXPECT_NEAR(derived_inches(piece, "long"), std::sqrt(288.0), 1e-8);
  EXPECT_NEAR(derived_inches(piece, "copied"), std::sqrt(288.0) - 3, 1e-8);
  EXPECT_DOUBLE_EQ(derived_inches(piece, "lid-wide"), 14);
  EXPECT_DOUBLE_EQ(derived_inches(piece, "lid-long"), 24);
  EXPECT_DOUBLE_EQ(derived_inches(piece, "lid-thick"), 0.75);
  EXPECT_DOUBLE_EQ(derived_inches(piece, "rise"), 12);
}

TEST(Values, OverridesTakeTheSizesPlace) {
  const std::string text =
      "[size.height]\nis = \"30\"\nfrom = \"24\"\nto = \"36\"\n[derived]\nhalf = \"height / 2\"\n";
  EXPECT_DOUBLE_EQ(derived_inches(sound(text, "in", {{"height", "32 1/2"}}), "half"), 16.25);
  EXPECT_DOUBLE_EQ(derived_inches(sound(text, "in", {{"height", "810 mm"}}), "half"), 405 / inch);
}

TEST(Values, OverridesOutOfRangeOrOfNoSizeHaveNoPlaceInTheText) {
  const std::string text = "[size.height]\nis = \"30\"\nfrom = \"24\"\nto = \"36\"\n";
  const auto high = resolved(text, "in", {{"height", "48"}});
  ASSERT_EQ(codes_of(high.diagnostics), std::vector<std::string>{"piece.out-of-range"});
  EXPECT_EQ(high.diagnostics[0].at, Span{});
  EXPECT_EQ(high.diagnostics[0].message, "`height` is 48\", more than its greatest of 36\"");
  const auto unknown = resolved(text, "in", {{"heigth", "30"}, {"width", "1 +"}});
  ASSERT_EQ(codes_of(unknown.diagnostics),
            (std::vector<std::string>{"piece.unknown-name", "piece.unknown-name"}));
  EXPECT_EQ(unknown.diagnostics[0].hint, "did you mean `height`?");
  const auto broken = resolved(text, "in", {{"height", "1 +"}});
  ASSERT_EQ(codes_of(broken.diagnostics), std::vector<std::string>{"measure.formula-syntax"});
  EXPECT_EQ(broken.diagnostics[0].at, Span{});
}

TEST(Values, ALongChainCostsNoStack) {
  std::string text = "[derived]\n";
  for (int i = 0; i < 4900; ++i) text += fmt::format("d{} = \"((((d{} + 1))))\"\n", i, i + 1);
  text += "d4900 = \"1\"\n";
  EXPECT_NEAR(derived_inches(sound(text), "d0"), 4901, 1e-6);
}

TEST(Values, AFaultIsToldOnceWhereItStandsHoweverOftenItIsUsed) {
  std::string text =
      usual_stock +
      "[derived]\nbad = \"nothing + 1\"\n"
      "[board.other]\nstock = \"leg\"\nat = [\"0\", \"0\", \"0\"]\nalong = \"x\"\nlength = \"9\"\n";
  for (int i = 0; i < 20; ++i)
    text += fmt::format(
        "[board.b{0}]\nstock = \"leg\"\nat = [\"bad\", \"{0}\", \"bad * 2\"]\nalong = "
        "\"x\"\nlength = \"bad\"\n"
        "[joint.j{0}]\nkind = \"butt\"\nof = [\"b{0}\", \"other\"]\n",
        i);
  EXPECT_EQ(codes_of(resolved(text).diagnostics), std::vector<std::string>{"piece.unknown-name"});
}

TEST(Values, ARingIsToldWithItsNames) {
  const auto reading =
      resolved("[derived]\na = \"b + 1\"\nb = \"c * 2\"\nc = \"a - 1\"\nd = \"a\"\n");
  ASSERT_EQ(codes_of(reading.diagnostics), std::vector<std::string>{"piece.cycle"});
  const Diagnostic& fault = reading.diagnostics[0];
  EXPECT_EQ(fault.message, "`a` needs itself to be worked out");
  ASSERT_EQ(fault.notes.size(), 3U);
  EXPECT_EQ(fault.notes[0].message, "`a` needs `b`");
  EXPECT_EQ(fault.notes[1].message, "`b` needs `c`");
  EXPECT_EQ(fault.notes[2].message, "`c` needs `a`");
}

TEST(Values, AnAssemblySeesTheSizesAndItsOwnButNotThePiecesPoints) {
  const std::string assembly = R"toml(
[size.width]
is = "10"
[point]
corner = ["1", "2", "3"]
[assembly.box.derived]
half = "width / 2"
[assembly.box.point]
left = ["-half", "0", "0"]
[assembly.box.board.side]
stock = "board"
at = "left"
along = "y"
length = "24"
[use.one]
assembly = "box"
[use.two]
assembly = "box"
at = ["0", "0", "10"]
with = { half = "width - corner.x" }
)toml";
  const Resolved piece = sound(usual_stock + assembly);
  EXPECT_NEAR(board_of(piece, "one/side").frame.origin.x, -5 * inch, 1e-9);
  EXPECT_NEAR(board_of(piece, "two/side").frame.origin.x, -9 * inch, 1e-9);
  const auto reading =
      resolved(usual_stock + assembly +
               "[assembly.box.plane.p]\nat = [\"corner.x\", \"0\", \"0\"]\nfaces = \"up\"\n");
  ASSERT_EQ(codes_of(reading.diagnostics), std::vector<std::string>{"piece.unknown-name"});
  EXPECT_NE(reading.diagnostics[0].message.find("belongs to the piece"), std::string::npos);
}

TEST(Values, AMinusWithoutSpacesIsExplained) {
  const auto reading =
      resolved("[size.width]\nis = 10\n[size.kerf]\nis = \"1/8\"\n[derived]\nd = \"width-kerf\"\n");
  ASSERT_EQ(codes_of(reading.diagnostics), std::vector<std::string>{"piece.unknown-name"});
  EXPECT_EQ(reading.diagnostics[0].hint, "write spaces around the minus: width - kerf");
}

}  // namespace
}  // namespace kw
