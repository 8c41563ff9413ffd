// What is done to a board by itself, measured by the geometry kernel.
#include "own_cuts.h"

#include <gtest/gtest.h>
#include <numbers>

#include "kernel/kernel.h"
#include "made_piece.h"

namespace kw {
namespace {

using test::board_of;

constexpr double pi = std::numbers::pi;

double volume(const ResolvedBoard& board) {
  return kernel::measure(own_cuts_of(board)).volume;
}

// A corner of radius r at the end and +y, as facets that stand for the arc.
ResolvedBoard rounded(int facets) {
  ResolvedBoard board = board_of("shelf", 20, 100, 300);
  board.curves.push_back({{270, 20}, 30, false});
  for (int i = 0; i < facets; ++i) {
    const double turn = (i + 0.5) / facets * pi / 2;
    const Vec3 n = {std::cos(turn), std::sin(turn), 0};
    const double chord = 30 * std::cos(pi / 4 / facets);
    board.cuts.push_back({{n, dot(n, {270, 20, 0}) + chord}, CutSource::corner, "nose", 0, {}});
  }
  return board;
}

TEST(OwnCuts, AnEndCutIsAFeatureOfItsOwn) {
  ResolvedBoard board = board_of("leg", 20, 100, 300);
  board.cuts = {{{unit({-1, 0.5, 0}), 0}, CutSource::start, "", -1, {}},
                {{unit({1, 0, 0.25}), 200}, CutSource::end, "", -1, {}}};
  const Recipe recipe = own_cuts_of(board);
  ASSERT_EQ(recipe.features.size(), 3u);
  EXPECT_EQ(recipe.features[1].kind, FeatureKind::start);
  EXPECT_EQ(recipe.features[2].kind, FeatureKind::end);
  EXPECT_EQ(recipe.trims[1].feature, 2);
  // What the saw takes away lies behind the plane of the feature, which looks into the wood left.
  EXPECT_GT(recipe.features[2].planes[0].distance({0, 0, 0}), 0);
}

TEST(OwnCuts, TheFacetsOfOneCornerAreOneFeatureWithOneCylinder) {
  const Recipe recipe = own_cuts_of(rounded(6));
  ASSERT_EQ(recipe.features.size(), 2u);
  EXPECT_EQ(recipe.features[1].kind, FeatureKind::corner);
  EXPECT_EQ(recipe.features[1].name, "nose");
  EXPECT_EQ(recipe.features[1].planes.size(), 6u);
  ASSERT_EQ(recipe.cylinders.size(), 1u);
  for (const Recipe::Trim& trim : recipe.trims) EXPECT_EQ(trim.cylinder, 0);
}

TEST(OwnCuts, TheKernelRoundsACornerTruly) {
  const double expected = 20 * (100 * 300 - (900 - pi * 900 / 4));
  for (const int facets : {1, 2, 8})
    EXPECT_NEAR(volume(rounded(facets)), expected, 1e-6 * expected);
}

TEST(OwnCuts, TheKernelTakesAnEndCutInThePlaneOfTheSticksEnd) {
  ResolvedBoard board = rounded(4);
  board.cuts.push_back({{{1, 0, 0}, 300}, CutSource::end, "", -1, {}});
  board.cuts.push_back({{{-1, -0.0, 0}, 0}, CutSource::start, "", -1, {}});
  const double expected = 20 * (100 * 300 - (900 - pi * 900 / 4));
  EXPECT_NEAR(volume(board), expected, 1e-6 * expected);
}

TEST(OwnCuts, AHoleRightThroughIsATrueCylinder) {
  ResolvedBoard board = board_of("rail", 20, 100, 300);
  board.holes.push_back({"hook", {100, 10, 10}, {0, 0, -1}, 25, 20, true, -1});
  const Recipe recipe = own_cuts_of(board);
  EXPECT_EQ(recipe.features[1].kind, FeatureKind::hole);
  EXPECT_EQ(recipe.features[1].hole, 0);
  EXPECT_GT(recipe.features[1].depth, 1e5);
  EXPECT_NEAR(volume(board), 20 * (100 * 300 - pi * 12.5 * 12.5), 1e-3);
  EXPECT_EQ(kernel::measure(recipe).cylindrical_faces, 1u);
}

TEST(OwnCuts, ABlindHoleEndsFlatAtItsDepth) {
  ResolvedBoard board = board_of("rail", 20, 100, 300);
  board.holes.push_back({"pin", {100, 10, 10}, {0, 0, -1}, 8, 12, false, -1});
  EXPECT_NEAR(volume(board), 20 * 100 * 300 - pi * 16 * 12, 1e-3);
}

// Area of the polygon that the sides of a hole's cutter bound, by its definition: n a^2 tan(pi /
// n).
TEST(OwnCuts, TheSidesOfAHoleHaveTheCirclesArea) {
  for (const double diameter : {3.0, 11.9, 12.0, 35.0, 60.0, 200.0}) {
    ResolvedBoard board = board_of("rail", 20, 300, 600);
    board.holes.push_back({"", {100, 10, 10}, {0, 0, -1}, diameter, 0, true, -1});
    const Recipe recipe = own_cuts_of(board);
    const auto sides = static_cast<double>(recipe.cutters[0].planes.size());
    const double apothem = recipe.cutters[0].planes[0].distance({100, 10, 0}) * -1;
    EXPECT_NEAR(sides * apothem * apothem * std::tan(pi / sides), pi * diameter * diameter / 4,
                1e-9 * diameter * diameter);
    EXPECT_GE(sides, 24);
    EXPECT_LE(sides, 64);
  }
}

// A bay with a half round bottom in the +y edge of a panel, as a polygon with 12 chords.
TEST(OwnCuts, AHollowOfAnOutlineHasItsTrueArc) {
  ResolvedBoard board = board_of("panel", 18, 200, 400);
  board.curves.push_back({{200, 40}, 50, true});
  Hollow bay;
  for (int i = 0; i <= 12; ++i) {
    const double turn = pi + pi * i / 12;
    bay.points.push_back({200 + 50 * std::cos(turn), 40 + 50 * std::sin(turn)});
    bay.curves.push_back(i < 12 ? 0 : -1);
  }
  bay.points.push_back({250, 101});
  bay.curves.push_back(-1);
  bay.points.push_back({150, 101});
  bay.curves.push_back(-1);
  board.hollows.push_back(bay);
  const Recipe recipe = own_cuts_of(board);
  EXPECT_EQ(recipe.features[1].kind, FeatureKind::outline);
  const double expected = 18 * (200 * 400 - 100 * 60 - pi * 50 * 50 / 2);
  EXPECT_NEAR(kernel::measure(recipe).volume, expected, 1e-6 * expected);
  EXPECT_EQ(kernel::measure(recipe).cylindrical_faces, 1u);
}

}  // namespace
}  // namespace kw
