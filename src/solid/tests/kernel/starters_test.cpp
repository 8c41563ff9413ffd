// Every starter: its boards by the core and by the geometry kernel, and nothing told against its
// joints.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <gtest/gtest.h>
#include <sstream>

#include "kernel/kernel.h"
#include "recipe.h"

namespace kw {
namespace {

std::vector<std::filesystem::path> starters() {
  std::vector<std::filesystem::path> files;
  for (const auto& entry :
       std::filesystem::directory_iterator(std::filesystem::path(KW_SOURCE_DIR) / "starters"))
    if (entry.path().extension() == ".toml") files.push_back(entry.path());
  std::sort(files.begin(), files.end());
  return files;
}

Text read(const std::filesystem::path& file) {
  std::ostringstream content;
  content << std::ifstream(file, std::ios::binary).rdbuf();
  return {file.filename().string(), content.str()};
}

bool has_round_hollows(const Recipe& recipe) {
  return std::any_of(recipe.cylinders.begin(), recipe.cylinders.end(),
                     [](const Cylinder& cylinder) { return cylinder.is_hollow; });
}

// A millionth; where holes are cut by slanting faces or meet one another, their sides cannot agree
// with the true circle to more than the sixth digit.
double tolerance(const Recipe& recipe) {
  return has_round_hollows(recipe) ? 2e-5 : 1e-6;
}

TEST(KernelStarters, AgreesOnEveryBoard) {
  ASSERT_FALSE(starters().empty());
  for (const auto& file : starters()) {
    const Text text = read(file);
    const auto document = read_piece(text);
    const auto piece = resolve(document.value, built_in_catalogue());
    Diagnostics told;
    const auto recipes = recipes_of(piece.value, told);
    EXPECT_TRUE(told.empty()) << render(text, told);
    ASSERT_FALSE(recipes.empty()) << file;
    for (std::size_t i = 0; i < recipes.size(); ++i) {
      SCOPED_TRACE(text.name + " " + piece.value.boards[i].id);
      const kernel::Measured judge = kernel::measure(recipes[i]);
      ASSERT_EQ(judge.failure, "");
      EXPECT_TRUE(judge.is_valid);
      EXPECT_EQ(judge.solids, 1u);
      const auto shape = shape_of(recipes[i]);
      ASSERT_TRUE(shape);
      EXPECT_NEAR(shape->volume.value, judge.volume, tolerance(recipes[i]) * judge.volume);
    }
  }
}

// Mass and centre of gravity of the whole, added up from what the kernel measures of each board.
TEST(KernelStarters, AgreesOnMassAndCentreOfGravity) {
  for (const auto& file : starters()) {
    const Text text = read(file);
    SCOPED_TRACE(text.name);
    const auto piece = resolve(read_piece(text).value, built_in_catalogue());
    Diagnostics told;
    const auto recipes = recipes_of(piece.value, told);
    double volume = 0, mass = 0;
    Vec3 moment = {};
    for (std::size_t i = 0; i < recipes.size(); ++i) {
      const ResolvedBoard& board = piece.value.boards[i];
      const auto& density = piece.value.stocks[static_cast<std::size_t>(board.stock)].density;
      const kernel::Measured judge = kernel::measure(recipes[i]);
      volume += judge.volume;
      if (!density) continue;
      const double kilograms = judge.volume * 1e-9 * density->value;
      mass += kilograms;
      moment += board.frame.to_world(judge.centroid) * kilograms;
    }
    const Weight weight = weight_of(piece.value, bodies_of(piece.value).value);
    EXPECT_NEAR(weight.volume.value, volume, 2e-5 * volume);
    EXPECT_NEAR(weight.mass.value, mass, 2e-5 * mass + 1e-12);
    if (mass > 0) {
      EXPECT_LT(norm(weight.centre - moment * (1 / mass)), 0.01);
    }
  }
}

}  // namespace
}  // namespace kw
