#include "kerfwright/drawing/sheet.h"

#include <cmath>
#include <gtest/gtest.h>
#include <numeric>
#include <random>

#include "layout.h"

namespace kw {
namespace {

TEST(Svg, EscapesWhatAStrangerWrote) {
  Sheet sheet{.title = "a<b>&\"c\"", .width = 10, .height = 10};
  sheet.labels.push_back({.at = {1, 1}, .text = "</text><script>alert(1)</script>"});
  const std::string svg = to_svg(sheet);
  EXPECT_EQ(svg.find("<script>"), std::string::npos);
  EXPECT_NE(svg.find("a&lt;b&gt;&amp;&quot;c&quot;"), std::string::npos);
}

TEST(Spread, KeepsOrderRoomAndBounds) {
  std::mt19937 random(3);
  std::uniform_real_distribution<double> place(0, 100);
  for (int run = 0; run < 500; ++run) {
    std::vector<double> wanted(static_cast<std::size_t>(1 + run % 25));
    for (double& w : wanted) w = place(random);
    std::sort(wanted.begin(), wanted.end());
    const auto placed = spread(wanted, 3, 0, 100);
    ASSERT_EQ(placed.size(), wanted.size());
    for (std::size_t i = 0; i < placed.size(); ++i) {
      EXPECT_GE(placed[i], -1e-9);
      EXPECT_LE(placed[i], 100 + 1e-9);
      EXPECT_GE(placed[i] - (i > 0 ? placed[i - 1] : -3), 3 - 1e-9);
    }
  }
}

TEST(Spread, LeavesWhatHasRoomAlone) {
  const std::vector<double> wanted = {10, 20, 30};
  EXPECT_EQ(spread(wanted, 3, 0, 100), wanted);
}

TEST(TextWidth, IsTheFontsAdvance) {
  // DejaVu Sans: a digit is 1303 of 2048 units (hmtx), so 0.636 em.
  EXPECT_NEAR(text_width({.text = "0", .height = 10}), 10.0 * 1303 / 2048, 0.01);
  EXPECT_NEAR(text_width({.text = "1234", .height = 10}), 40.0 * 1303 / 2048, 0.04);
}

}  // namespace
}  // namespace kw
