#include "kerfwright/drawing/templates.h"

#include <cmath>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "overlap.h"
#include "tiles.h"

namespace kw {
namespace {

constexpr double foot = 26;  // mm of a page below its window

double total_length(const std::vector<Stroke>& strokes) {
  double sum = 0;
  for (const Stroke& s : strokes) {
    for (std::size_t i = 0; i + 1 < s.points.size(); ++i)
      sum += norm(s.points[i + 1] - s.points[i]);
    if (s.is_closed) sum += norm(s.points.front() - s.points.back());
  }
  return sum;
}

Sheet disc(double size, double radius, int corners) {
  Sheet sheet{.name = "disc", .title = "Disc", .width = size, .height = size, .is_full_size = true};
  Stroke ring{Pen::outline, {}, true};
  for (int i = 0; i < corners; ++i) {
    const double a = 2 * M_PI * i / corners;
    ring.points.push_back(Vec2{size / 2, size / 2} + Vec2{std::cos(a), std::sin(a)} * radius);
  }
  sheet.strokes.push_back(ring);
  return sheet;
}

TEST(Tiles, AnOutlineThatFitsIsOnePageWithoutAMap) {
  const auto pages = tiles_of(disc(150, 60, 90), {});
  ASSERT_EQ(pages.size(), 1U);
  EXPECT_TRUE(pages.front().is_full_size);
}

// Laid edge on edge, the pages show every line of the whole where it was, and at its size.
TEST(Tiles, PutTogetherGiveTheWholeAgain) {
  const TemplateStyle style{.page = {100, 126}, .overlap = 10, .length = {.unit = LengthUnit::mm}};
  const Sheet whole = disc(320, 150, 720);
  const auto pages = tiles_of(whole, style);
  ASSERT_GT(pages.size(), 10U);
  EXPECT_NE(pages.front().name.find("map"), std::string::npos);
  double shown = 0;
  int on_ring = 0;
  const double step = 90;
  for (std::size_t k = 1; k < pages.size(); ++k) {
    int row = -1, column = -1;
    std::string foot_text;
    for (const Label& label : pages[k].labels) foot_text += label.text + " ";
    ASSERT_EQ(
        std::sscanf(foot_text.c_str() + foot_text.find("row"), "row %d, column %d", &row, &column),
        2)
        << foot_text;
    const Vec2 low = {(column - 1) * step, (row - 1) * step};
    for (const Stroke& s : pages[k].strokes) {
      if (s.pen != Pen::outline) continue;
      for (const Vec2& p : s.points) {
        EXPECT_LE(p.y, 126 - foot + 1e-9);
        EXPECT_NEAR(norm(p + low - Vec2{160, 160}), 150, 2e-3);
        ++on_ring;
      }
    }
    // Each stretch counts in the page that has it first: above and left of the seams.
    Rect own{{column > 1 ? 10.0 : 0.0, row > 1 ? 10.0 : 0.0}, {100, 100}};
    for (const Stroke& s : pages[k].strokes) {
      if (s.pen == Pen::outline) shown += total_length(clipped(s, own));
    }
  }
  EXPECT_GT(on_ring, 700);
  EXPECT_NEAR(shown, total_length(whole.strokes), 1e-6 * shown);
}

TEST(Tiles, ShowRegistrationMarksOfASeamOnBothPages) {
  const TemplateStyle style{.page = {100, 126}, .overlap = 10, .length = {.unit = LengthUnit::mm}};
  Sheet whole = disc(190, 40, 90);
  whole.height = 90;
  for (Vec2& p : whole.strokes[0].points) p.y -= 50;
  const auto pages = tiles_of(whole, style);
  ASSERT_EQ(pages.size(), 3U);
  std::vector<Vec2> left, right;
  for (const int side : {1, 2}) {
    for (const Stroke& s : pages[static_cast<std::size_t>(side)].strokes) {
      const bool is_ring = s.pen == Pen::mark && s.points.size() == 36;
      if (is_ring) (side == 1 ? left : right).push_back((s.points[0] + s.points[18]) * 0.5);
    }
  }
  ASSERT_EQ(left.size(), 2U);
  ASSERT_EQ(right.size(), 2U);
  for (std::size_t i = 0; i < 2; ++i) {
    EXPECT_NEAR(left[i].x - 90, right[i].x, 1e-9);
    EXPECT_NEAR(left[i].y, right[i].y, 1e-9);
  }
}

// A long low sheet comes as strips, each with its ruler, that share pages and lose nothing.
TEST(Strips, SharePagesAndShowEveryLine) {
  const TemplateStyle style{.page = {180, 247}, .length = {.unit = LengthUnit::mm}};
  Sheet whole{.name = "stick", .title = "Stick", .width = 900, .height = 50, .is_full_size = true};
  for (int i = 0; i <= 44; ++i)
    whole.strokes.push_back({Pen::outline, {{10.0 + 20 * i, 10}, {10.0 + 20 * i, 40}}, false});
  const auto strips = tiles_of(whole, style);
  ASSERT_EQ(strips.size(), 7U);  // the map, and 900 mm by 168
  for (std::size_t i = 1; i < strips.size(); ++i) EXPECT_DOUBLE_EQ(strips[i].height, 50 + foot);
  const auto pages = sharing_pages(strips, style);
  EXPECT_EQ(pages.size(), 3U);
  std::size_t lines = 0;
  for (const Sheet& page : pages) {
    EXPECT_LE(page.height, style.page.y);
    EXPECT_TRUE(page.is_full_size);
    EXPECT_TRUE(overlaps_in(page).empty());
    for (const Stroke& s : page.strokes) {
      if (s.pen != Pen::outline) continue;
      EXPECT_DOUBLE_EQ(norm(s.points[1] - s.points[0]), 30);
      ++lines;
    }
  }
  EXPECT_GE(lines, 45U);  // those in an overlap stand on both strips
  EXPECT_LE(lines, 45U + 5);
}

TEST(CheckRuler, IsAHundredMillimetresAndFourInches) {
  Sheet sheet{.width = 120, .height = 30};
  add_check_ruler(sheet, {5, 15});
  double furthest_up = 0, furthest_down = 0;
  for (const Stroke& s : sheet.strokes) {
    if (s.points[0].x != s.points[1].x) continue;
    double& furthest = s.points[1].y < 15 ? furthest_up : furthest_down;
    furthest = std::max(furthest, s.points[0].x - 5);
  }
  EXPECT_DOUBLE_EQ(furthest_up, 100);
  EXPECT_NEAR(furthest_down, 101.6, 1e-9);
  EXPECT_TRUE(overlaps_in(sheet).empty());
}

TEST(Gauges, HaveTheAnglesOfTheCutList) {
  CutList list;
  Part part{.letter = "A"};
  part.ends.resize(2);
  part.ends[0].printed_swing = Angle::degrees(-27.3);
  part.ends[1].printed_tilt = Angle::degrees(12);
  list.parts = {part};
  const auto pages = angle_gauges(list, {});
  ASSERT_EQ(pages.size(), 1U);
  std::vector<double> angles;
  for (const Stroke& s : pages[0].strokes) {
    if (s.pen != Pen::outline) continue;
    const Vec2 slope = s.points[2] - s.points[1];
    angles.push_back(std::atan2(-slope.x, -slope.y) * 180 / M_PI);
  }
  ASSERT_EQ(angles.size(), 2U);
  EXPECT_NEAR(angles[0], 12, 1e-9);
  EXPECT_NEAR(angles[1], 27.3, 1e-9);
  EXPECT_TRUE(overlaps_in(pages[0]).empty());
}

}  // namespace
}  // namespace kw
