// Joined boards fit: after their joint is cut, no wood is wanted by both, wherever the pair lies in
// the world.
#include <cmath>
#include <gtest/gtest.h>

#include "kernel/kernel.h"
#include "recipe.h"
#include "tests/made_piece.h"
#include "tests/random_recipe.h"

namespace kw {
namespace {

using test::board_of;
using test::Dice;

#ifdef KW_MANY_BOARDS
constexpr int pairs = 150;
#else
constexpr int pairs = 40;
#endif

struct Range {
  double low = 0, high = 0;
};

ResolvedBoard random_board(Dice& dice, const std::string& id, Range thickness, Range width) {
  const double thick = dice.between(thickness.low, thickness.high);
  return board_of(id, thick, dice.between(width.low, width.high), 800);
}

// An end cut at up to 40 degrees of swing and 30 of tilt, near the end.
void cut_end(Dice& dice, ResolvedBoard& board, double flatness) {
  const double swing = dice.between(-0.7, 0.7), tilt = flatness * dice.between(-0.5, 0.5);
  const Vec3 n = {std::cos(swing) * std::cos(tilt), std::sin(swing) * std::cos(tilt),
                  std::sin(tilt)};
  board.cuts.push_back({{n, dot(n, {board.to_x - 60, 0, 0})}, CutSource::end, "", -1, {}});
}

// The frame of something that lies at `inner` in a board that lies at `outer`.
Frame within(const Frame& outer, const Frame& inner) {
  return {outer.to_world(inner.origin), outer.direction_to_world(inner.x),
          outer.direction_to_world(inner.y), outer.direction_to_world(inner.z)};
}

// b crosses a somewhere, both lying flat, at 20 to 160 degrees; it may end on a, or lie a little
// higher or lower.
Resolved flat_pair(Dice& dice, JointKind kind) {
  ResolvedBoard a = random_board(dice, "a", {20, 45}, {40, 140});
  ResolvedBoard b = random_board(dice, "b", {20, 45}, {40, 140});
  a.frame = test::random_frame(dice, 500);
  const Vec3 along = test::turned(dice.between(20, 160));
  const double before = dice.one_in(2) ? dice.between(-30, 30) : dice.between(200, 600);
  const double lift = dice.one_in(2) ? 0 : dice.between(-12, 12);
  const Vec3 crossing = {dice.between(150, 650), 0, lift}, up = {0, 0, dice.one_in(2) ? 1.0 : -1.0};
  b.frame = within(a.frame, test::frame_at(crossing - along * before, along, up));
  if (dice.one_in(3)) cut_end(dice, a, 1);
  if (dice.one_in(3)) cut_end(dice, b, 1);
  Resolved piece = test::piece_of({a, b}, {test::joint_of(kind, 0, 1)});
  piece.joints[0].ease = dice.one_in(2) ? 0 : 0.3;
  return piece;
}

// b's start stands in a's face, square or leaning, as deep as the joint wants.
Resolved standing_pair(Dice& dice, JointKind kind) {
  ResolvedBoard a = random_board(dice, "a", {30, 60}, {80, 140});
  ResolvedBoard b = random_board(dice, "b", {15, 25}, {30, 70});
  a.frame = test::random_frame(dice, 500);
  const double depth = dice.between(5, 20), lean = dice.one_in(2) ? 0 : dice.between(-0.5, 0.5);
  const Vec3 along = unit({std::sin(lean), 0, std::cos(lean)});
  const double half = a.section.thickness.in_mm() / 2;
  const Vec3 foot = {400, 0, half - depth * std::cos(lean)};
  b.frame =
      within(a.frame, test::frame_at(foot, along, dice.one_in(2) ? Vec3{1, 0, 0} : Vec3{0, 1, 0}));
  b.from_x = -100;
  // Its end lies parallel to a's face.
  const Vec3 n = b.frame.direction_to_local(-a.frame.z);
  b.cuts.push_back({{n, 0}, CutSource::start, "", -1, {}});
  Resolved piece = test::piece_of({a, b}, {test::joint_of(kind, 0, 1)});
  ResolvedJoint& joint = piece.joints[0];
  joint.ease = dice.one_in(2) ? 0 : 0.3;
  if (kind == JointKind::tenon) joint.length = depth;
  if (kind == JointKind::housing && dice.one_in(2)) joint.stop = dice.between(10, 40);
  return piece;
}

void expect_fit(const Resolved& piece) {
  Diagnostics diagnostics;
  const auto recipes = recipes_of(piece, diagnostics);
  if (!diagnostics.empty()) {
    EXPECT_EQ(diagnostics[0].code, "solid.no-overlap") << diagnostics[0].message;
    return;
  }
  const kernel::Placed a = {"a", recipes[0], piece.boards[0].frame},
                       b = {"b", recipes[1], piece.boards[1].frame};
  EXPECT_TRUE(kernel::measure(a.recipe).is_valid && kernel::measure(b.recipe).is_valid);
  // The whole boards do want the same room, or there was nothing to fit.
  kernel::Placed whole_a = a, whole_b = b;
  whole_a.recipe.cutters.clear();
  whole_b.recipe.cutters.clear();
  EXPECT_GT(kernel::common_volume(whole_a, whole_b), 1);
  EXPECT_NEAR(kernel::common_volume(a, b), 0, 1e-3);
}

void expect_all_fit(Resolved (*pair)(Dice&, JointKind), JointKind kind) {
  for (int seed = 0; seed < pairs && !testing::Test::HasFailure(); ++seed) {
    SCOPED_TRACE(seed);
    Dice dice(static_cast<std::uint64_t>(seed));
    expect_fit(pair(dice, kind));
  }
}

TEST(Fit, HalfLaps) {
  expect_all_fit(flat_pair, JointKind::half_lap);
}
TEST(Fit, Bridles) {
  expect_all_fit(flat_pair, JointKind::bridle);
}
TEST(Fit, Notches) {
  expect_all_fit(flat_pair, JointKind::notch);
}
TEST(Fit, Grooves) {
  expect_all_fit(flat_pair, JointKind::groove);
}
TEST(Fit, Housings) {
  expect_all_fit(standing_pair, JointKind::housing);
}
TEST(Fit, Tenons) {
  expect_all_fit(standing_pair, JointKind::tenon);
}

}  // namespace
}  // namespace kw
