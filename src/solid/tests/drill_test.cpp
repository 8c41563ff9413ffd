// Where the holes of fasteners go, how wide and how deep.
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

constexpr const char* screw_name = "wood screw 8 x 1-1/2";  // 38.1 mm
constexpr double inch = 25.4;

struct Worked {
  std::vector<Recipe> recipes = {};
  Diagnostics diagnostics = {};
};

Worked worked(const Resolved& piece) {
  Worked out;
  out.recipes = recipes_of(piece, out.diagnostics);
  return out;
}

std::string codes(const Worked& work) {
  std::string all;
  for (const Diagnostic& d : work.diagnostics) all += std::string(d.code) + " ";
  return all;
}

std::vector<Feature> holes(const Worked& work, std::size_t board) {
  std::vector<Feature> found;
  for (const Feature& feature : work.recipes[board].features)
    if (feature.diameter > 0) found.push_back(feature);
  return found;
}

// A slat (a, 19 x 89) lies across a rail (b, 38 x 63) that runs along y below it.
Resolved slat_on_rail(JointKind kind, const char* fastener) {
  const Frame rail = frame_at({300, -500, -19.0 / 2 - 38.0 / 2}, {0, 1, 0}, {0, 0, 1});
  Resolved piece = piece_of({board_of("slat", 19, 89, 600), board_of("rail", 38, 63, 1000, rail)},
                            {joint_of(kind, 0, 1)});
  piece.joints[0].fastener = fastener;
  return piece;
}

// b's end (19 x 89) butts against the broad face of a (19 x 89), which looks along +z.
Resolved end_on_face(JointKind kind, const char* fastener) {
  const Frame b = frame_at({300, 0, 19.0 / 2}, {0, 0, 1}, {1, 0, 0});
  Resolved piece =
      piece_of({board_of("a", 19, 89, 600), board_of("b", 19, 89, 400, b)}, {joint_of(kind, 0, 1)});
  piece.joints[0].fastener = fastener;
  return piece;
}

void expect_near(Vec3 a, Vec3 b) {
  EXPECT_LT(norm(a - b), 1e-6) << a.x << " " << a.y << " " << a.z;
}

TEST(Screw, GoesThroughTheThinnerBoardIntoTheOther) {
  const Worked work = worked(slat_on_rail(JointKind::screw, screw_name));
  EXPECT_EQ(codes(work), "");
  const auto near = holes(work, 0), far = holes(work, 1);
  ASSERT_EQ(near.size(), 2u);
  ASSERT_EQ(far.size(), 2u);
  EXPECT_EQ(near[0].kind, FeatureKind::clearance_hole);
  EXPECT_EQ(far[0].kind, FeatureKind::pilot_hole);
  EXPECT_NEAR(near[0].diameter, 11.0 / 64 * inch, 1e-6);  // data/screws.toml
  EXPECT_NEAR(far[0].diameter, 7.0 / 64 * inch, 1e-6);
  EXPECT_GT(near[0].depth, 1e5);
  EXPECT_NEAR(far[0].depth, 1.5 * inch - 19, 1e-6);
  EXPECT_EQ(far[0].joint, 0);
  EXPECT_EQ(far[0].partner, 0);
}

TEST(Screw, StandsInTheQuartersOfTheSlatsWidth) {
  const Worked work = worked(slat_on_rail(JointKind::screw, screw_name));
  const auto near = holes(work, 0);
  ASSERT_EQ(near.size(), 2u);
  // The patch is 89 wide across the slat and 63 along it; the mouths are on the slat's upper face.
  expect_near(near[0].mouth, {300, -89.0 / 4, 9.5});
  expect_near(near[1].mouth, {300, 89.0 / 4, 9.5});
  expect_near(near[0].direction, {0, 0, -1});
}

TEST(Screw, KeepsItsInsetAndCount) {
  Resolved piece = slat_on_rail(JointKind::screw, screw_name);
  piece.joints[0].inset = 15;
  piece.joints[0].count = 3;
  const auto near = holes(worked(piece), 0);
  ASSERT_EQ(near.size(), 3u);
  expect_near(near[0].mouth, {300, -29.5, 9.5});
  expect_near(near[1].mouth, {300, 0, 9.5});
  expect_near(near[2].mouth, {300, 29.5, 9.5});
}

// 600 mm by rule, No. 8: the first ten diameters in, and no two more than 300 mm apart.
TEST(Screw, StandsByRuleInALongRow) {
  Resolved piece = piece_of({board_of("a", 19, 89, 600), board_of("b", 19, 89, 600)},
                            {joint_of(JointKind::screw, 0, 1)});
  piece.boards[1].frame.origin = {0, 0, 19};
  piece.joints[0].fastener = "wood screw 8 x 1-1/4";
  const double first = 10 * 0.164 * inch;
  const auto row = holes(worked(piece), 0);
  ASSERT_EQ(row.size(), 3u);
  EXPECT_NEAR(row[0].mouth.x, first, 1e-6);
  EXPECT_NEAR(row[1].mouth.x, 300, 1e-6);
  EXPECT_NEAR(row[2].mouth.x, 600 - first, 1e-6);
  piece.joints[0].inset = 20;  // 560 mm between the outer two
  EXPECT_EQ(holes(worked(piece), 0).size(), 3u);
}

TEST(ScrewByRule, IsChosenForItsWoodAndNamed) {
  Resolved piece = slat_on_rail(JointKind::screw, "deck screw");
  const auto by_rule = holes(worked(piece), 0);
  ASSERT_FALSE(by_rule.empty());
  settle_fasteners(piece);
  // 3/4 in of slat is for a No. 8; the longest that keeps 1/8 in of the rail over its point.
  const Fastener* screw = find_fastener(built_in_catalogue(), piece.joints[0].fastener);
  ASSERT_NE(screw, nullptr) << piece.joints[0].fastener;
  EXPECT_EQ(screw->kind, FastenerKind::deck_screw);
  EXPECT_NEAR(screw->diameter.in_inches(), 0.164, 1e-6);
  for (const Driven& driven : driven_in(piece)) {
    EXPECT_LE(driven.length, driven.through + driven.wood - 3.17);
    EXPECT_GE(driven.length, driven.through + 3 * driven.diameter);
    EXPECT_EQ(driven.fastener, screw->name);
  }
  const auto named = holes(worked(piece), 0);
  ASSERT_EQ(named.size(), by_rule.size());
  for (std::size_t i = 0; i < named.size(); ++i) expect_near(named[i].mouth, by_rule[i].mouth);
}

TEST(ScrewByRule, OfPocketsGoesByTheStock) {
  Resolved piece = end_on_face(JointKind::pocket_screw, "pocket screw");
  settle_fasteners(piece);
  EXPECT_EQ(piece.joints[0].fastener, "pocket screw 8 x 1-1/4");
}

TEST(ScrewByRule, ThatFitsNothingIsTold) {
  Resolved piece = piece_of({board_of("a", 4, 89, 600), board_of("b", 4, 89, 600)},
                            {joint_of(JointKind::screw, 0, 1)});
  piece.boards[1].frame.origin = {0, 0, 4};
  piece.joints[0].fastener = "wood screw";
  EXPECT_EQ(codes(worked(piece)), "solid.no-fastener-fits ");
  settle_fasteners(piece);
  EXPECT_EQ(piece.joints[0].fastener, "wood screw");
}

TEST(Screw, ThatWouldComeOutDrillsRightThrough) {
  Resolved piece = slat_on_rail(JointKind::screw, "wood screw 8 x 3");
  piece.joints[0].count = 1;
  const auto far = holes(worked(piece), 1);
  ASSERT_EQ(far.size(), 1u);
  EXPECT_GT(far[0].depth, 1e5);
}

TEST(Screw, ComesFromTheBoardThatIsNamed) {
  Resolved piece = slat_on_rail(JointKind::screw, "wood screw 8 x 2");
  piece.joints[0].from = "b";
  const Worked work = worked(piece);
  EXPECT_EQ(holes(work, 1)[0].kind, FeatureKind::clearance_hole);
  EXPECT_NEAR(holes(work, 0)[0].depth, 2 * inch - 38, 1e-6);
}

TEST(Screw, PilotInHardwoodIsWider) {
  Resolved piece = slat_on_rail(JointKind::screw, screw_name);
  piece.stocks[0].species = "white oak";
  EXPECT_NEAR(holes(worked(piece), 1)[0].diameter, 1.0 / 8 * inch, 1e-6);
}

TEST(Screw, ThatDoesNotReachTheFarBoardDrillsNoPilot) {
  Resolved piece = slat_on_rail(JointKind::screw, "wood screw 8 x 1/2");
  const Worked work = worked(piece);
  EXPECT_EQ(holes(work, 0).size(), 2u);
  EXPECT_EQ(holes(work, 1).size(), 0u);
}

TEST(Screw, BetweenBoardsThatDoNotTouchIsTold) {
  Resolved piece = slat_on_rail(JointKind::screw, screw_name);
  piece.boards[1].frame.origin.z -= 2;
  EXPECT_EQ(codes(worked(piece)), "solid.no-contact ");
}

TEST(Screw, ThatHasNoRoomIsTold) {
  Resolved piece = slat_on_rail(JointKind::screw, screw_name);
  piece.joints[0].inset = 45;
  EXPECT_EQ(codes(worked(piece)), "solid.no-room ");
  piece.joints[0].count = 1'000'000;
  EXPECT_EQ(codes(worked(piece)), "solid.no-room ");
}

// A panel with a step cut out of its +y edge from x = 200 on: the inner corner is a hollow of its
// hull.
ResolvedBoard stepped_panel() {
  ResolvedBoard panel = board_of("side", 19, 300, 400);
  panel.hollows.push_back({{{200, 0}, {400, 0}, {400, 151}, {200, 151}}, {-1, -1, -1, -1}});
  return panel;
}

TEST(Screw, BearsOnTheInnerEdgeOfAnOutline) {
  // A tread lies on the step: on the face at x = 200, which looks along the panel.
  const Frame tread = frame_at({200 + 9.5, 75, -300}, {0, 0, 1}, {1, 0, 0});
  Resolved piece = piece_of({stepped_panel(), board_of("tread", 19, 120, 600, tread)},
                            {joint_of(JointKind::screw, 1, 0)});
  piece.joints[0].fastener = "wood screw 8 x 2";
  const Worked work = worked(piece);
  EXPECT_EQ(codes(work), "");
  const auto pilots = holes(work, 0);
  ASSERT_EQ(pilots.size(), 2u);
  expect_near(pilots[0].direction, {-1, 0, 0});
  expect_near((pilots[0].mouth + pilots[1].mouth) * 0.5, {200, 75, 0});
}

TEST(Screw, StandsInTheWoodBesideAHollowAndNotInIt) {
  // A rail along the broad face, from the whole part of the panel past the step cut out of it.
  const Frame rail = frame_at({100, 75, 19}, {1, 0, 0}, {0, 0, 1});
  Resolved piece = piece_of({stepped_panel(), board_of("rail", 19, 40, 300, rail)},
                            {joint_of(JointKind::screw, 1, 0)});
  piece.joints[0].fastener = screw_name;
  const auto pilots = holes(worked(piece), 0);
  ASSERT_EQ(pilots.size(), 2u);
  expect_near(pilots[0].mouth, {125, 75, 9.5});
  expect_near(pilots[1].mouth, {175, 75, 9.5});
}

TEST(Screw, InAHalfLapGoesThroughTheHalfThatIsOver) {
  const Frame b = frame_at({500, -500, 0}, {0, 1, 0}, {0, 0, 1});
  Resolved piece = piece_of({board_of("a", 38, 89, 1000), board_of("b", 38, 89, 1000, b)},
                            {joint_of(JointKind::half_lap, 0, 1)});
  piece.joints[0].fastener = "screw-8x1-1/4";
  piece.joints[0].count = 1;
  const Worked work = worked(piece);
  EXPECT_EQ(codes(work), "");
  const auto near = holes(work, 0), far = holes(work, 1);
  ASSERT_EQ(near.size(), 1u);
  ASSERT_EQ(far.size(), 1u);
  expect_near(near[0].mouth, {500, 0, 19});
  expect_near(far[0].mouth, {500, 0, 0});
  EXPECT_NEAR(far[0].depth, 1.25 * inch - 19, 1e-6);
}

TEST(Screw, ThroughTheBackOfAHousingGoesIntoTheEndOfTheShelf) {
  Resolved piece = end_on_face(JointKind::housing, screw_name);
  piece.boards[1].frame.origin.z -= 6;  // the shelf's end sits 6 deep
  const Worked work = worked(piece);
  EXPECT_EQ(codes(work), "");
  const auto near = holes(work, 0), far = holes(work, 1);
  ASSERT_EQ(near.size(), 2u);
  expect_near(near[0].mouth, {300, -89.0 / 4, -9.5});
  expect_near(near[0].direction, {0, 0, 1});
  EXPECT_NEAR(far[0].depth, 1.5 * inch - 13, 1e-6);
}

TEST(Pin, OfATenonGoesThroughBothCheeksAndTheTenon) {
  Resolved piece = end_on_face(JointKind::tenon, "dowel 1/4 x 1-1/2");
  piece.boards[0].section.thickness = Length::mm(60);
  piece.boards[1].frame.origin.z = 30 - 40;
  piece.joints[0].length = 40;
  piece.joints[0].thick = 8;
  piece.joints[0].count = 1;
  const Worked work = worked(piece);
  EXPECT_EQ(codes(work), "");
  ASSERT_EQ(holes(work, 0).size(), 1u);
  ASSERT_EQ(holes(work, 1).size(), 1u);
  const Feature pin = holes(work, 0)[0];
  EXPECT_EQ(pin.kind, FeatureKind::dowel_hole);
  EXPECT_GT(pin.depth, 1e5);
  EXPECT_NEAR(pin.mouth.z, 10, 1e-6);  // in the middle of the tenon's 40 mm
  EXPECT_NEAR(std::abs(pin.direction.x), 1, 1e-12);
}

TEST(Dowel, StandsHalfInEachBoard) {
  Resolved piece = end_on_face(JointKind::dowel, "");
  piece.joints[0].diameter = 8;
  piece.joints[0].length = 30;
  const Worked work = worked(piece);
  EXPECT_EQ(codes(work), "");
  const auto in_a = holes(work, 0), in_b = holes(work, 1);
  ASSERT_EQ(in_a.size(), 2u);
  ASSERT_EQ(in_b.size(), 2u);
  EXPECT_NEAR(in_a[0].depth, 15, 1e-6);
  EXPECT_NEAR(in_b[0].depth, 15, 1e-6);
  const Frame& b = piece.boards[1].frame;
  expect_near(in_a[0].mouth, b.to_world(in_b[0].mouth));
  expect_near(in_a[0].direction, -b.direction_to_world(in_b[0].direction));
}

TEST(Dowel, IsAThirdOfTheThinnerBoardByRule) {
  const auto in_b = holes(worked(end_on_face(JointKind::dowel, "")), 1);
  ASSERT_FALSE(in_b.empty());
  EXPECT_NEAR(in_b[0].diameter, 19.0 / 3, 1e-9);
  EXPECT_NEAR(in_b[0].depth, 19.0 / 3 * 2, 1e-9);
}

TEST(PocketScrew, LeavesTheEndInTheMiddleOfItsThickness) {
  const Resolved piece = end_on_face(JointKind::pocket_screw, "pocket screw 8 x 1-1/4");
  const Worked work = worked(piece);
  EXPECT_EQ(codes(work), "");
  const auto pockets = holes(work, 1);
  ASSERT_EQ(pockets.size(), 2u);
  const Feature& pocket = pockets[0];
  EXPECT_EQ(pocket.kind, FeatureKind::pocket_hole);
  EXPECT_EQ(pocket.diameter, 9.5);
  // The mouth is on the back; 15 degrees to it, towards the start of b, which bears on a.
  EXPECT_NEAR(pocket.mouth.z, -9.5, 1e-9);
  EXPECT_NEAR(pocket.direction.z, std::sin(15 * std::numbers::pi / 180), 1e-9);
  EXPECT_LT(pocket.direction.x, 0);
  const double to_end = pocket.mouth.x / -pocket.direction.x;
  expect_near(pocket.mouth + pocket.direction * to_end, {0, pocket.mouth.y, 0});
  // Half the screw lies past the pocket's bottom.
  EXPECT_NEAR(to_end - pocket.depth, 1.25 * inch / 2, 1e-6);
  EXPECT_NEAR(std::abs(pocket.mouth.y), 89.0 / 4, 1e-9);
}

// NDS 2018 12.5.4: at 30 degrees to the board that is nailed through, a third of the nail from its
// end.
TEST(ToeNail, GoesInAThirdOfItsLengthFromTheEndAtThirtyDegrees) {
  Resolved piece = end_on_face(JointKind::toe_nail, "common nail 6d");
  piece.joints[0].count = 2;
  EXPECT_EQ(codes(worked(piece)), "");
  const auto driven = driven_in(piece);
  ASSERT_EQ(driven.size(), 2U);
  const Frame& b = piece.boards[1].frame;
  double side = -1;
  for (const Driven& nail : driven) {
    const Vec3 head = b.to_local(nail.head),
               in = {dot(nail.direction, b.x), dot(nail.direction, b.y), dot(nail.direction, b.z)};
    EXPECT_EQ(nail.near, 1);
    EXPECT_EQ(nail.far, 0);
    EXPECT_TRUE(nail.is_toe_nail);
    EXPECT_NEAR(head.x, 2 * inch / 3, 1e-6);     // b bears on a with its start
    EXPECT_NEAR(head.z, side * 19.0 / 2, 1e-6);  // from both faces by turns
    EXPECT_NEAR(in.x, -std::cos(std::numbers::pi / 6), 1e-9);
    EXPECT_NEAR(in.z, -side * 0.5, 1e-9);
    EXPECT_NEAR(nail.through * std::cos(std::numbers::pi / 6), 2 * inch / 3, 1e-6);
    EXPECT_NEAR(nail.wood, 19 / std::cos(std::numbers::pi / 6), 1e-6);
    side = -side;
  }
}

TEST(ToeNail, ThatWouldComeOutOfTheOtherFaceIsRefused) {
  // 6 in / 3 tan 30 degrees = 29 mm of 19.
  EXPECT_EQ(codes(worked(end_on_face(JointKind::toe_nail, "common nail 60d"))), "solid.no-room ");
  EXPECT_EQ(codes(worked(end_on_face(JointKind::toe_nail, "deck screw"))),
            "solid.no-fastener-fits ");
  EXPECT_EQ(codes(worked(slat_on_rail(JointKind::toe_nail, "common nail 6d"))),
            "solid.no-contact ");
}

TEST(PocketScrew, GoesThroughAnEdgeWhereTheEdgeBearsOnTheOther) {
  Resolved piece = piece_of({board_of("a", 19, 89, 600), board_of("b", 19, 89, 600)},
                            {joint_of(JointKind::pocket_screw, 0, 1)});
  piece.boards[1].frame.origin = {0, 89, 0};
  piece.joints[0].fastener = "pocket screw 8 x 1-1/4";
  piece.joints[0].count = 2;
  const auto pockets = holes(worked(piece), 1);
  ASSERT_EQ(pockets.size(), 2u);
  EXPECT_NEAR(pockets[0].direction.y, -std::cos(15 * std::numbers::pi / 180), 1e-9);
  EXPECT_NEAR(pockets[0].mouth.x, 150, 1e-9);
}

TEST(PocketScrew, BetweenBroadFacesIsTold) {
  EXPECT_EQ(codes(worked(slat_on_rail(JointKind::pocket_screw, "pocket screw 8 x 1-1/4"))),
            "solid.no-contact ");
}

TEST(Fasteners, OfOnePieceAreBounded) {
  Resolved piece = slat_on_rail(JointKind::screw, screw_name);
  piece.joints[0].count = 100;
  piece.joints.resize(300, piece.joints[0]);
  const Worked work = worked(piece);
  EXPECT_EQ(codes(work), "solid.too-many-holes ");
  EXPECT_LE(holes(work, 0).size() + holes(work, 1).size(), 20'000u);
}

}  // namespace
}  // namespace kw
