// Ends that are cut against other boards or mitred with them, held to closed forms.
#include <cmath>
#include <fmt/format.h>
#include <numbers>

#include "resolving.h"

namespace kw {
namespace {

using namespace testing_piece;

double degrees(double radians) {
  return radians * 180 / std::numbers::pi;
}
double tangent(double deg) {
  return std::tan(deg * std::numbers::pi / 180);
}

// A post of 2x4 standing on the floor, its broad face to the right.
const std::string post = usual_stock + R"toml(
[board.post]
stock = "leg"
runs = [["0", "0", "0"], ["0", "0", "30"]]
face = "right"
)toml";

TEST(Against, IsTheFaceThatTheLineMeetsFirst) {
  // Post: thickness 1 1/2 along x, width 3 1/2 along y. A rail that starts within it goes to its
  // face.
  const Resolved piece = sound(post + R"toml(
[board.rail]
stock = "leg"
runs = [["0", "0", "12"], ["24", "0", "12"]]
face = "up"
start = { against = "post" }
[board.side-rail]
stock = "leg"
runs = [["0", "-24", "12"], ["0", "0", "12"]]
face = "up"
end = { against = "post", add = "1/4" }
)toml");
  EXPECT_NEAR(board_of(piece, "rail").from_x / inch, 0.75, 1e-9);
  EXPECT_NEAR(board_of(piece, "side-rail").to_x / inch, 24 - 1.75 + 0.25, 1e-9);
}

TEST(Against, ReachesOnWhereTheLineStopsShort) {
  const Resolved piece = sound(post + R"toml(
[board.rail]
stock = "leg"
runs = [["6", "0", "12"], ["24", "0", "12"]]
face = "up"
start = { against = "post" }
)toml");
  EXPECT_NEAR(board_of(piece, "rail").from_x / inch, -5.25, 1e-9);
}

TEST(Against, ABraceIsCutAtTheAngleAtWhichItArrives) {
  const Resolved piece = sound(post + R"toml(
[board.brace]
stock = "leg"
runs = [["10", "0", "10"], ["0", "0", "20"]]
face = "front"
end = { against = "post" }
)toml");
  const Plane plane = board_of(piece, "brace").cuts[1].plane;
  EXPECT_NEAR(degrees(std::atan2(std::abs(plane.normal.y), plane.normal.x)), 45, 1e-9);
  EXPECT_NEAR(plane.normal.z, 0, 1e-12);
  // On its middle line the end is 0.75 in short of the post's middle, along a slope of 45 degrees.
  EXPECT_NEAR(plane.offset / plane.normal.x / inch, (10 - 0.75) * std::sqrt(2.0), 1e-9);
}

TEST(Against, TheFarSideByNameGoesRightThrough) {
  const Resolved piece = sound(post + R"toml(
[board.rail]
stock = "leg"
runs = [["24", "0", "12"], ["0", "0", "12"]]
face = "up"
end = { against = "post", face = "-z" }
[board.cap]
stock = "leg"
runs = [["0", "0", "40"], ["0", "0", "31"]]
face = "right"
end = { against = "post", face = "end" }
)toml");
  EXPECT_NEAR(board_of(piece, "rail").to_x / inch, 24.75, 1e-9);
  EXPECT_NEAR(board_of(piece, "cap").to_x / inch, 10, 1e-9);
}

TEST(Against, TheEndOfABoardInLineWithIt) {
  const Resolved piece = sound(post + R"toml(
[board.on-top]
stock = "leg"
runs = [["0", "0", "33"], ["0", "0", "50"]]
face = "right"
start = { against = "post" }
)toml");
  EXPECT_NEAR(board_of(piece, "on-top").from_x / inch, -3, 1e-9);
}

TEST(Against, BoardsThatRunRoundAFrameDoNotLeanOnOneAnotherInARing) {
  // A pinwheel: each ends against the side of the next.
  std::string text = usual_stock;
  const char* runs[] = {"[[\"0\", \"0\", \"0\"], [\"20\", \"0\", \"0\"]]",
                        "[[\"20\", \"0\", \"0\"], [\"20\", \"20\", \"0\"]]",
                        "[[\"20\", \"20\", \"0\"], [\"0\", \"20\", \"0\"]]",
                        "[[\"0\", \"20\", \"0\"], [\"0\", \"0\", \"0\"]]"};
  for (int i = 0; i < 4; ++i)
    text += fmt::format(
        "[board.r{0}]\nstock = \"leg\"\nruns = {1}\nface = \"up\"\nend = {{ against = \"r{2}\" "
        "}}\n",
        i, runs[i], (i + 1) % 4);
  const Resolved piece = sound(text);
  for (const ResolvedBoard& board : piece.boards) {
    EXPECT_NEAR(board.from_x, 0, 1e-9);
    EXPECT_NEAR(board.to_x / inch, 20 - 1.75, 1e-9);
  }
}

TEST(Against, TwoBoardsInLineThatNeedOneAnotherAreARing) {
  const auto reading = resolved(usual_stock + R"toml(
[board.a]
stock = "leg"
runs = [["0", "0", "0"], ["10", "0", "0"]]
end = { against = "b" }
[board.b]
stock = "leg"
runs = [["12", "0", "0"], ["22", "0", "0"]]
start = { against = "a" }
)toml");
  ASSERT_EQ(codes_of(reading.diagnostics), std::vector<std::string>{"piece.cycle"});
  EXPECT_EQ(reading.value.boards.size(), 2U);  // both are shown, with square ends
}

TEST(Against, ACopyMayBeMetAndACopyKeepsItsSourcesEnd) {
  const Resolved piece = sound(post + R"toml(
[mirror.m]
of = ["post", "brace"]
across = "far"
names = ["post-b", "brace-b"]
joints = false
[plane.far]
at = ["15", "0", "0"]
faces = "x"
[board.rail]
stock = "leg"
runs = [["0", "0", "12"], ["30", "0", "12"]]
face = "up"
start = { against = "post" }
end = { against = "post-b" }
[board.brace]
stock = "leg"
runs = [["10", "1", "10"], ["0", "0", "20"]]
face = "front"
end = { against = "post" }
)toml");
  EXPECT_NEAR(board_of(piece, "rail").to_x / inch, 30 - 0.75, 1e-9);
  const ResolvedBoard &brace = board_of(piece, "brace"), &copy = board_of(piece, "brace-b");
  EXPECT_TRUE(copy.is_mirrored);
  // To the bit, but for the mirror: y turned round.
  EXPECT_EQ(copy.cuts[1].plane.normal,
            (Vec3{brace.cuts[1].plane.normal.x, -brace.cuts[1].plane.normal.y,
                  brace.cuts[1].plane.normal.z}));
  EXPECT_EQ(copy.cuts[1].plane.offset, brace.cuts[1].plane.offset);
  EXPECT_EQ(copy.from_x, brace.from_x);
  EXPECT_EQ(copy.to_x, brace.to_x);
}

std::string corner(const std::string& a, const std::string& b, const std::string& angle) {
  return fmt::format(R"toml(
[stock.a]
section = ["1", "{0}"]
[stock.b]
section = ["1", "{1}"]
[board.a]
stock = "a"
runs = [["-20", "0", "0"], ["0", "0", "0"]]
face = "up"
end = {{ mitre-with = "b" }}
[board.b]
stock = "b"
runs = [["0", "0", "0"], ["20 in * cos({2})", "20 in * sin({2})", "0"]]
face = "up"
start = {{ mitre-with = "a" }}
)toml",
                     a, b, angle);
}

// Advice on lengths aside.
Resolved made(const std::string& text) {
  const auto reading = resolved(text);
  EXPECT_FALSE(has_errors(reading.diagnostics)) << render(whole_file(text), reading.diagnostics);
  return reading.value;
}

TEST(Mitre, OfEqualBoardsIsTheBisector) {
  for (const int turn : {20, 45, 90, 120}) {
    const Resolved piece = made(corner("3", "3", fmt::format("{} deg", turn)));
    for (const char* id : {"a", "b"}) {
      const Plane plane = board_of(piece, id).cuts[id[0] == 'a' ? 1 : 0].plane;
      EXPECT_NEAR(degrees(std::atan2(std::abs(plane.normal.y), std::abs(plane.normal.x))),
                  turn / 2.0, 1e-9);
    }
    // The long point of a lies at half the width times tan(turn / 2) past the corner of the lines.
    EXPECT_NEAR(board_of(piece, "a").to_x / inch, 20 + 1.5 * tangent(turn / 2.0), 1e-9);
  }
}

TEST(Mitre, OfUnequalBoardsJoinsInnerAndOuterCorner) {
  // At a right angle the mitre's slope is the other's width over one's own.
  const Resolved piece = made(corner("3", "2", "90 deg"));
  const Plane a = board_of(piece, "a").cuts[1].plane, b = board_of(piece, "b").cuts[0].plane;
  EXPECT_NEAR(std::abs(a.normal.y / a.normal.x), 2.0 / 3, 1e-12);
  EXPECT_NEAR(std::abs(b.normal.y / b.normal.x), 3.0 / 2, 1e-12);
  // One plane for both.
  const Plane in_world = board_of(piece, "a").frame.to_world(a),
              other = board_of(piece, "b").frame.to_world(b);
  expect_near(in_world.normal, -other.normal, 1e-12);
  EXPECT_NEAR(in_world.offset, -other.offset, 1e-6);
}

TEST(Mitre, ARingThatLeansHasTheHoppersAngles) {
  // Box mitres of 4 sides at 60 degrees from flat: swing 26.5651, tilt 37.7612 degrees
  // (trigonometry: tan M = cos P tan(180/n), sin B = sin P sin(180/n)).
  const Resolved piece = made(R"toml(
[stock.side]
section = ["3/4", "5"]
[board.side-0]
stock = "side"
runs = [["-20", "-20", "0"], ["20", "-20", "0"]]
face = ["0", "-sin(60 deg)", "-cos(60 deg)"]
start = { mitre-with = "side-3" }
end = { mitre-with = "side-1" }
[turn.ring]
of = "side-0"
count = 4
about = "z"
names = ["side-1", "side-2", "side-3"]
)toml");
  for (const ResolvedBoard& board : piece.boards)
    for (std::size_t end = 0; end < 2; ++end) {
      const Vec3 n = board.cuts[end].plane.normal;
      EXPECT_NEAR(degrees(std::atan2(std::abs(n.y), std::abs(n.x))),
                  degrees(std::atan(std::cos(std::numbers::pi / 3))), 1e-9);
      EXPECT_NEAR(degrees(std::asin(std::abs(n.z))),
                  degrees(std::asin(std::sin(std::numbers::pi / 3) * std::sqrt(0.5))), 1e-9);
    }
}

TEST(Ends, OfABoardWhoseEndsCrossAreAnError) {
  const auto reading = resolved(usual_stock + R"toml(
[board.b]
stock = "leg"
at = ["0", "0", "0"]
along = "up"
length = "10"
start = "high"
end = "floor"
[plane.high]
at = ["0", "0", "5"]
faces = "up"
)toml");
  EXPECT_EQ(codes_of(reading.diagnostics), std::vector<std::string>{"piece.no-length"});
  EXPECT_TRUE(reading.value.boards.empty());
}

TEST(Cuts, APlaneCutsEachBoardWhereItStandsCopiesToo) {
  const Resolved piece = sound(usual_stock + R"toml(
[board.slat]
stock = "board"
at = ["0", "0", "0"]
along = "up"
length = "20"
face = "front"
[repeat.row]
of = "slat"
count = 3
step = ["6", "0", "0"]
[plane.slope]
at = ["0", "0", "15"]
faces = ["-1", "0", "4"]
[cut.top]
of = ["slat", "row"]
plane = "slope"
)toml");
  ASSERT_EQ(piece.boards.size(), 3U);
  for (std::size_t i = 0; i < 3; ++i) {
    const ResolvedBoard& board = piece.boards[i];
    ASSERT_EQ(board.cuts.size(), 3U);
    EXPECT_EQ(board.cuts[2].name, "top");
    const Plane plane = board.cuts[2].plane;
    EXPECT_NEAR(plane.offset / plane.normal.x / inch, 15 + 6 * static_cast<double>(i) / 4, 1e-9);
  }
}

TEST(Cuts, ACopyNotNamedHasWhatItsSourceHas) {
  const Resolved piece = sound(usual_stock + R"toml(
[board.slat]
stock = "board"
at = ["2", "0", "0"]
along = "up"
length = "20"
face = "front"
[mirror.m]
of = "slat"
across = "x"
names = ["other"]
[cut.top]
of = "slat"
at = ["0", "0", "15"]
faces = ["1", "0", "1"]
)toml");
  const Plane own = board_of(piece, "slat").cuts.at(2).plane,
              copy = board_of(piece, "other").cuts.at(2).plane;
  EXPECT_EQ(copy.normal, (Vec3{own.normal.x, -own.normal.y, own.normal.z}));
  EXPECT_EQ(copy.offset, own.offset);
}

TEST(Cuts, ATaperLeavesWhatItSays) {
  const Resolved piece = sound(usual_stock + R"toml(
[board.leg]
stock = "leg"
at = ["0", "0", "0"]
along = "up"
length = "30"
[cut.inside]
of = "leg"
edge = "+y"
from = "3 1/2"
to = "2"
starts = "6"
[cut.face]
of = "leg"
edge = "-z"
from = "1 1/2"
to = "1"
)toml");
  const ResolvedBoard& leg = board_of(piece, "leg");
  ASSERT_EQ(leg.cuts.size(), 4U);
  const Plane edge = leg.cuts[2].plane, face = leg.cuts[3].plane;
  EXPECT_EQ(leg.cuts[2].source, CutSource::taper);
  EXPECT_NEAR(edge.distance({6 * inch, 1.75 * inch, 0}), 0, 1e-8);
  EXPECT_NEAR(edge.distance({30 * inch, (2 - 1.75) * inch, 0}), 0, 1e-8);
  EXPECT_LT(edge.distance({15 * inch, 0, 0}), 0);
  EXPECT_NEAR(face.distance({0, 0, -0.75 * inch}), 0, 1e-8);
  EXPECT_NEAR(face.distance({30 * inch, 0, (0.75 - 1) * inch}), 0, 1e-8);
}

TEST(Holes, StandInARowFromTheStartAndLeanTowardsTheEnd) {
  const Resolved piece = sound(usual_stock + R"toml(
[board.b]
stock = "leg"
at = ["0", "0", "0"]
along = "x"
length = "24"
face = "up"
start = { add = "-1" }
[hole.row]
of = "b"
face = "+z"
along = "3"
across = "1/2"
diameter = "3/8"
depth = "1"
count = 3
step = "4"
tilt = "15 deg"
[hole.drain]
of = "b"
face = "-y"
along = "2"
diameter = "1/2"
[hole.dowel]
of = "b"
face = "end"
along = "1"
across = "-1/4"
diameter = "3/8"
depth = "1"
)toml");
  const ResolvedBoard& b = board_of(piece, "b");
  ASSERT_EQ(b.holes.size(), 5U);
  // The board starts at x = 1 in: a hole 3 in along stands at 4 in.
  expect_near(b.holes[1].mouth * (1 / inch), {1 + 3 + 4, 0.5, 0.75}, 1e-9);
  expect_near(b.holes[1].direction,
              {std::sin(std::numbers::pi / 12), 0, -std::cos(std::numbers::pi / 12)}, 1e-12);
  EXPECT_NEAR(b.holes[1].depth, inch, 1e-9);
  EXPECT_FALSE(b.holes[1].is_through);
  EXPECT_TRUE(b.holes[3].is_through);
  expect_near(b.holes[3].mouth * (1 / inch), {3, -1.75, 0}, 1e-9);
  expect_near(b.holes[3].direction, {0, 1, 0}, 1e-12);
  expect_near(b.holes[4].mouth * (1 / inch), {24, 1, -0.25}, 1e-9);
  expect_near(b.holes[4].direction, {-1, 0, 0}, 1e-12);
}

// Area of a board seen from +z: its rectangle within its planes, by the shoelace formula.
double area_within(const ResolvedBoard& board) {
  const double w = board.section.width.in_mm() / 2;
  std::vector<Vec2> loop = {
      {board.from_x, -w}, {board.to_x, -w}, {board.to_x, w}, {board.from_x, w}};
  for (const PlaneCut& cut : board.cuts) {
    std::vector<Vec2> left;
    const auto distance = [&](Vec2 p) {
      return cut.plane.normal.x * p.x + cut.plane.normal.y * p.y - cut.plane.offset;
    };
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Vec2 a = loop[i], b = loop[(i + 1) % loop.size()];
      const double here = distance(a), there = distance(b);
      if (here <= 0) left.push_back(a);
      if ((here < 0) != (there < 0) && here != there)
        left.push_back(a + (b - a) * (here / (here - there)));
    }
    loop = left;
  }
  double area = 0;
  for (std::size_t i = 0; i < loop.size(); ++i)
    area += cross(loop[i], loop[(i + 1) % loop.size()]) / 2;
  return area;
}

TEST(Corners, RoundedOnesTakeAwayWhatACircleLeaves) {
  const Resolved piece = sound(usual_stock + R"toml(
[board.b]
stock = "board"
at = ["0", "0", "0"]
along = "x"
length = "24"
face = "up"
[corner.soft]
of = "b"
at = ["start", "end +y"]
radius = "3/4"
[corner.clipped]
of = "b"
at = "end -y"
clip = "1"
)toml");
  const ResolvedBoard& b = board_of(piece, "b");
  ASSERT_EQ(b.curves.size(), 3U);
  for (const Curve& curve : b.curves) {
    EXPECT_NEAR(curve.radius, 0.75 * inch, 1e-9);
    EXPECT_FALSE(curve.is_hollow);
  }
  expect_near({b.curves[0].centre.x / inch, b.curves[0].centre.y / inch, 0}, {0.75, -2, 0}, 1e-9);
  // Each rounding takes r^2 (1 - pi / 4) of its corner; the clip takes half a square inch.
  const double wanted = 24 * 5.5 - 3 * 0.5625 * (1 - std::numbers::pi / 4) - 0.5;
  EXPECT_NEAR(area_within(b) / (inch * inch), wanted, 1e-9 * wanted);
}

TEST(Corners, OfAMitredEndTouchBothItsSides) {
  const Resolved piece = sound(usual_stock + R"toml(
[board.b]
stock = "board"
at = ["0", "0", "0"]
along = "x"
length = "24"
face = "up"
end = { mitre = "30 deg" }
[corner.soft]
of = "b"
at = "end"
radius = "1"
)toml");
  const ResolvedBoard& b = board_of(piece, "b");
  // In a corner of angle g a circle of radius r leaves r^2 (cot(g/2) - (pi - g) / 2); here g = 60
  // and 120 degrees.
  const double pi = std::numbers::pi;
  const auto taken = [&](double g) { return 1 / std::tan(g / 2) - (pi - g) / 2; };
  const double wanted = 24 * 5.5 - taken(pi / 3) - taken(2 * pi / 3);
  EXPECT_NEAR(area_within(b) / (inch * inch), wanted, 1e-9 * wanted);
}

}  // namespace
}  // namespace kw
