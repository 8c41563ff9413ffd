// Meshes: watertight whatever the board, covering each face once.
#include <cmath>
#include <gtest/gtest.h>
#include <limits>
#include <map>
#include <utility>

#include "bore.h"
#include "hard_recipe.h"
#include "planar/polygon.h"
#include "recipe.h"

namespace kw {
namespace {

using test::Dice;
using test::Trouble;

#ifdef KW_MANY_BOARDS
constexpr std::uint64_t boards = 20'000;
#else
constexpr std::uint64_t boards = 500;
#endif

using Edge = std::pair<std::uint32_t, std::uint32_t>;

// How much oftener each edge is used from its lower to its higher point than back.
std::map<Edge, int> balance_of(const Mesh& mesh) {
  std::map<Edge, int> balance;
  for (const auto& t : mesh.triangles) {
    for (std::size_t k = 0; k < 3; ++k) {
      const std::uint32_t a = t[k], b = t[(k + 1) % 3];
      EXPECT_NE(a, b);
      balance[std::minmax(a, b)] += a < b ? 1 : -1;
    }
  }
  return balance;
}

bool is_watertight(const Mesh& mesh) {
  for (const auto& [edge, balance] : balance_of(mesh)) {
    if (balance != 0) return false;
  }
  return true;
}

double volume_of(const Mesh& mesh) {
  double six = 0;
  for (const auto& t : mesh.triangles) {
    six += dot(mesh.points[t[0]], cross(mesh.points[t[1]], mesh.points[t[2]]));
  }
  return six / 6;
}

// Sum of the triangles' areas, counted without sign, less the area of the faces: more than nothing
// where triangles overlap.
double overlap_of(const Mesh& mesh, const Shape& shape) {
  double sum = 0;
  for (const auto& t : mesh.triangles) {
    const Vec3 a = mesh.points[t[0]];
    sum += norm(cross(mesh.points[t[1]] - a, mesh.points[t[2]] - a)) / 2;
  }
  for (const Face& face : shape.faces) {
    Vec3 area;
    for (const auto& loop : face.loops) area += area_vector_of(loop);
    sum -= norm(area);
  }
  return sum;
}

struct Count {
  int boards = 0, open = 0, overlapping = 0, swollen = 0;
};

Count count_meshes(Trouble trouble) {
  Count count;
  for (std::uint64_t seed = 0; seed < boards; ++seed) {
    Dice dice(seed);
    const auto shape = shape_of(test::hard_recipe(dice, trouble));
    if (!shape) continue;
    const auto mesh = mesh_of(*shape);
    ++count.boards;
    count.open += is_watertight(*mesh) ? 0 : 1;
    count.overlapping += std::abs(overlap_of(*mesh, *shape)) > 1e-6 * shape->area.value ? 1 : 0;
    count.swollen +=
        std::abs(volume_of(*mesh) - shape->volume.value) > 1e-5 * shape->area.value ? 1 : 0;
  }
  return count;
}

TEST(Mesh, OfRandomBoardsIsWatertight) {
  for (const auto trouble :
       {Trouble::none, Trouble::moved, Trouble::doubled, Trouble::doubled_askew}) {
    SCOPED_TRACE(static_cast<int>(trouble));
    const Count count = count_meshes(trouble);
    EXPECT_GT(count.boards, static_cast<int>(boards) * 9 / 10);
    EXPECT_EQ(count.open, 0);
    // Where planes cross at 1e-5 there are faces of a hair's breadth, and triangles of such may
    // overlap.
    const int allowed = trouble == Trouble::doubled_askew ? count.boards / 500 : 0;
    EXPECT_LE(count.overlapping, allowed);
    EXPECT_LE(count.swollen, allowed);
  }
}

// Sizes and planes that no board has.
Recipe senseless_recipe(Dice& dice) {
  static constexpr double inf = std::numeric_limits<double>::infinity();
  static constexpr double sizes[] = {0, 1e-300, 1e-9, 1e-5, 2e-4, 2.5e-4, 3e-4, 0.01,
                                     1, 20,     50,   1e3,  1e5,  1e6,    1e9,  inf};
  const auto size = [&] {
    // Most are drawn from the middle, or nothing would be left to be carved.
    const double drawn = dice.one_in(6) ? sizes[dice.below(16)] : sizes[7 + dice.below(6)];
    return dice.one_in(40) ? std::nan("") : drawn;
  };
  const auto plane = [&] {
    Vec3 normal = dice.direction();
    if (dice.one_in(2)) normal = dice.one_in(2) ? Vec3{0, 0, 1} : Vec3{-1, 0, 0};
    if (dice.one_in(60)) normal = {};
    const double offset = size();
    return Plane{normal, dice.one_in(2) ? offset : -offset};
  };
  Recipe recipe{.from_x = -size()};
  recipe.to_x = size();
  recipe.half_width = size();
  recipe.half_thickness = size();
  recipe.features.push_back({.kind = FeatureKind::stick});
  const int trims = dice.below(3), cutters = dice.below(8);
  for (int i = 0; i < trims; ++i) recipe.trims.push_back({plane(), 0, 0, dice.below(4) - 1});
  for (int i = 0; i < cutters; ++i) {
    Cutter cutter;
    const int planes = dice.below(9);
    for (int k = 0; k < planes; ++k) cutter.planes.push_back(plane());
    cutter.cylinders = std::vector<int>(static_cast<std::size_t>(dice.below(9)), dice.below(3));
    recipe.cutters.push_back(std::move(cutter));
  }
  return recipe;
}

TEST(Mesh, OfSenselessRecipesIsWatertightOrThereIsAFault) {
  int shapes = 0, faults = 0;
  for (std::uint64_t seed = 0; seed < 20 * boards; ++seed) {
    SCOPED_TRACE(seed);
    Dice dice(seed);
    auto shape = shape_of(senseless_recipe(dice));
    (shape ? shapes : faults) += 1;
    if (!shape) continue;
    EXPECT_GT(shape->volume.value, 0);
    EXPECT_TRUE(std::isfinite(shape->volume.value) && std::isfinite(shape->area.value));
    EXPECT_TRUE(is_watertight(*mesh_of(*shape)));
    const auto shared = std::make_shared<Shape>(*std::move(shape));
    const std::vector<Body> bodies = {{.shape = shared}, {.frame = {{1, 2, 3}}, .shape = shared}};
    static_cast<void>(clashes_in(bodies));
    static_cast<void>(contacts_in(bodies));
    if (testing::Test::HasFailure()) break;
  }
  EXPECT_GT(shapes, 1000);
  EXPECT_GT(faults, 1000);
}

Recipe box_recipe() {
  Recipe recipe{.to_x = 100, .half_width = 20, .half_thickness = 10};
  recipe.features.push_back({.kind = FeatureKind::stick});
  return recipe;
}

TEST(Mesh, OfABoxHasTwelveTrianglesAndTwelveEdges) {
  const auto mesh = mesh_of(*shape_of(box_recipe()));
  EXPECT_EQ(mesh->points.size(), 8u);
  EXPECT_EQ(mesh->triangles.size(), 12u);
  EXPECT_EQ(mesh->face_of.size(), 12u);
  EXPECT_EQ(mesh->edges.size(), 12u);
}

TEST(Mesh, DrawsTheRimsOfAHoleButNotItsFacets) {
  Recipe recipe = box_recipe();
  add_bore(recipe, {.kind = FeatureKind::hole,
                    .mouth = {50, 0, 10},
                    .direction = {0, 0, -1},
                    .diameter = 10,
                    .depth = endless});
  const auto mesh = mesh_of(*shape_of(recipe));
  std::size_t facets = recipe.cutters[0].planes.size();
  EXPECT_EQ(mesh->edges.size(), 12 + 2 * facets);
  EXPECT_TRUE(is_watertight(*mesh));
}

TEST(Mesh, DrawsNoLineBetweenFacesInOnePlane) {
  Recipe recipe = box_recipe();
  // A rebate in two steps end to end: its bottoms and walls lie in one plane.
  recipe.cutters.push_back({.planes = {{{1, 0, 0}, 40}, {{0, -1, 0}, -10}, {{0, 0, -1}, 0}}});
  recipe.cutters.push_back({.planes = {{{-1, 0, 0}, -40}, {{0, -1, 0}, -10}, {{0, 0, -1}, 0}}});
  const auto mesh = mesh_of(*shape_of(recipe));
  for (const auto& edge : mesh->edges) {
    const bool is_in_the_middle = std::abs(mesh->points[edge[0]].x - 40) < 1e-6 &&
                                  std::abs(mesh->points[edge[1]].x - 40) < 1e-6;
    EXPECT_FALSE(is_in_the_middle);
  }
}

TEST(Mesh, UsesALineWhereWoodMeetsWoodTwiceEachWay) {
  Recipe recipe = box_recipe();
  recipe.cutters.push_back({.planes = {{{1, 0, 0}, 50}, {{0, 1, 0}, 0}}});
  recipe.cutters.push_back({.planes = {{{-1, 0, 0}, -50}, {{0, -1, 0}, 0}}});
  const auto mesh = mesh_of(*shape_of(recipe));
  EXPECT_TRUE(is_watertight(*mesh));
  std::map<Edge, int> uses;
  for (const auto& t : mesh->triangles) {
    for (std::size_t k = 0; k < 3; ++k) ++uses[{t[k], t[(k + 1) % 3]}];
  }
  int doubled = 0;
  for (const auto& [edge, count] : uses) doubled += count == 2 ? 1 : 0;
  EXPECT_EQ(doubled, 2);
}

}  // namespace
}  // namespace kw
