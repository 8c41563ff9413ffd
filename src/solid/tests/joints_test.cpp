// What each joint takes away, in volumes reckoned by hand; the geometry kernel measures, so that
// neither the recipes nor the core judge themselves.
#include <algorithm>
#include <gtest/gtest.h>
#include <numbers>

#include "kernel/kernel.h"
#include "made_piece.h"
#include "recipe.h"

namespace kw {
namespace {

using test::board_of;
using test::frame_at;
using test::joint_of;
using test::piece_of;
using test::turned;

constexpr double thick = 38, wide = 89, length = 1000;

struct Worked {
  std::vector<Recipe> recipes = {};
  Diagnostics diagnostics = {};
};

Worked worked(const Resolved& piece) {
  Worked out;
  out.recipes = recipes_of(piece, out.diagnostics);
  return out;
}

// mm^3 that a board lost from its full stick.
double lost(const Resolved& piece, const Worked& work, std::size_t board) {
  const ResolvedBoard& of = piece.boards[board];
  const double full =
      (of.to_x - of.from_x) * of.section.width.in_mm() * of.section.thickness.in_mm();
  const kernel::Measured measured = kernel::measure(work.recipes[board]);
  EXPECT_TRUE(measured.is_valid) << measured.failure;
  EXPECT_EQ(measured.solids, 1u);
  return full - measured.volume;
}

double clash(const Resolved& piece, const Worked& work) {
  return kernel::common_volume({"a", work.recipes[0], piece.boards[0].frame},
                               {"b", work.recipes[1], piece.boards[1].frame});
}

std::string codes(const Worked& work) {
  std::string all;
  for (const Diagnostic& d : work.diagnostics) all += std::string(d.code) + " ";
  return all;
}

const Feature& last_feature(const Worked& work, std::size_t board) {
  return work.recipes[board].features.back();
}

// Two boards crossing in their middles at an angle, b lifted by `lift`.
Resolved crossing(JointKind kind, double degrees, double lift = 0, double b_thick = thick) {
  const Vec3 along = turned(degrees);
  const Frame b = frame_at(Vec3{length / 2, 0, lift} - along * (length / 2), along, {0, 0, 1});
  return piece_of({board_of("a", thick, wide, length), board_of("b", b_thick, wide, length, b)},
                  {joint_of(kind, 0, 1)});
}

// b stands on a's broad face (+z) at the middle of a, its end `deep` inside a.
Resolved standing(JointKind kind, double deep) {
  const Frame b = frame_at({length / 2, 0, thick / 2 - deep}, {0, 0, 1}, {1, 0, 0});
  return piece_of({board_of("a", thick, wide, length), board_of("b", thick, wide, length, b)},
                  {joint_of(kind, 0, 1)});
}

TEST(HalfLap, TakesHalfTheThicknessOverTheCrossingAtAnAngle) {
  const Resolved piece = crossing(JointKind::half_lap, 60);
  const Worked work = worked(piece);
  EXPECT_EQ(codes(work), "");
  const double expected = wide * wide / std::sin(std::numbers::pi / 3) * thick / 2;
  EXPECT_NEAR(lost(piece, work, 0), expected, 1e-3);
  EXPECT_NEAR(lost(piece, work, 1), expected, 1e-3);
  EXPECT_NEAR(clash(piece, work), 0, 1e-3);
}

TEST(HalfLap, KnowsItsJointAndItsThreePlanes) {
  const Worked work = worked(crossing(JointKind::half_lap, 60));
  const Feature& feature = last_feature(work, 0);
  EXPECT_EQ(feature.kind, FeatureKind::half_lap);
  EXPECT_EQ(feature.name, "joint");
  EXPECT_EQ(feature.joint, 0);
  EXPECT_EQ(feature.partner, 1);
  EXPECT_EQ(feature.planes.size(), 3u);
  EXPECT_EQ(feature.cutter_begin, std::vector<int>{0});
}

TEST(HalfLap, TheOneThatIsOverKeepsItsUpperHalf) {
  for (const bool a_over : {true, false}) {
    Resolved piece = crossing(JointKind::half_lap, 90);
    piece.joints[0].a_is_over = a_over;
    const Worked work = worked(piece);
    const auto& planes = last_feature(work, 0).planes;
    const Vec3 floor = a_over ? Vec3{0, 0, 1} : Vec3{0, 0, -1};
    EXPECT_TRUE(std::any_of(planes.begin(), planes.end(), [&](const Plane& plane) {
      return norm(plane.normal - floor) < 1e-12 && std::abs(plane.offset) < 1e-9;
    }));
  }
}

TEST(HalfLap, GivesADepthToAAndTheRestToB) {
  Resolved piece = crossing(JointKind::half_lap, 90);
  piece.joints[0].depth = 10;
  const Worked work = worked(piece);
  EXPECT_NEAR(lost(piece, work, 0), wide * wide * 10, 1e-3);
  EXPECT_NEAR(lost(piece, work, 1), wide * wide * 28, 1e-3);
}

TEST(HalfLap, OfBoardsThatOverlapOnlyInPartSharesTheOverlap) {
  const Resolved piece = crossing(JointKind::half_lap, 90, 20);  // b is the higher one
  const Worked work = worked(piece);
  EXPECT_EQ(codes(work), "");
  EXPECT_NEAR(lost(piece, work, 0), wide * wide * 9, 1e-3);
  EXPECT_NEAR(lost(piece, work, 1), wide * wide * 9, 1e-3);
  EXPECT_NEAR(clash(piece, work), 0, 1e-3);
}

TEST(HalfLap, WidensTheNotchByTheEaseInAllButNotItsDepth) {
  Resolved piece = crossing(JointKind::half_lap, 90);
  piece.joints[0].ease = 0.5;
  const Worked work = worked(piece);
  EXPECT_NEAR(lost(piece, work, 0), (wide + 0.5) * wide * thick / 2, 1e-3);
}

TEST(HalfLap, AtACornerRunsOutAndItsShoulderStaysInSpiteOfEase) {
  // b starts flush with a's far edge and ends flush with a's end.
  const Frame b = frame_at({length - wide / 2, -wide / 2, 0}, {0, 1, 0}, {0, 0, 1});
  Resolved piece =
      piece_of({board_of("a", thick, wide, length), board_of("b", thick, wide, length, b)},
               {joint_of(JointKind::half_lap, 0, 1)});
  piece.joints[0].ease = 0.5;
  const Worked work = worked(piece);
  EXPECT_EQ(codes(work), "");
  EXPECT_NEAR(lost(piece, work, 0), wide * wide * thick / 2, 1e-3);
  EXPECT_NEAR(lost(piece, work, 1), wide * wide * thick / 2, 1e-3);
  EXPECT_EQ(last_feature(work, 0).planes.size(), 2u);
}

TEST(HalfLap, OfBoardsThatDoNotMeetIsToldWithTheDistance) {
  const Worked work = worked(crossing(JointKind::half_lap, 90, 50));
  ASSERT_EQ(codes(work), "solid.no-overlap ");
  EXPECT_NE(work.diagnostics[0].message.find("12 mm"), std::string::npos)
      << work.diagnostics[0].message;
}

TEST(HalfLap, OfBoardsThatLeanIsNotFlat) {
  Resolved piece = crossing(JointKind::half_lap, 90);
  piece.boards[1].frame = frame_at({500, -500, 0}, {0, 1, 0}, {0.2, 0, 1});
  EXPECT_EQ(codes(worked(piece)), "solid.not-flat ");
}

TEST(HalfLap, DeeperThanTheOverlapIsRefused) {
  Resolved piece = crossing(JointKind::half_lap, 90);
  piece.joints[0].depth = 38;
  EXPECT_EQ(codes(worked(piece)), "solid.too-deep ");
}

TEST(HalfLap, CannotPutTheLowerBoardOver) {
  Resolved piece = crossing(JointKind::half_lap, 90, -20);
  piece.joints[0].a_is_over = false;
  EXPECT_EQ(codes(worked(piece)), "solid.lap-side ");
}

TEST(Notch, TakesAllOfBThatLiesInA) {
  const Resolved piece = crossing(JointKind::notch, 50, 25);
  const Worked work = worked(piece);
  EXPECT_EQ(codes(work), "");
  const double crossed = wide * wide / std::sin(50 * std::numbers::pi / 180);
  EXPECT_NEAR(lost(piece, work, 0), crossed * 13, 1e-3);
  EXPECT_NEAR(lost(piece, work, 1), 0, 1e-3);
  EXPECT_NEAR(clash(piece, work), 0, 1e-3);
}

TEST(Notch, GoesNoDeeperThanAsked) {
  Resolved piece = crossing(JointKind::notch, 90, 25);
  piece.joints[0].depth = 5;
  const Worked work = worked(piece);
  EXPECT_NEAR(lost(piece, work, 0), wide * wide * 5, 1e-3);
}

TEST(Housing, HoldsTheEndOfB) {
  Resolved piece = standing(JointKind::housing, 12);
  piece.joints[0].ease = 0.4;
  const Worked work = worked(piece);
  EXPECT_EQ(codes(work), "");
  EXPECT_NEAR(lost(piece, work, 0), (thick + 0.4) * wide * 12, 1e-3);
  EXPECT_NEAR(clash(piece, work), 0, 1e-3);
}

TEST(Housing, StopsShortOfTheFrontEdgeAndNotchesB) {
  Resolved piece = standing(JointKind::housing, 12);
  piece.joints[0].stop = 15;
  const Worked work = worked(piece);
  EXPECT_NEAR(lost(piece, work, 0), thick * (wide - 15) * 12, 1e-3);
  EXPECT_NEAR(lost(piece, work, 1), thick * 15 * 12, 1e-3);
  EXPECT_EQ(last_feature(work, 1).kind, FeatureKind::housing);
  EXPECT_NEAR(clash(piece, work), 0, 1e-3);
  // The wood of a by its +y edge is whole.
  const auto& planes = last_feature(work, 0).planes;
  EXPECT_TRUE(std::any_of(planes.begin(), planes.end(), [](const Plane& plane) {
    return plane.normal.y > 0.99 && std::abs(plane.offset - (wide / 2 - 15)) < 1e-9;
  }));
}

TEST(Housing, OfABoardThatOnlyTouchesIsTold) {
  EXPECT_EQ(codes(worked(standing(JointKind::housing, 0))), "solid.no-overlap ");
}

TEST(Rabbet, OfOneBoardRunsAlongItsEdge) {
  Resolved piece =
      piece_of({board_of("a", thick, wide, length)}, {joint_of(JointKind::rabbet, 0, -1)});
  piece.joints[0].edge = "-y";
  piece.joints[0].face = "+z";
  piece.joints[0].wide = 10;
  piece.joints[0].depth = 8;
  const Worked work = worked(piece);
  EXPECT_NEAR(lost(piece, work, 0), length * 80, 1e-3);
  piece.joints[0].edge = "end";
  EXPECT_NEAR(lost(piece, worked(piece), 0), wide * 80, 1e-3);
}

TEST(Groove, OfOneBoardStartsAndEndsWhereAsked) {
  Resolved piece =
      piece_of({board_of("a", thick, wide, length)}, {joint_of(JointKind::groove, 0, -1)});
  ResolvedJoint& groove = piece.joints[0];
  groove.face = "+y";
  groove.wide = 6;
  groove.depth = 9;
  groove.across = 3;
  groove.starts = 100;
  groove.ends = 400;
  const Worked work = worked(piece);
  EXPECT_EQ(codes(work), "");
  EXPECT_NEAR(lost(piece, work, 0), 300 * 6 * 9, 1e-3);
  groove.face = "-z";
  groove.across = 60;
  EXPECT_EQ(codes(worked(piece)), "solid.outside ");
}

TEST(Groove, TakesTheEdgeOfAPanel) {
  // b lies in a's +y edge, 7 deep.
  const Frame b = frame_at({0, wide / 2 - 7 + wide / 2, 0}, {1, 0, 0}, {0, 0, 1});
  Resolved piece =
      piece_of({board_of("a", thick, wide, length), board_of("b", 12, wide, length, b)},
               {joint_of(JointKind::groove, 0, 1)});
  const Worked work = worked(piece);
  EXPECT_EQ(codes(work), "");
  EXPECT_NEAR(lost(piece, work, 0), 7 * 12 * length, 1e-3);
}

TEST(Bridle, LeavesAThirdForTheTongue) {
  const Resolved piece = crossing(JointKind::bridle, 90);
  const Worked work = worked(piece);
  EXPECT_EQ(codes(work), "");
  EXPECT_NEAR(lost(piece, work, 0), wide * wide * thick / 3, 1e-3);
  EXPECT_NEAR(lost(piece, work, 1), wide * wide * thick * 2 / 3, 1e-3);
  EXPECT_EQ(last_feature(work, 1).cutter_begin.size(), 2u);
  EXPECT_NEAR(clash(piece, work), 0, 1e-3);
}

TEST(Bridle, EasesTheSlotAndNotTheTongue) {
  const Frame b = frame_at({length - wide / 2, -wide / 2, 0}, {0, 1, 0}, {0, 0, 1});
  Resolved piece =
      piece_of({board_of("a", thick, wide, length), board_of("b", thick, wide, length, b)},
               {joint_of(JointKind::bridle, 0, 1)});
  piece.joints[0].ease = 0.2;
  piece.joints[0].thick = 12;
  const Worked work = worked(piece);
  EXPECT_NEAR(lost(piece, work, 0), wide * wide * 12.2, 1e-3);
  EXPECT_NEAR(lost(piece, work, 1), wide * wide * 26, 1e-3);
}

TEST(Tenon, StandsBeyondItsShouldersAndFillsItsMortise) {
  Resolved piece =
      standing(JointKind::tenon, 20);  // resolve has moved the end by the tenon's length
  ResolvedJoint& tenon = piece.joints[0];
  tenon.length = 20;
  tenon.wide = 60;
  tenon.thick = 12;
  const Worked work = worked(piece);
  EXPECT_EQ(codes(work), "");
  EXPECT_NEAR(lost(piece, work, 0), 60 * 12 * 20, 1e-3);
  EXPECT_NEAR(lost(piece, work, 1), (thick * wide - 60 * 12) * 20, 1e-3);
  EXPECT_NEAR(clash(piece, work), 0, 1e-3);
  EXPECT_EQ(last_feature(work, 0).kind, FeatureKind::mortise);
  EXPECT_EQ(last_feature(work, 1).kind, FeatureKind::tenon);
  EXPECT_EQ(last_feature(work, 1).cutter_begin.size(), 4u);
}

TEST(Tenon, EasesTheMortiseOnAllFourWallsButNotItsDepth) {
  Resolved piece = standing(JointKind::tenon, 20);
  ResolvedJoint& tenon = piece.joints[0];
  tenon.length = 20;
  tenon.wide = 60;
  tenon.thick = 12;
  tenon.ease = 0.3;
  tenon.offset = {5, -2};
  const Worked work = worked(piece);
  EXPECT_NEAR(lost(piece, work, 0), 60.3 * 12.3 * 20, 1e-3);
  EXPECT_NEAR(clash(piece, work), 0, 1e-3);
}

TEST(Tenon, ThatDoesNotFitInTheEndIsRefused) {
  Resolved piece = standing(JointKind::tenon, 20);
  piece.joints[0].length = 20;
  piece.joints[0].wide = 80;
  piece.joints[0].offset = {10, 0};
  EXPECT_EQ(codes(worked(piece)), "solid.tenon-outside ");
}

TEST(Butt, TakesNothingAway) {
  for (const JointKind kind : {JointKind::butt, JointKind::mitre, JointKind::glue}) {
    const Resolved piece = standing(kind, 0);
    const Worked work = worked(piece);
    EXPECT_EQ(codes(work), "");
    EXPECT_EQ(work.recipes[0].cutters.size() + work.recipes[1].cutters.size(), 0u);
  }
}

}  // namespace
}  // namespace kw
