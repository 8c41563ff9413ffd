// What a stranger's file can make the working out spend is bounded, and the bound is told.
#include <cmath>
#include <fmt/format.h>
#include <numbers>

#include "resolving.h"

namespace kw {
namespace {

using namespace testing_piece;
using Names = std::vector<std::string>;

const std::string stick = usual_stock +
                          "[board.b]\nstock = \"leg\"\nat = [\"0\", \"0\", \"0\"]\nalong = [\"1\", "
                          "\"2\", \"3\"]\nlength = \"30\"\n";

TEST(Limits, FormulasOfAssembliesUsedManyTimes) {
  std::string text = usual_stock + "[assembly.a.derived]\n";
  for (int i = 0; i < 3000; ++i) text += fmt::format("d{} = \"d{} + 1\"\n", i, i + 1);
  text +=
      "d3000 = \"1\"\n[assembly.a.board.b]\nstock = \"leg\"\nat = [\"d0\", \"0\", \"0\"]\nalong = "
      "\"x\"\nlength = \"9\"\n";
  for (int i = 0; i < 200; ++i)
    text += fmt::format("[use.u{0}]\nassembly = \"a\"\nat = [\"0\", \"{0}\", \"0\"]\n", i);
  const auto reading = resolved(text);
  EXPECT_EQ(codes_of(reading.diagnostics), Names{"piece.too-many"});
  EXPECT_GT(reading.value.boards.size(), 50U);
}

TEST(Limits, PairsOfBoardsInOneHeap) {
  const auto reading = resolved(
      stick +
      "[repeat.r]\nof = \"b\"\ncount = 2000\nstep = [\"0.001\", \"0\", \"0\"]\njoints = false\n"
      "[joint.p]\nkind = \"butt\"\nof = [\"*\", \"*\"]\n");
  EXPECT_EQ(codes_of(reading.diagnostics), Names{"piece.too-many"});
}

TEST(Limits, JointsOfPatterns) {
  const auto reading = resolved(
      stick +
      "[repeat.r]\nof = \"b\"\ncount = 160\nstep = [\"0.001\", \"0\", \"0\"]\njoints = false\n"
      "[joint.p]\nkind = \"butt\"\nof = [\"*\", \"*\"]\n");
  EXPECT_EQ(codes_of(reading.diagnostics), Names{"piece.too-many"});
  EXPECT_EQ(reading.value.joints.size(), most_joints);
}

TEST(Limits, CutsOfPanelsCopiedManyTimes) {
  std::string outline;
  for (int i = 0; i < 400; ++i) {
    const double turn = 2 * std::numbers::pi * i / 400;
    outline +=
        fmt::format("[\"{:.3f}\", \"{:.3f}\"], ", 100 + 90 * std::cos(turn), 90 * std::sin(turn));
  }
  const auto reading = resolved(
      "[stock.s]\nsection = [\"19\", \"300\"]\nsheet = \"900\"\n[panel.p]\nstock = \"s\"\nat = [0, "
      "0, 0]\n"
      "along = \"x\"\nlength = 200\nwidth = 200\nface = \"up\"\noutline = [" +
          outline +
          "]\n"
          "[repeat.r]\nof = \"p\"\ncount = 1000\nstep = [\"0\", \"0\", \"30\"]\n",
      "mm");
  EXPECT_EQ(codes_of(reading.diagnostics), Names{"piece.too-many"});
  EXPECT_EQ(reading.value.boards.size(), 1U);
}

TEST(Limits, LongNamesAndNotesThatCopiesRepeat) {
  const std::string note(40'000, 'n');
  const auto reading =
      resolved(stick + "note = \"" + note +
               "\"\n[repeat.r]\nof = \"b\"\ncount = 2000\nstep = [\"9\", \"0\", \"0\"]\n");
  EXPECT_EQ(codes_of(reading.diagnostics), Names{"piece.too-many"});
  EXPECT_LT(reading.value.boards.size(), 600U);
}

TEST(Limits, LongWordsInMessagesAreCutShort) {
  const std::string name(50'000, 'x');
  const auto reading = resolved(stick + "[cut.k]\nof = \"" + name + "\"\nplane = \"floor\"\n");
  ASSERT_EQ(codes_of(reading.diagnostics), Names{"piece.unknown-board"});
  EXPECT_LT(reading.diagnostics[0].message.size(), 1000U);
}

TEST(Limits, EndsThatLeanOnOneAnotherALongWay) {
  std::string text = usual_stock;
  for (int i = 0; i < 1200; ++i)
    text += fmt::format(
        "[board.b{0}]\nstock = \"leg\"\nat = [\"{1}\", \"0\", \"0\"]\nalong = \"x\"\nlength = "
        "\"9\"\nend = {{ against = \"b{2}\" }}\n",
        i, 10 * i, i == 1199 ? 0 : i + 1);
  const auto reading = resolved(text);
  for (const std::string& code : codes_of(reading.diagnostics))
    EXPECT_TRUE(code == "piece.too-deep" || code == "piece.does-not-meet") << code;
  EXPECT_EQ(reading.value.boards.size(), 1200U);
}

TEST(Limits, FaultsPastTheFiveHundredth) {
  std::string text = usual_stock;
  for (int i = 0; i < 700; ++i)
    text += fmt::format(
        "[board.b{0}]\nstock = \"leg\"\nat = [\"no{0}\", \"0\", \"0\"]\nalong = \"x\"\nlength = "
        "\"9\"\n",
        i);
  const auto reading = resolved(text);
  EXPECT_EQ(reading.diagnostics.size(), 501U);
  EXPECT_EQ(reading.diagnostics.back().code, "piece.too-many-faults");
}

}  // namespace
}  // namespace kw
