// Copies and uses: where they come, what they are called, and what they keep to the bit.
#include <cmath>
#include <fmt/format.h>
#include <numbers>

#include "resolving.h"

namespace kw {
namespace {

using namespace testing_piece;
using Names = std::vector<std::string>;

// The corners of a board's stick in the world, in no order that matters.
std::vector<Vec3> corners_of(const ResolvedBoard& board) {
  std::vector<Vec3> corners;
  const double w = board.section.width.in_mm() / 2, t = board.section.thickness.in_mm() / 2;
  for (const double x : {board.from_x, board.to_x})
    for (const double y : {-w, w})
      for (const double z : {-t, t}) corners.push_back(board.frame.to_world(Vec3{x, y, z}));
  return corners;
}

void expect_same_room(const std::vector<Vec3>& a, const std::vector<Vec3>& b) {
  for (const Vec3& corner : a) {
    const bool is_found =
        std::any_of(b.begin(), b.end(), [&](Vec3 other) { return norm(other - corner) < 1e-6; });
    EXPECT_TRUE(is_found) << corner.x << " " << corner.y << " " << corner.z;
  }
}

void expect_right_handed(const Frame& frame) {
  expect_near(cross(frame.x, frame.y), frame.z, 1e-12);
}

const std::string slat = usual_stock + R"toml(
[board.slat]
stock = "board"
at = ["2", "1", "17"]
along = "y"
length = "12"
face = ["1", "0", "3"]
)toml";

TEST(Mirror, LaysARightHandedBoardInTheMirroredRoom) {
  const Resolved piece = sound(slat +
                               "[mirror.m]\nof = \"slat\"\nacross = \"p\"\n[plane.p]\nat = "
                               "[\"-3\", \"0\", \"1\"]\nfaces = [\"2\", \"1\", \"-1\"]\n");
  ASSERT_EQ(ids_of(piece), (Names{"slat", "m/slat"}));
  const ResolvedBoard &board = piece.boards[0], &copy = piece.boards[1];
  expect_right_handed(copy.frame);
  EXPECT_TRUE(copy.is_mirrored);
  EXPECT_EQ(copy.made_from, "slat");
  const Vec3 n = Vec3{2, 1, -1} * (1 / std::sqrt(6.0)), at = Vec3{-3, 0, 1} * inch;
  std::vector<Vec3> mirrored;
  for (const Vec3& corner : corners_of(board))
    mirrored.push_back(corner - n * (2 * dot(n, corner - at)));
  expect_same_room(mirrored, corners_of(copy));
}

TEST(Mirror, TurnsRoundWhatIsCutAndTheEdgeThatShows) {
  const Resolved piece = sound(usual_stock + R"toml(
[board.b]
stock = "board"
at = ["2", "0", "0"]
along = "up"
length = "20"
face = "front"
show = "edge"
[hole.h]
of = "b"
face = "+z"
along = "3"
across = "1"
diameter = "1/2"
[corner.c]
of = "b"
at = "end +y"
radius = "1"
[mirror.m]
of = "b"
across = "x"
[mirror.twice]
of = "m"
across = "x"
)toml");
  const ResolvedBoard &b = piece.boards.at(0), &m = piece.boards.at(1), &twice = piece.boards.at(2);
  EXPECT_EQ(b.show, "+y");
  EXPECT_EQ(m.show, "-y");
  EXPECT_EQ(m.holes.at(0).mouth.y, -b.holes.at(0).mouth.y);
  EXPECT_EQ(m.holes[0].mouth.x, b.holes[0].mouth.x);
  EXPECT_EQ(m.curves.at(0).centre.y, -b.curves.at(0).centre.y);
  EXPECT_FALSE(twice.is_mirrored);
  ASSERT_EQ(twice.cuts.size(), b.cuts.size());
  for (std::size_t i = 0; i < b.cuts.size(); ++i) {
    EXPECT_EQ(twice.cuts[i].plane.normal, b.cuts[i].plane.normal);
    EXPECT_EQ(twice.cuts[i].plane.offset, b.cuts[i].plane.offset);
    EXPECT_EQ(m.cuts[i].plane.normal.y, -b.cuts[i].plane.normal.y);
  }
}

TEST(Mirror, KeepsAHollowsSidesWithTheirCurves) {
  const Resolved piece = sound(R"toml(
[stock.s]
section = ["19", "300"]
sheet = "2000"
[panel.p]
stock = "s"
at = ["100", "0", "0"]
along = "x"
length = 300
width = 120
face = "up"
outline = [[0, -60], [300, -60], [300, 60], [250, 60], { to = [150, 10], radius = 200, turn = "right" }, [50, 60], [0, 60]]
[mirror.m]
of = "p"
across = "x"
joints = false
)toml",
                               "mm");
  const ResolvedBoard &p = piece.boards.at(0), &m = piece.boards.at(1);
  ASSERT_FALSE(p.hollows.empty());
  for (std::size_t h = 0; h < p.hollows.size(); ++h) {
    const Hollow &own = p.hollows[h], &copy = m.hollows[h];
    double area = 0;
    const std::size_t n = own.points.size();
    for (std::size_t i = 0; i < n; ++i) {
      area += cross(copy.points[i], copy.points[(i + 1) % n]);
      // The same side, found by its two corners, has the same curve.
      for (std::size_t k = 0; k < n; ++k) {
        const Vec2 from = own.points[k], to = own.points[(k + 1) % n];
        if (copy.points[i] == Vec2{to.x, -to.y} &&
            copy.points[(i + 1) % n] == Vec2{from.x, -from.y}) {
          EXPECT_EQ(copy.curves[i], own.curves[k]);
        }
      }
    }
    EXPECT_GT(area, 0);
  }
}

TEST(Repeat, CountsTheOriginalAndNumbersTheCopiesFromTwo) {
  const Resolved piece =
      sound(slat + "[repeat.row]\nof = \"slat\"\ncount = 3\nstep = [\"4\", \"0\", \"1\"]\n");
  ASSERT_EQ(ids_of(piece), (Names{"slat", "row/slat/2", "row/slat/3"}));
  expect_near(piece.boards[2].frame.origin - piece.boards[0].frame.origin, {8 * inch, 0, 2 * inch});
  EXPECT_EQ(piece.boards[2].frame.x, piece.boards[0].frame.x);
}

TEST(Turn, SharesOutAFullTurnOrTakesItsAngle) {
  const std::string turn =
      "[turn.t]\nof = \"slat\"\ncount = 4\nabout = \"z\"\nat = [\"1\", \"0\", \"0\"]\n";
  const Resolved piece = sound(slat + turn);
  ASSERT_EQ(piece.boards.size(), 4U);
  // (2, 1) about (1, 0) by quarter turns: (0, 1), (0, -1), (2, -1).
  expect_near(piece.boards[1].frame.origin * (1 / inch), {0, 1, 17}, 1e-9);
  expect_near(piece.boards[2].frame.origin * (1 / inch), {0, -1, 17}, 1e-9);
  expect_near(piece.boards[3].frame.origin * (1 / inch), {2, -1, 17}, 1e-9);
  for (const ResolvedBoard& board : piece.boards) expect_right_handed(board.frame);
  const Resolved step =
      sound(slat + "[turn.t]\nof = \"slat\"\ncount = 2\nabout = \"x\"\nangle = \"30 deg\"\n");
  expect_near(step.boards.at(1).frame.x, {0, std::cos(std::numbers::pi / 6), 0.5}, 1e-12);
}

std::vector<double> places(const Resolved& piece) {
  std::vector<double> xs;
  for (const ResolvedBoard& board : piece.boards) xs.push_back(board.frame.origin.x / inch);
  return xs;
}

std::string row(const std::string& keys) {
  return usual_stock + R"toml(
[board.slat]
stock = "board"
at = ["0", "0", "0"]
along = "y"
length = "12"
face = "up"
[fill.row]
of = "slat"
along = "x"
from = "6"
to = "40"
)toml" + keys;
}

TEST(Fill, TakesAsFewBoardsAsKeepTheGap) {
  // 34 in of 5 1/2 in boards: with 5 the gaps are 1 5/8, with 6 they are 1/5.
  const Resolved wide = sound(row("gap = { from = \"1/8\", to = \"2\" }\n"));
  ASSERT_EQ(wide.boards.size(), 5U);
  EXPECT_NEAR(places(wide)[1] - places(wide)[0] - 5.5, 1.625, 1e-9);
  const Resolved narrow = sound(row("gap = { from = \"1/8\", to = \"1\" }\n"));
  ASSERT_EQ(narrow.boards.size(), 6U);
  EXPECT_NEAR(places(narrow).front(), 6 + 2.75, 1e-9);
  EXPECT_NEAR(places(narrow).back(), 40 - 2.75, 1e-9);
  for (std::size_t i = 1; i < 6; ++i)
    EXPECT_NEAR(places(narrow)[i] - places(narrow)[i - 1], 5.7, 1e-9);
  EXPECT_EQ(ids_of(narrow)[1], "row/slat/2");
}

TEST(Fill, TellsTheNearestGapsWhenNoneFits) {
  const auto reading = resolved(row("gap = { from = \"1/2\", to = \"1\" }\n"));
  ASSERT_EQ(codes_of(reading.diagnostics), Names{"piece.no-even-fill"});
  EXPECT_NE(reading.diagnostics[0].message.find(
                "5 boards leave gaps of 1 5/8\", and 6 boards leave gaps of ~13/64\""),
            std::string::npos)
      << reading.diagnostics[0].message;
}

TEST(Fill, TakesACountIfItFits) {
  EXPECT_EQ(sound(row("count = 3\n")).boards.size(), 3U);
  const auto reading = resolved(row("count = 7\n"));
  ASSERT_EQ(codes_of(reading.diagnostics), Names{"piece.no-even-fill"});
  EXPECT_NE(reading.diagnostics[0].message.find("7 boards overlap by"), std::string::npos);
}

TEST(Fill, AlongASlantMeasuresAlongIt) {
  const Resolved piece = sound(usual_stock + R"toml(
[board.tread]
stock = "board"
at = ["0", "0", "0"]
along = "x"
length = "12"
face = ["0", "-4", "3"]
[fill.stair]
of = "tread"
along = ["0", "3", "4"]
from = "10"
to = "50"
count = 4
)toml");
  const Vec3 along = {0, 0.6, 0.8};
  EXPECT_NEAR(dot(piece.boards.at(0).frame.origin, along) / inch, 10 + 2.75, 1e-9);
  EXPECT_NEAR(dot(piece.boards.at(3).frame.origin, along) / inch, 50 - 2.75, 1e-9);
}

TEST(Copies, TakeNamesGroupsAndPatternsInTheOrderThatTheyNeed) {
  const Resolved piece = sound(usual_stock + R"toml(
[board.leg]
stock = "leg"
at = ["10", "8", "0"]
along = "up"
length = "30"
face = "front"
[mirror.back]
of = ["leg", "right"]
across = "y"
names = ["leg-b", "leg-br"]
[mirror.right]
of = "leg"
across = "x"
names = ["leg-r"]
[repeat.four]
of = "leg*"
count = 2
step = ["0", "0", "40"]
)toml");
  EXPECT_EQ(ids_of(piece), (Names{"leg", "leg-r", "leg-b", "leg-br", "four/leg/2", "four/leg-r/2",
                                  "four/leg-b/2", "four/leg-br/2"}));
  EXPECT_TRUE(board_of(piece, "leg-r").is_mirrored);
  EXPECT_FALSE(board_of(piece, "leg-br").is_mirrored);
  for (const ResolvedBoard& board : piece.boards) EXPECT_EQ(board.made_from, "leg");
}

TEST(Copies, ThatNeedOneAnotherAreARing) {
  const auto reading = resolved(
      slat +
      "[mirror.a]\nof = \"b\"\nacross = \"x\"\n[mirror.b]\nof = \"a/slat\"\nacross = \"y\"\n");
  EXPECT_EQ(codes_of(reading.diagnostics), Names{"piece.cycle"});
}

TEST(Copies, OnTheirOriginalAreWarnedOf) {
  const auto reading = resolved(usual_stock + R"toml(
[board.b]
stock = "board"
runs = [["-5", "0", "0"], ["5", "0", "0"]]
[mirror.m]
of = "b"
across = "x"
)toml");
  ASSERT_EQ(codes_of(reading.diagnostics), Names{"piece.copy-on-original"});
  EXPECT_EQ(reading.diagnostics[0].severity, Severity::warning);
}

TEST(Copies, OfTooManyBoardsAreRefusedBeforeTheyAreMade) {
  const auto reading = resolved(
      slat +
      "[repeat.a]\nof = \"slat\"\ncount = 1500\nstep = [\"1\", \"0\", \"0\"]\n"
      "[repeat.b]\nof = [\"a\", \"a/slat/7\"]\ncount = 2000\nstep = [\"0\", \"9\", \"0\"]\n");
  EXPECT_EQ(codes_of(reading.diagnostics), Names{"piece.too-many"});
  EXPECT_EQ(reading.value.boards.size(), 1500U);
}

const std::string trough = usual_stock + R"toml(
[size.deep]
is = "5"
[assembly.trough.derived]
width = "8"
[assembly.trough.board.side]
stock = "board"
at = ["width / 2", "0", "deep"]
along = "y"
length = "24"
face = "right"
[assembly.trough.board.end]
stock = "board"
runs = [["0", "0", "deep"], ["width / 2", "0", "deep"]]
face = "front"
end = { against = "side" }
[assembly.trough.mirror.m]
of = ["side"]
across = "x"
names = ["side-b"]
[assembly.trough.joint.corner]
kind = "butt"
of = ["side", "end"]
)toml";

TEST(Uses, CarryTheAssemblyMirroredTurnedThenMoved) {
  const Resolved piece = sound(trough + R"toml(
[use.low]
assembly = "trough"
[use.high]
assembly = "trough"
at = ["1", "2", "30"]
turn = "90 deg"
mirror = "x"
with = { width = "10" }
)toml");
  ASSERT_EQ(ids_of(piece),
            (Names{"low/side", "low/end", "low/side-b", "high/side", "high/end", "high/side-b"}));
  expect_near(board_of(piece, "low/side").frame.origin * (1 / inch), {4, 0, 5}, 1e-9);
  // (5, 0, 5) mirrored to (-5, 0, 5), turned to (0, -5, 5), moved by (1, 2, 30).
  const ResolvedBoard& high = board_of(piece, "high/side");
  expect_near(high.frame.origin * (1 / inch), {1, -3, 35}, 1e-9);
  expect_near(high.frame.x, {-1, 0, 0}, 1e-12);
  expect_right_handed(high.frame);
  EXPECT_TRUE(high.is_mirrored);
  EXPECT_EQ(high.group, "high");
  EXPECT_EQ(high.made_from, "trough/side");
  EXPECT_NEAR(board_of(piece, "low/end").to_x / inch, 4 - 0.375, 1e-9);
  EXPECT_EQ(joints_of(piece),
            (Names{"low/corner: low/side low/end", "high/corner: high/side high/end"}));
}

TEST(Uses, OfOneAssemblyAreEqualToTheBit) {
  const Resolved piece = sound(trough + R"toml(
[use.a]
assembly = "trough"
[use.b]
assembly = "trough"
at = ["17/7 * 1 in", "1/3 * 1 in", "0"]
turn = "33.3 deg"
about = "z"
)toml");
  const ResolvedBoard &a = board_of(piece, "a/end"), &b = board_of(piece, "b/end");
  for (std::size_t i = 0; i < 2; ++i) {
    EXPECT_EQ(a.cuts[i].plane.normal, b.cuts[i].plane.normal);
    EXPECT_EQ(a.cuts[i].plane.offset, b.cuts[i].plane.offset);
  }
  EXPECT_EQ(a.to_x, b.to_x);
}

TEST(Uses, WithinAssembliesMayBeCopiedAndJoinedByTheirIds) {
  const Resolved piece = sound(trough + R"toml(
[assembly.pair.use.one]
assembly = "trough"
[assembly.pair.use.two]
assembly = "trough"
at = ["0", "0", "20"]
[use.p]
assembly = "pair"
[repeat.r]
of = "p"
count = 2
step = ["40", "0", "0"]
[cut.level]
of = "p/one/end"
at = ["0", "0", "6"]
faces = "up"
[load.l]
on = ["p/one/side", "r"]
kind = "soil"
each = "10 lb"
)toml");
  EXPECT_EQ(piece.boards.size(), 12U);
  EXPECT_EQ(board_of(piece, "p/two/end").group, "p/two");
  EXPECT_EQ(piece.loads.at(0).on.size(), 7U);
}

TEST(Loads, StandOnPatternsGroupsAndIds) {
  const Resolved piece = sound(slat + R"toml(
[repeat.row]
of = "slat"
count = 3
step = ["8", "0", "0"]
[load.a]
on = ["*slat*"]
kind = "snow"
each = "20 lbf / (12 in * 12 in)"
[load.b]
on = ["row", "slat"]
kind = "people"
each = "180 lb"
note = "two"
[load.c]
on = "row/slat/3"
kind = "even"
)toml");
  ASSERT_EQ(piece.loads.size(), 3U);
  EXPECT_EQ(piece.loads[0].on, (std::vector<int>{0, 1, 2}));
  EXPECT_EQ(piece.loads[1].on, (std::vector<int>{1, 2, 0}));
  EXPECT_EQ(piece.loads[1].note, "two");
  EXPECT_NEAR(in_si(piece.loads[1].each), 180 * kg_per_pound, 1e-9);
  EXPECT_EQ(piece.loads[2].on, (std::vector<int>{2}));
}

}  // namespace
}  // namespace kw
