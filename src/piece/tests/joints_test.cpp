// Joints: which boards they join, how copies take them along, and the ends that they move.
#include <cmath>
#include <fmt/format.h>

#include "resolving.h"

namespace kw {
namespace {

using namespace testing_piece;
using Names = std::vector<std::string>;

// Two rails along x with slats across them, and one slat that lies apart.
const std::string deck = usual_stock + R"toml(
[board.rail-a]
stock = "leg"
at = ["0", "0", "0"]
along = "x"
length = "40"
face = "up"
[board.rail-b]
stock = "leg"
at = ["0", "20", "0"]
along = "x"
length = "40"
face = "up"
[board.slat]
stock = "board"
at = ["3", "-2", "1.125"]
along = "y"
length = "24"
face = "up"
[repeat.row]
of = "slat"
count = 3
step = ["6", "0", "0"]
[board.slat-far]
stock = "board"
at = ["3", "-2", "9"]
along = "y"
length = "24"
face = "up"
)toml";

TEST(Joints, OfPatternsJoinEveryPairThatMeets) {
  const Resolved piece =
      sound(deck + "[joint.s]\nkind = \"butt\"\nof = [\"rail-*\", \"*slat*\"]\n");
  EXPECT_EQ(joints_of(piece),
            (Names{"s/1: rail-a slat", "s/2: rail-a row/slat/2", "s/3: rail-a row/slat/3",
                   "s/4: rail-b slat", "s/5: rail-b row/slat/2", "s/6: rail-b row/slat/3"}));
}

TEST(Joints, OfPatternsLeaveOutWhatTouchesInAnEdgeOnly) {
  // b lies on a's top and just reaches its end; c stands on a.
  const Resolved piece = sound(usual_stock + R"toml(
[board.a]
stock = "leg"
at = ["0", "0", "0"]
along = "x"
length = "10"
face = "up"
[board.b]
stock = "leg"
at = ["10", "0", "1 1/2"]
along = "x"
length = "10"
face = "up"
[board.c]
stock = "leg"
at = ["5", "0", "3/4"]
along = "up"
length = "10"
face = "front"
[joint.j]
kind = "butt"
of = ["a", "*"]
)toml");
  EXPECT_EQ(joints_of(piece), Names{"j/1: a c"});
}

TEST(Joints, OfAllWithAllJoinEachPairOnce) {
  const Resolved piece = sound(deck + "[joint.s]\nkind = \"butt\"\nof = [\"*\", \"*\"]\n");
  EXPECT_EQ(piece.joints.size(), 6U);
}

TEST(Joints, ComeAlongWithCopies) {
  const Resolved piece = sound(deck + "[joint.s]\nkind = \"butt\"\nof = [\"rail-a\", \"slat\"]\n");
  EXPECT_EQ(joints_of(piece),
            (Names{"s: rail-a slat", "row/s/2: rail-a row/slat/2", "row/s/3: rail-a row/slat/3"}));
}

TEST(Joints, BetweenABoardAndTheNextGoOnAlongTheRow) {
  const Resolved piece = sound(usual_stock + R"toml(
[board.slat]
stock = "board"
at = ["0", "0", "0"]
along = "y"
length = "24"
face = "up"
[repeat.row]
of = "slat"
count = 4
step = ["5 1/2", "0", "0"]
[joint.j]
kind = "glue"
of = ["slat", "row/slat/2"]
)toml");
  EXPECT_EQ(joints_of(piece), (Names{"j: slat row/slat/2", "row/j/2: row/slat/2 row/slat/3",
                                     "row/j/3: row/slat/3 row/slat/4"}));
}

TEST(Joints, OfARingGoRoundIt) {
  const Resolved piece = sound(usual_stock + R"toml(
[board.side-0]
stock = "board"
runs = [["-10", "-10", "0"], ["10", "-10", "0"]]
face = "front"
start = { mitre-with = "side-3" }
end = { mitre-with = "side-1" }
[turn.ring]
of = "side-0"
count = 4
about = "z"
names = ["side-1", "side-2", "side-3"]
[joint.m]
kind = "mitre"
of = ["side-0", "side-1"]
)toml");
  EXPECT_EQ(joints_of(piece), (Names{"m: side-0 side-1", "ring/m/2: side-1 side-2",
                                     "ring/m/3: side-2 side-3", "ring/m/4: side-3 side-0"}));
}

TEST(Joints, AreNotMadeTwiceWhereTheFileNamesTheCopyToo) {
  const Resolved piece = sound(deck +
                               "[joint.s]\nkind = \"butt\"\nof = [\"rail-a\", \"slat\"]\n"
                               "[joint.t]\nkind = \"butt\"\nof = [\"rail-a\", \"row/slat/2\"]\n");
  EXPECT_EQ(joints_of(piece),
            (Names{"s: rail-a slat", "t: rail-a row/slat/2", "row/s/3: rail-a row/slat/3"}));
}

TEST(Joints, StayBehindWhenTheCopySaysSoOrLeavesItsPartner) {
  const std::string pair = usual_stock + R"toml(
[board.post]
stock = "leg"
at = ["10", "0", "0"]
along = "up"
length = "30"
face = "front"
[board.rail]
stock = "leg"
runs = [["10", "0", "12"], ["30", "0", "12"]]
face = "front"
start = { against = "post" }
[joint.j]
kind = "butt"
of = ["post", "rail"]
)toml";
  const auto joints = [&](const std::string& copy) { return joints_of(sound(pair + copy)); };
  EXPECT_EQ(joints("[mirror.m]\nof = \"*\"\nacross = \"x\"\n"),
            (Names{"j: post rail", "m/j: m/post m/rail"}));
  EXPECT_EQ(joints("[mirror.m]\nof = \"*\"\nacross = \"x\"\njoints = false\n"),
            Names{"j: post rail"});
  EXPECT_EQ(joints("[mirror.m]\nof = \"post\"\nacross = \"x\"\n"), Names{"j: post rail"});
  // A copy of the post alone that comes to the rail's other end meets it there.
  EXPECT_EQ(joints("[mirror.m]\nof = \"post\"\nacross = \"p\"\n[plane.p]\nat = [\"20\", \"0\", "
                   "\"0\"]\nfaces = \"x\"\n"),
            (Names{"j: post rail", "m/j: m/post rail"}));
}

TEST(Joints, OfBoardsApartTellHowFar) {
  const auto reading =
      resolved(deck + "[joint.s]\nkind = \"butt\"\nof = [\"rail-a\", \"slat-far\"]\n");
  ASSERT_EQ(codes_of(reading.diagnostics), Names{"piece.joint-apart"});
  // From the top of the rail, 3/4, to the underside of the slat, 8 5/8.
  EXPECT_NE(reading.diagnostics[0].message.find("7 7/8\""), std::string::npos)
      << reading.diagnostics[0].message;
  EXPECT_TRUE(reading.value.joints.empty());
}

TEST(Joints, TouchWithinHalfAMillimetre) {
  const auto at = [](const char* z) {
    return resolved(usual_stock + fmt::format(R"toml(
[board.a]
stock = "leg"
at = ["0", "0", "0"]
along = "x"
length = "40"
face = "up"
[board.b]
stock = "leg"
at = ["0", "0", "1 1/2 + {}"]
along = "y"
length = "40"
face = "up"
[joint.j]
kind = "screw"
of = ["a", "b"]
fasten = "deck screw 8 x 2"
)toml",
                                              z))
        .value.joints.size();
  };
  EXPECT_EQ(at("0.49 mm"), 1U);
  EXPECT_EQ(at("0.51 mm"), 0U);
}

TEST(Joints, SkewBoardsMeetByTheirTrueShape) {
  // Two crossing boards whose boxes overlap but who pass one another by 0.2 in and by 0 in.
  const auto joints = [](const char* gap) {
    return resolved(usual_stock + fmt::format(R"toml(
[board.a]
stock = "leg"
runs = [["-20", "-20", "-20"], ["20", "20", "20"]]
face = ["1", "-1", "0"]
[board.b]
stock = "leg"
runs = [["-20 in + {0}", "20 in - {0}", "20"], ["20 in + {0}", "-20 in - {0}", "-20"]]
face = ["1", "1", "0"]
shift = ["0", "0"]
[joint.j]
kind = "butt"
of = ["a", "b"]
)toml",
                                              gap))
        .value.joints.size();
  };
  EXPECT_EQ(joints("0"), 1U);
  EXPECT_EQ(joints("6"), 0U);
}

// A shelf of 1x6 between two sides; the sides are 3/4 thick.
std::string shelf(const std::string& joint) {
  return usual_stock + R"toml(
[board.side]
stock = "board"
at = ["0", "0", "0"]
along = "up"
length = "30"
face = "right"
[board.shelf]
stock = "board"
runs = [["0", "0", "12"], ["24", "0", "12"]]
face = "up"
start = { against = "side" }
)toml" + joint;
}

TEST(Entering, AHousingMovesTheEndInByItsDepth) {
  const Resolved piece =
      sound(shelf("[joint.j]\nkind = \"housing\"\nof = [\"side\", \"shelf\"]\ndepth = \"1/4\"\n"));
  EXPECT_NEAR(board_of(piece, "shelf").from_x / inch, 0.375 - 0.25, 1e-9);
  EXPECT_NEAR(*piece.joints.at(0).depth, 0.25 * inch, 1e-9);
}

TEST(Entering, WithoutFiguresAHousingTakesAThirdAndATenonTwoThirds) {
  const Resolved housing =
      sound(shelf("[joint.j]\nkind = \"housing\"\nof = [\"side\", \"shelf\"]\n"));
  EXPECT_NEAR(*housing.joints.at(0).depth, 0.25 * inch, 1e-9);
  EXPECT_NEAR(board_of(housing, "shelf").from_x / inch, 0.125, 1e-9);
  const Resolved tenon = sound(shelf("[joint.j]\nkind = \"tenon\"\nof = [\"side\", \"shelf\"]\n"));
  EXPECT_NEAR(*tenon.joints.at(0).length, 0.5 * inch, 1e-9);
  EXPECT_NEAR(board_of(tenon, "shelf").from_x / inch, 0.375 - 0.5, 1e-9);
}

TEST(Entering, ABridlesTongueGoesThroughTheWholeBoard) {
  const Resolved piece = sound(shelf("[joint.j]\nkind = \"bridle\"\nof = [\"side\", \"shelf\"]\n"));
  EXPECT_NEAR(board_of(piece, "shelf").from_x / inch, 0.375 - 0.75, 1e-9);
}

TEST(Entering, AnEndThatIsThereAlreadyStays) {
  const std::string text = usual_stock + R"toml(
[board.side]
stock = "board"
at = ["0", "0", "0"]
along = "up"
length = "30"
face = "right"
[board.shelf]
stock = "board"
runs = [["3/8 - 1/4", "0", "12"], ["24", "0", "12"]]
face = "up"
[joint.j]
kind = "housing"
of = ["side", "shelf"]
depth = "1/4"
)toml";
  EXPECT_NEAR(board_of(sound(text), "shelf").from_x, 0, 1e-9);
}

TEST(Entering, AnEndSomewhereElseIsWarnedOf) {
  const auto reading = resolved(usual_stock + R"toml(
[board.side]
stock = "board"
at = ["0", "0", "0"]
along = "up"
length = "30"
face = "right"
[board.shelf]
stock = "board"
runs = [["0", "0", "12"], ["24", "0", "12"]]
face = "up"
[joint.j]
kind = "housing"
of = ["side", "shelf"]
depth = "1/4"
)toml");
  ASSERT_EQ(codes_of(reading.diagnostics), Names{"piece.end-at-another-depth"});
  EXPECT_NE(reading.diagnostics[0].message.find(
                "lies 3/8\" inside the other board; the joint is 1/4\" deep"),
            std::string::npos);
}

TEST(Entering, CopiesAreMovedAsTheirSourcesAndNotTwice) {
  const Resolved piece = sound(shelf(R"toml(
[joint.j]
kind = "tenon"
of = ["side", "shelf"]
long = "1/2"
[mirror.m]
of = ["side", "shelf"]
across = "far"
[plane.far]
at = ["30", "0", "0"]
faces = "x"
[repeat.r]
of = "shelf"
count = 2
step = ["0", "0", "8"]
)toml"));
  for (const ResolvedBoard& board : piece.boards)
    if (board.made_from == "shelf") {
      EXPECT_EQ(board.from_x, board_of(piece, "shelf").from_x) << board.id;
    }
  EXPECT_NEAR(board_of(piece, "shelf").from_x / inch, 0.375 - 0.5, 1e-9);
  EXPECT_EQ(piece.joints.size(), 3U);
}

TEST(Entering, LeavesWhatIsMeasuredAlongTheBoardWhereItWas) {
  const std::string more = R"toml(
[hole.h]
of = "shelf"
face = "+z"
along = "3"
diameter = "1/2"
[joint.groove]
kind = "groove"
of = ["shelf"]
face = "-z"
width = "1/4"
depth = "1/4"
starts = "2"
)toml";
  const Resolved piece = sound(
      shelf("[joint.j]\nkind = \"housing\"\nof = [\"side\", \"shelf\"]\ndepth = \"1/4\"\n" + more));
  // The side's face is at 3/8: the hole stands at 3 3/8, though the shelf now begins at 1/8.
  EXPECT_NEAR(board_of(piece, "shelf").holes.at(0).mouth.x / inch, 3.375, 1e-9);
  EXPECT_NEAR(*piece.joints.at(1).starts / inch, 2.25, 1e-9);
}

TEST(Entering, BothEndsByTwoJoints) {
  const Resolved piece = sound(usual_stock + R"toml(
[board.side]
stock = "board"
at = ["0", "0", "0"]
along = "up"
length = "30"
face = "right"
[mirror.m]
of = "side"
across = "middle"
names = ["side-b"]
[plane.middle]
at = ["12", "0", "0"]
faces = "x"
[board.shelf]
stock = "board"
runs = [["0", "0", "12"], ["24", "0", "12"]]
face = "up"
start = { against = "side" }
end = { against = "side-b" }
[joint.j]
kind = "housing"
of = ["side*", "shelf"]
depth = "1/4"
)toml");
  EXPECT_NEAR(board_of(piece, "shelf").from_x / inch, 0.125, 1e-9);
  EXPECT_NEAR(board_of(piece, "shelf").to_x / inch, 24 - 0.125, 1e-9);
}

TEST(Joints, MirroredTurnRoundTheirSidesAndOffsets) {
  const Resolved piece = sound(usual_stock + R"toml(
[board.side]
stock = "board"
at = ["10", "0", "0"]
along = "up"
length = "30"
face = "right"
[joint.groove]
kind = "groove"
of = ["side"]
face = "+z"
offset = "1/2"
width = "1/4"
depth = "1/4"
[joint.edge]
kind = "rabbet"
of = ["side"]
edge = "+y"
face = "-z"
width = "3/8"
depth = "1/4"
[mirror.m]
of = "side"
across = "x"
)toml");
  ASSERT_EQ(joints_of(piece),
            (Names{"groove: side -", "edge: side -", "m/groove: m/side -", "m/edge: m/side -"}));
  EXPECT_EQ(*piece.joints[2].across, -0.5 * inch);
  EXPECT_EQ(piece.joints[3].edge, "-y");
  EXPECT_EQ(piece.joints[3].face, "-z");
}

TEST(Joints, HaveTheTablesNamesForFastenersAndGlue) {
  const Resolved piece = sound(deck + R"toml(
[joint.s]
kind = "screw"
of = ["slat", "rail-a"]
fasten = "deck-screw-8-x-2"
count = 2
inset = "3/4"
from = "slat"
step = 3
glue = "pva wood glue, waterproof"
ease = "1/128"
note = "flush"
)toml");
  const ResolvedJoint& joint = piece.joints.at(0);
  EXPECT_EQ(joint.fastener, "deck screw 8 x 2");
  EXPECT_EQ(joint.glue, "PVA wood glue, waterproof");
  EXPECT_EQ(joint.from, "a");
  EXPECT_EQ(joint.count, 2);
  EXPECT_EQ(joint.step, 3);
  EXPECT_NEAR(joint.ease, inch / 128, 1e-9);
}

}  // namespace
}  // namespace kw
