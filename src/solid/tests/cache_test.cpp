// A cache never changes an answer, and keeps what did not change.
#include "cache.h"

#include <algorithm>
#include <gtest/gtest.h>

#include "made_piece.h"
#include "random_recipe.h"

namespace kw {
namespace {

using test::Dice;

ResolvedBoard random_board(Dice& dice, int number) {
  const double thickness = 10 + 5 * dice.below(4), width = 30 + 10 * dice.below(5);
  const Vec3 at = {10.0 * dice.below(30), 10.0 * dice.below(30), 10.0 * dice.below(10)};
  const int way = dice.below(3);
  const Frame frame = way == 0   ? Frame{at}
                      : way == 1 ? Frame{at, {0, 1, 0}, {-1, 0, 0}, {0, 0, 1}}
                                 : Frame{at, {0, 0, 1}, {0, 1, 0}, {-1, 0, 0}};
  auto board = test::board_of("b" + std::to_string(number), thickness, width,
                              100 + 50 * dice.below(6), frame);
  if (dice.one_in(2)) {
    board.holes.push_back({.mouth = {20.0 + dice.below(60), 0, thickness / 2},
                           .direction = {0, 0, -1},
                           .diameter = 8,
                           .is_through = true});
  }
  return board;
}

// One edit as a person makes it: a board moved, changed, added, taken out, or carried to another
// place in the list.
void edit(Dice& dice, Resolved& piece, int number) {
  auto& boards = piece.boards;
  const auto at = [&] { return boards.begin() + dice.below(static_cast<int>(boards.size())); };
  switch (dice.below(5)) {
    case 0:
      at()->frame.origin.z += 5;
      break;
    case 1:
      at()->to_x += 10;
      break;
    case 2:
      boards.insert(at(), random_board(dice, number));
      break;
    case 3:
      if (boards.size() > 3) boards.erase(at());
      break;
    default: {
      const auto one = at();
      std::iter_swap(one, at());
    }
  }
}

void expect_same(const std::vector<Clash>& a, const std::vector<Clash>& b) {
  ASSERT_EQ(a.size(), b.size());
  for (std::size_t i = 0; i < a.size(); ++i) {
    EXPECT_EQ(std::pair(a[i].a, a[i].b), std::pair(b[i].a, b[i].b));
    EXPECT_EQ(a[i].volume, b[i].volume);
    EXPECT_EQ(a[i].low, b[i].low);
    EXPECT_EQ(a[i].high, b[i].high);
  }
}

void expect_same(const std::vector<Contact>& a, const std::vector<Contact>& b) {
  ASSERT_EQ(a.size(), b.size());
  for (std::size_t i = 0; i < a.size(); ++i) {
    EXPECT_EQ(std::pair(a[i].a, a[i].b), std::pair(b[i].a, b[i].b));
    EXPECT_EQ(std::pair(a[i].face_a, a[i].face_b), std::pair(b[i].face_a, b[i].face_b));
    EXPECT_EQ(a[i].gap, b[i].gap);
    EXPECT_EQ(a[i].area, b[i].area);
    EXPECT_EQ(a[i].centre, b[i].centre);
    EXPECT_EQ(a[i].patch, b[i].patch);
  }
}

void expect_same(const std::vector<Body>& a, const std::vector<Body>& b) {
  ASSERT_EQ(a.size(), b.size());
  for (std::size_t i = 0; i < a.size(); ++i) {
    EXPECT_EQ(a[i].board, b[i].board);
    ASSERT_EQ(a[i].shape->faces.size(), b[i].shape->faces.size());
    EXPECT_EQ(a[i].shape->volume, b[i].shape->volume);
    for (std::size_t f = 0; f < a[i].shape->faces.size(); ++f) {
      EXPECT_EQ(a[i].shape->faces[f].loops, b[i].shape->faces[f].loops);
    }
  }
}

TEST(ShapeCache, GivesTheSameAnswersThroughRandomEdits) {
  for (std::uint64_t seed = 0; seed < 20; ++seed) {
    SCOPED_TRACE(seed);
    Dice dice(seed);
    std::vector<ResolvedBoard> boards;
    for (int i = 0; i < 12; ++i) boards.push_back(random_board(dice, i));
    Resolved piece = test::piece_of(boards, {});
    ShapeCache cache;
    for (int step = 0; step < 30 && !testing::Test::HasFailure(); ++step) {
      SCOPED_TRACE(step);
      const auto kept = bodies_of(piece, cache), fresh = bodies_of(piece);
      expect_same(kept.value, fresh.value);
      EXPECT_EQ(kept.diagnostics.size(), fresh.diagnostics.size());
      expect_same(clashes_in(kept.value, cache), clashes_in(fresh.value));
      const double widest = dice.one_in(5) ? 8 : 3;
      expect_same(contacts_in(kept.value, widest, cache), contacts_in(fresh.value, widest));
      const auto meshes = meshes_of(kept.value, cache), fresh_meshes = meshes_of(fresh.value);
      ASSERT_EQ(meshes.size(), fresh_meshes.size());
      for (std::size_t i = 0; i < meshes.size(); ++i)
        EXPECT_EQ(meshes[i]->points, fresh_meshes[i]->points);
      edit(dice, piece, 100 + step);
    }
  }
}

TEST(ShapeCache, KeepsWhatDidNotChange) {
  Resolved piece =
      test::piece_of({test::board_of("a", 20, 40, 300), test::board_of("b", 20, 40, 200)}, {});
  ShapeCache cache;
  const auto before = bodies_of(piece, cache).value;
  const auto meshes = meshes_of(before, cache);
  piece.boards[1].to_x = 210;
  piece.boards[0].frame.origin.x = 50;
  const auto after = bodies_of(piece, cache).value;
  EXPECT_EQ(after[0].shape, before[0].shape);
  EXPECT_NE(after[1].shape, before[1].shape);
  EXPECT_EQ(meshes_of(after, cache)[0], meshes[0]);
  EXPECT_NE(meshes_of(after, cache)[1], meshes[1]);
}

TEST(Bodies, CopiesShareOneShapeAndMesh) {
  Resolved piece =
      test::piece_of({test::board_of("a", 20, 40, 300), test::board_of("b", 20, 40, 300)}, {});
  piece.boards[1].frame.origin.y = 100;
  const auto bodies = bodies_of(piece).value;
  EXPECT_EQ(bodies[0].shape, bodies[1].shape);
  const auto meshes = meshes_of(bodies);
  EXPECT_EQ(meshes[0], meshes[1]);
}

TEST(Bodies, LeaveOutABoardWithNothingLeftAndSayWhich) {
  Resolved piece =
      test::piece_of({test::board_of("a", 20, 40, 300), test::board_of("b", 20, 40, 300)}, {});
  piece.boards[0].at = {7, 9};
  piece.boards[0].cuts.push_back({.plane = {{1, 0, 0}, -5}});
  ShapeCache cache;
  for (int i = 0; i < 2; ++i) {  // told again from the cache
    const auto bodies = bodies_of(piece, cache);
    ASSERT_EQ(bodies.value.size(), 1u);
    EXPECT_EQ(bodies.value[0].board, 1);
    ASSERT_EQ(bodies.diagnostics.size(), 1u);
    EXPECT_EQ(bodies.diagnostics[0].code, "solid.nothing-left");
    EXPECT_EQ(bodies.diagnostics[0].at, (Span{7, 9}));
    EXPECT_NE(bodies.diagnostics[0].message.find("\"a\""), std::string::npos);
  }
}

TEST(RecipeKey, DiffersWithAnyPart) {
  Recipe recipe{.to_x = 100, .half_width = 20, .half_thickness = 10};
  recipe.features.push_back({.kind = FeatureKind::stick});
  recipe.trims.push_back({{{1, 0, 0}, 50}, 0, 0, -1});
  recipe.cutters.push_back({.feature = 1, .planes = {{{0, 0, -1}, 0}}, .cylinders = {-1}});
  recipe.cylinders.push_back({{}, {0, 0, 1}, 5, true});
  const auto changed = [&](auto change) {
    Recipe other = recipe;
    change(other);
    RecipeKey key, other_key = {1, 2, 3};
    write_key(recipe, key);
    write_key(other, other_key);
    return other_key != key;
  };
  EXPECT_FALSE(changed([](Recipe&) {}));
  EXPECT_TRUE(changed([](Recipe& r) { r.from_x = 1; }));
  EXPECT_TRUE(changed([](Recipe& r) { r.half_width = 21; }));
  EXPECT_TRUE(changed([](Recipe& r) { r.half_thickness = 21; }));
  EXPECT_TRUE(changed([](Recipe& r) { r.features[0].name = "x"; }));
  EXPECT_TRUE(changed([](Recipe& r) { r.features[0].joint = 3; }));
  EXPECT_TRUE(changed([](Recipe& r) { r.features[0].partner = 3; }));
  EXPECT_TRUE(changed([](Recipe& r) { r.features[0].hole = 3; }));
  EXPECT_TRUE(changed([](Recipe& r) { r.features[0].depth = 3; }));
  EXPECT_TRUE(changed([](Recipe& r) { r.features[0].diameter = 3; }));
  EXPECT_TRUE(changed([](Recipe& r) { r.features[0].mouth.y = 3; }));
  EXPECT_TRUE(changed([](Recipe& r) { r.features[0].direction.y = 3; }));
  EXPECT_TRUE(changed([](Recipe& r) { r.features[0].cutter_begin = {0}; }));
  EXPECT_TRUE(changed([](Recipe& r) { r.features[0].planes = {{}}; }));
  EXPECT_TRUE(changed([](Recipe& r) { r.trims[0].plane.offset = 51; }));
  EXPECT_TRUE(changed([](Recipe& r) { r.trims[0].cylinder = 0; }));
  EXPECT_TRUE(changed([](Recipe& r) { r.trims[0].side = 1; }));
  EXPECT_TRUE(changed([](Recipe& r) { r.cutters[0].planes[0].normal.x = 1; }));
  EXPECT_TRUE(changed([](Recipe& r) { r.cutters[0].cylinders[0] = 0; }));
  EXPECT_TRUE(changed([](Recipe& r) { r.cutters[0].first_side = 1; }));
  EXPECT_TRUE(changed([](Recipe& r) { r.cylinders[0].radius = 6; }));
  EXPECT_TRUE(changed([](Recipe& r) { r.cylinders[0].is_hollow = false; }));
}

TEST(Weight, IsByMassWhereAllAreKnown) {
  Resolved piece =
      test::piece_of({test::board_of("a", 20, 40, 100), test::board_of("b", 20, 40, 100)}, {});
  piece.stocks.push_back({.name = "light", .density = Density{400}});
  piece.stocks[0].density = Density{800};
  piece.boards[1].stock = 1;
  piece.boards[1].frame.origin = {100, 0, 0};
  Weight weight = weight_of(piece, bodies_of(piece).value);
  EXPECT_NEAR(weight.volume.value, 160'000, 1e-6);
  EXPECT_NEAR(weight.mass.value, 80'000e-9 * 1200, 1e-12);
  EXPECT_NEAR(weight.centre.x, (50 * 2 + 150) / 3.0, 1e-9);
  EXPECT_EQ(weight.without_density, 0);
  piece.stocks[1].density.reset();
  weight = weight_of(piece, bodies_of(piece).value);
  EXPECT_EQ(weight.without_density, 1);
  EXPECT_NEAR(weight.mass.value, 80'000e-9 * 800, 1e-12);
  EXPECT_NEAR(weight.centre.x, 100, 1e-9);
  EXPECT_EQ(weight_of(piece, {}).centre, Vec3{});
}

}  // namespace
}  // namespace kw
