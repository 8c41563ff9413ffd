// A mirrored board is the mirror image of its source, whatever is cut into it and by whom.
#include <gtest/gtest.h>
#include <string>

#include "kernel/kernel.h"
#include "recipe.h"

namespace kw {
namespace {

// One board `a` along x, its image `b` on the other side of y = 0, and a partner on each side.
const std::string board_and_image = R"(
format = 1
piece  = "Pair"
unit   = "mm"
[stock.s]
section = ["20 mm", "100 mm"]
buy = [{ length = "3000", price = "1" }]
[board.a]
stock  = "s"
at     = ["0", "300", "0"]
along  = "x"
length = "500"
face   = "up"
[board.shelf]
stock  = "s"
at     = ["200", "300", "10"]
along  = "up"
length = "300"
face   = "x"
start  = { against = "a" }
[mirror.m]
of     = ["a", "shelf"]
across = "y"
names  = ["b", "shelf-b"]
)";

// Of the boards with these two names: volume and middle by the kernel, in the world.
struct Weighed {
  double volume = 0;
  Vec3 middle = {};
};

Weighed weighed(const Resolved& piece, const std::vector<Recipe>& recipes, const std::string& id) {
  for (std::size_t i = 0; i < recipes.size(); ++i) {
    if (piece.boards[i].id != id) continue;
    const kernel::Measured measured = kernel::measure(recipes[i]);
    return {measured.volume, piece.boards[i].frame.to_world(measured.centroid)};
  }
  ADD_FAILURE() << "no board " << id;
  return {};
}

void expect_images(const std::string& more) {
  SCOPED_TRACE(more);
  const Text text{"pair.toml", board_and_image + more};
  const auto document = read_piece(text);
  const auto piece = resolve(document.value, built_in_catalogue());
  Diagnostics told = document.diagnostics;
  told.insert(told.end(), piece.diagnostics.begin(), piece.diagnostics.end());
  const auto recipes = recipes_of(piece.value, told);
  EXPECT_TRUE(told.empty()) << render(text, told);
  std::size_t features = 0;
  for (const Recipe& recipe : recipes) features += recipe.features.size();
  EXPECT_GT(features, 4u * 3);  // more than the sticks and their ends
  for (const std::string& id : {std::string("a"), std::string("shelf")}) {
    const Weighed source = weighed(piece.value, recipes, id);
    const Weighed image = weighed(piece.value, recipes, id == "a" ? "b" : "shelf-b");
    EXPECT_NEAR(source.volume, image.volume, 1e-6 * source.volume);
    EXPECT_LT(norm(source.middle - Vec3{image.middle.x, -image.middle.y, image.middle.z}), 1e-6);
  }
}

TEST(Mirror, GroovesOfOneBoardOnEverySide) {
  for (const std::string face : {"+z", "-z", "+y", "-y"})
    expect_images(
        "[joint.g]\nkind = \"groove\"\nof = [\"a\"]\nface = \"" + face +
        "\"\noffset = \"5\"\nwidth = \"4\"\ndepth = \"6\"\nstarts = \"30\"\nends = \"300\"\n");
}

TEST(Mirror, GroovesInAnEnd) {
  expect_images(
      "[joint.g]\nkind = \"groove\"\nof = [\"a\"]\nface = \"end\"\noffset = \"5\"\nwidth = "
      "\"4\"\ndepth = \"6\"\n");
}

TEST(Mirror, RabbetsOfOneBoard) {
  expect_images(
      "[joint.r]\nkind = \"rabbet\"\nof = [\"a\"]\nedge = \"+y\"\nface = \"-z\"\nwidth = "
      "\"9\"\ndepth = \"7\"\n");
}

TEST(Mirror, HousingsThatStopShort) {
  expect_images(
      "[joint.h]\nkind = \"housing\"\nof = [\"a\", \"shelf\"]\ndepth = \"6\"\nstop = \"20\"\n");
}

TEST(Mirror, HousingsThatStopShortSaidOfTheImage) {
  expect_images(
      "[joint.h]\nkind = \"housing\"\nof = [\"a\", \"shelf\"]\ndepth = \"6\"\nstop = \"20\"\n"
      "[joint.i]\nkind = \"housing\"\nof = [\"b\", \"shelf-b\"]\ndepth = \"6\"\nstop = \"20\"\n");
}

TEST(Mirror, TenonsMovedAside) {
  expect_images(
      "[joint.t]\nkind = \"tenon\"\nof = [\"a\", \"shelf\"]\nlong = \"12\"\nwide = \"50\"\nthick = "
      "\"8\"\n"
      "offset = [\"15\", \"3\"]\n");
}

TEST(Mirror, ScrewsAndPocketScrews) {
  expect_images(
      "[joint.s]\nkind = \"screw\"\nof = [\"a\", \"shelf\"]\nfasten = \"wood screw 8 x 2\"\ncount "
      "= 3\ninset = \"12\"\n");
  expect_images(
      "[joint.p]\nkind = \"pocket-screw\"\nof = [\"a\", \"shelf\"]\nfasten = \"pocket screw 8 x "
      "1-1/4\"\n");
}

TEST(Mirror, HolesCornersAndTapers) {
  expect_images(
      "[hole.h]\nof = [\"a\"]\nface = \"+z\"\nalong = \"50\"\nacross = \"20\"\ndiameter = \"10\"\n"
      "[corner.c]\nof = [\"a\"]\nat = [\"end +y\"]\nradius = \"30\"\n"
      "[cut.t]\nof = [\"a\"]\nedge = \"-y\"\nfrom = \"100\"\nto = \"80\"\n");
}

}  // namespace
}  // namespace kw
