// Where boards lie: frames, holds, directions, and the ends that are not cut against other boards.
#include <cmath>
#include <fmt/format.h>
#include <numbers>

#include "resolving.h"

namespace kw {
namespace {

using namespace testing_piece;

std::string board(const std::string& keys) {
  return usual_stock + "[board.b]\nstock = \"leg\"\n" + keys;
}

ResolvedBoard laid(const std::string& keys) {
  return board_of(sound(board(keys)), "b");
}

void expect_right_handed(const Frame& frame) {
  EXPECT_NEAR(norm(frame.x), 1, 1e-15);
  EXPECT_NEAR(norm(frame.y), 1, 1e-12);
  EXPECT_NEAR(norm(frame.z), 1, 1e-12);
  expect_near(cross(frame.x, frame.y), frame.z, 1e-12);
}

const std::string along_x = "at = [\"1\", \"2\", \"3\"]\nalong = \"x\"\nlength = \"24\"\n";

TEST(Placement, PutsTheFrameOnTheLineWithTheFaceWhereItLooks) {
  const ResolvedBoard b = laid(along_x + "face = \"up\"\n");
  expect_near(b.frame.origin * (1 / inch), {1, 2, 3}, 1e-12);
  EXPECT_EQ(b.frame.x, (Vec3{1, 0, 0}));
  EXPECT_EQ(b.frame.y, (Vec3{0, 1, 0}));
  EXPECT_EQ(b.frame.z, (Vec3{0, 0, 1}));
  EXPECT_EQ(b.from_x, 0);
  EXPECT_NEAR(b.to_x, 24 * inch, 1e-9);
}

TEST(Placement, AlongAnAxisIsExactWhateverTheLength) {
  for (const char* length : {"49", "1/3 * 1 in", "97 3/64", "0.1"}) {
    const ResolvedBoard b = laid(fmt::format(
        "runs = [[\"0\", \"0\", \"0\"], [\"0\", \"0\", \"{}\"]]\nface = \"front\"\n", length));
    EXPECT_EQ(b.frame.x, (Vec3{0, 0, 1}));
    EXPECT_EQ(b.frame.z, (Vec3{0, -1, 0}));
  }
}

TEST(Placement, TheFaceIsMadeSquareToTheBoard) {
  const ResolvedBoard b =
      laid("runs = [[\"0\", \"0\", \"0\"], [\"0\", \"3\", \"4\"]]\nface = \"up\"\n");
  expect_near(b.frame.x, {0, 0.6, 0.8}, 1e-12);
  expect_near(b.frame.z, {0, -0.8, 0.6}, 1e-12);
  expect_right_handed(b.frame);
}

TEST(Placement, WithoutAFaceLyingBoardsLookUpAndStandingOnesToTheFront) {
  expect_near(laid(along_x).frame.z, {0, 0, 1});
  expect_near(laid("at = [\"0\", \"0\", \"0\"]\nalong = \"up\"\nlength = \"24\"\n").frame.z,
              {0, -1, 0});
  expect_near(laid("at = [\"0\", \"0\", \"0\"]\nalong = \"back\"\nlength = \"24\"\n").frame.z,
              {0, 0, 1});
}

TEST(Placement, HoldAndShiftMoveTheBoardAcrossAndThrough) {
  // 2x4: 3 1/2 across (y), 1 1/2 through (z).
  const auto origin = [](const std::string& keys) {
    return laid(along_x + "face = \"up\"\n" + keys).frame.origin * (1 / inch);
  };
  expect_near(origin("hold = [\"low\", \"high\"]\n"), {1, 2 + 1.75, 3 - 0.75});
  expect_near(origin("hold = [\"high\", \"low\"]\n"), {1, 2 - 1.75, 3 + 0.75});
  expect_near(origin("hold = [\"middle\", \"middle\"]\nshift = [\"1/4\", \"-1\"]\n"), {1, 2.25, 2});
  expect_near(origin("hold = [\"low\", \"low\"]\nshift = [\"-1 3/4\", \"-3/4\"]\n"), {1, 2, 3});
}

TEST(Placement, DirectionsAreWordsVectorsPointsAndTurns) {
  const auto x = [](const std::string& along) {
    return laid(
               "at = [\"0\", \"0\", \"0\"]\nlength = \"10\"\nface = [\"0.3\", \"0.5\", "
               "\"0.9\"]\nalong = " +
               along + "\n")
        .frame.x;
  };
  expect_near(x("\"left\""), {-1, 0, 0});
  expect_near(x("\"-y\""), {0, -1, 0});
  expect_near(x("[\"3\", \"0\", \"4\"]"), {0.6, 0, 0.8});
  expect_near(x("[\"3 in\", \"0\", \"4\"]"), {0.6, 0, 0.8});
  expect_near(x("{ from = [\"1\", \"1\", \"1\"], to = [\"1\", \"4\", \"5\"] }"), {0, 0.6, 0.8});
  // Right-handed: x turned about z by 90 degrees is y.
  EXPECT_EQ(x("{ is = \"x\", turn = \"90 deg\", about = \"z\" }"), (Vec3{0, 1, 0}));
  expect_near(x("{ is = \"x\", turn = \"30 deg\", about = \"y\" }"), {std::sqrt(3.0) / 2, 0, -0.5},
              1e-12);
}

TEST(Ends, SquareEndsAreWhereTheLineEnds) {
  const ResolvedBoard b = laid(along_x + "start = { add = \"1/2\" }\nend = { add = \"-2\" }\n");
  ASSERT_EQ(b.cuts.size(), 2U);
  EXPECT_EQ(b.cuts[0].source, CutSource::start);
  EXPECT_EQ(b.cuts[1].source, CutSource::end);
  EXPECT_NEAR(b.from_x, -0.5 * inch, 1e-9);
  EXPECT_NEAR(b.to_x, 22 * inch, 1e-9);
}

TEST(Ends, APlaneTurnsItsNormalOutOfTheWoodByItself) {
  const std::string keys =
      "runs = [[\"0\", \"0\", \"12\"], [\"0\", \"0\", \"-1\"]]\nend = \"floor\"\n";
  const ResolvedBoard down = laid(keys);
  expect_near(down.cuts[1].plane.normal, {1, 0, 0}, 1e-12);
  EXPECT_NEAR(down.to_x, 12 * inch, 1e-9);
  const ResolvedBoard named = board_of(
      sound(board("runs = [[\"0\", \"0\", \"0\"], [\"0\", \"0\", \"12\"]]\nend = \"top\"\n") +
            "[plane.top]\nat = [\"0\", \"0\", \"10\"]\nfaces = \"down\"\n"),
      "b");
  EXPECT_NEAR(named.to_x, 10 * inch, 1e-9);
}

TEST(Ends, TheStickIsLongEnoughForEveryCornerOfASlantedEnd) {
  // A leg at 20 degrees from upright, on the floor: the end runs half the width times tan(20 deg)
  // past its middle.
  const ResolvedBoard leg = laid(
      "runs = [[\"0\", \"0\", \"0\"], [\"30 in * tan(20 deg)\", \"0\", \"30\"]]\nface = "
      "\"front\"\nstart = \"floor\"\n");
  EXPECT_NEAR(leg.from_x / inch, -1.75 * std::tan(20 * std::numbers::pi / 180), 1e-9);
  expect_near(leg.cuts[0].plane.normal,
              {-std::cos(20 * std::numbers::pi / 180), leg.cuts[0].plane.normal.y, 0}, 1e-9);
  EXPECT_NEAR(std::abs(leg.cuts[0].plane.normal.y), std::sin(20 * std::numbers::pi / 180), 1e-9);
}

TEST(Ends, MitreAndBevelAreSetAsOnTheSaw) {
  // mitre = atan2(n_y, |n_x|), bevel = asin(n_z): the program's own convention, inverted here.
  const ResolvedBoard b =
      laid(along_x +
           "start = { mitre = \"35 deg\" }\nend = { mitre = \"-10 deg\", bevel = \"20 deg\" }\n");
  const Vec3 start = b.cuts[0].plane.normal, end = b.cuts[1].plane.normal;
  const auto degrees = [](double radians) { return radians * 180 / std::numbers::pi; };
  EXPECT_NEAR(degrees(std::atan2(start.y, std::abs(start.x))), 35, 1e-9);
  EXPECT_LT(start.x, 0);
  EXPECT_NEAR(degrees(std::atan2(end.y, std::abs(end.x))), -10, 1e-9);
  EXPECT_NEAR(degrees(std::asin(end.z)), 20, 1e-9);
  EXPECT_NEAR(b.cuts[1].plane.distance({24 * inch, 0, 0}), 0, 1e-9);
}

TEST(Stock, HasTheTablesSectionTheMeasuredOneOrTheFilesOwn) {
  // PS 20-20 Table 3: 2x4 is 1 1/2 x 3 1/2 dry, 1 9/16 x 3 9/16 green.
  const Resolved piece = sound(R"toml(
[stock.dry]
section = "2x4"
species = "spruce-pine-fir"
rip = "3"
[stock.green]
section = "2x4"
green = true
[stock.measured]
section = "2x4"
actual = ["1 7/16", "3 7/16"]
[stock.own]
section = ["19 mm", "100 mm"]
buy = [{ length = "8 ft", price = "4.50" }, { length = "10 ft", price = "12.005" }]
have = [{ length = "61 1/2", count = 2 }, { length = "5 ft" }]
[stock.sheet]
section = ["1/4", "48"]
sheet = "96"
)toml");
  ASSERT_EQ(piece.stocks.size(), 5U);
  const auto section = [&](std::size_t i) {
    return Vec3{piece.stocks[i].used.thickness.in_inches(), piece.stocks[i].used.width.in_inches(),
                piece.stocks[i].bought.width.in_inches()};
  };
  expect_near(section(0), {1.5, 3, 3.5}, 1e-12);
  expect_near(section(1), {1.5625, 3.5625, 3.5625}, 1e-12);
  expect_near(section(2), {1.4375, 3.4375, 3.4375}, 1e-12);
  EXPECT_EQ(piece.stocks[3].used.thickness, Length::mm(19));
  EXPECT_EQ(piece.stocks[0].sold_as, "2x4");
  EXPECT_TRUE(piece.stocks[0].density.has_value());
  EXPECT_TRUE(piece.stocks[0].has_common_lengths);
  EXPECT_FALSE(piece.stocks[0].buy.empty());
  ASSERT_EQ(piece.stocks[3].buy.size(), 2U);
  EXPECT_EQ(piece.stocks[3].buy[0].price->coins, 450);
  EXPECT_EQ(piece.stocks[3].buy[1].price->coins, 1201);
  EXPECT_FALSE(piece.stocks[3].has_common_lengths);
  ASSERT_EQ(piece.stocks[3].have.size(), 2U);
  EXPECT_EQ(piece.stocks[3].have[0].count, 2);
  EXPECT_EQ(piece.stocks[3].have[1].count, 1);
  EXPECT_TRUE(piece.stocks[4].is_sheet);
  ASSERT_EQ(piece.stocks[4].buy.size(), 1U);
  EXPECT_EQ(piece.stocks[4].buy[0].length, Length::inches(96));
}

TEST(Stock, OfAnOwnSectionWithoutLengthsIsGivenTheUsualOnesAndSaysSo) {
  const auto reading = resolved("[stock.own]\nsection = [\"19\", \"100\"]\n", "mm");
  ASSERT_EQ(codes_of(reading.diagnostics), std::vector<std::string>{"piece.lengths-assumed"});
  EXPECT_EQ(reading.diagnostics[0].severity, Severity::advice);
  EXPECT_TRUE(reading.value.stocks.at(0).has_common_lengths);
  EXPECT_EQ(reading.value.stocks[0].sold_as, "19 mm x 100 mm");
}

TEST(Panels, AreAsWideAsTheirStripsOrAsSaid) {
  const Resolved piece = sound(R"toml(
[stock.top]
section = "1x4"
[panel.a]
stock = "top"
at = ["0", "0", "0"]
along = "x"
length = "24"
strips = 4
[panel.b]
stock = "top"
at = ["0", "20", "0"]
along = "x"
length = "24"
width = "13"
hold = ["low", "low"]
)toml");
  EXPECT_EQ(board_of(piece, "a").section.width, Length::inches(14));
  EXPECT_EQ(board_of(piece, "a").strips, 4);
  EXPECT_EQ(board_of(piece, "b").section.width, Length::inches(13));
  EXPECT_EQ(board_of(piece, "b").strips, 4);
  EXPECT_NEAR(board_of(piece, "b").frame.origin.y, 26.5 * inch, 1e-9);
}

}  // namespace
}  // namespace kw
