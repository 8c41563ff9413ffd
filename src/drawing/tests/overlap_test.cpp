// The judge of sheets finds what is planted, and only that.
#include "overlap.h"

#include <gtest/gtest.h>

#include "boxes.h"

namespace kw {
namespace {

Sheet paper() {
  return {.width = 100, .height = 60};
}

std::vector<OverlapKind> kinds_in(const Sheet& sheet) {
  std::vector<OverlapKind> kinds;
  for (const Overlap& o : overlaps_in(sheet)) kinds.push_back(o.kind);
  return kinds;
}

using Kinds = std::vector<OverlapKind>;

TEST(Overlaps, FindsALabelOnALabel) {
  Sheet sheet = paper();
  sheet.labels.push_back({.at = {10, 20}, .text = "29 11/16", .height = 3});
  sheet.labels.push_back({.at = {10 + 12, 20}, .text = "12", .height = 3});
  EXPECT_EQ(kinds_in(sheet), Kinds{OverlapKind::label_label});
  sheet.labels[1].at.x = 10 + text_width(sheet.labels[0]) + 0.1;
  EXPECT_TRUE(overlaps_in(sheet).empty());
}

TEST(Overlaps, FindsATurnedLabelByItsTurnedBox) {
  Sheet sheet = paper();
  sheet.labels.push_back({.at = {50, 50}, .text = "29 11/16", .height = 3, .turn = 90});
  sheet.strokes.push_back({Pen::edge, {{45, 40}, {52, 40}}, false});
  EXPECT_EQ(kinds_in(sheet), Kinds{OverlapKind::label_stroke});
  // Beside an upright label, where a level one would lie.
  sheet.strokes[0].points = {{52, 48}, {60, 48}};
  EXPECT_TRUE(overlaps_in(sheet).empty());
  // A diagonal past the corner of a label turned by 45 degrees: its level box would be hit.
  sheet.labels[0] = {.at = {50, 40}, .text = "1234567890", .height = 3, .turn = 45};
  sheet.strokes[0].points = {{50, 30}, {56, 24}};
  EXPECT_TRUE(overlaps_in(sheet).empty());
  sheet.strokes[0].points = {{50, 32}, {56, 38}};
  EXPECT_EQ(kinds_in(sheet), Kinds{OverlapKind::label_stroke});
}

TEST(Overlaps, FindsALabelOnEachPenAndOnAnArrowHead) {
  for (const Pen pen :
       {Pen::outline, Pen::edge, Pen::hidden, Pen::centre, Pen::dimension, Pen::frame, Pen::mark}) {
    Sheet sheet = paper();
    sheet.labels.push_back({.at = {50, 30}, .text = "x", .height = 3});
    sheet.strokes.push_back({pen, {{0, 29}, {100, 29}}, false});
    EXPECT_EQ(kinds_in(sheet), Kinds{OverlapKind::label_stroke}) << static_cast<int>(pen);
  }
  Sheet sheet = paper();
  sheet.labels.push_back({.at = {50, 30}, .text = "x", .height = 3});
  sheet.fills.push_back({{{50.5, 29}, {48, 28.6}, {48, 29.4}}, 0.9, false});
  EXPECT_FALSE(overlaps_in(sheet).empty());
}

TEST(Overlaps, FindsTheSideThatClosesAFigure) {
  Sheet sheet = paper();
  sheet.labels.push_back({.at = {50, 30}, .text = "x", .height = 3});
  sheet.strokes.push_back({Pen::edge, {{51, 10}, {90, 10}, {51, 50}}, true});
  EXPECT_EQ(kinds_in(sheet), Kinds{OverlapKind::label_stroke});
  sheet.strokes[0].is_closed = false;
  EXPECT_TRUE(overlaps_in(sheet).empty());
}

TEST(Overlaps, FindsWhatLeavesTheSheet) {
  Sheet sheet = paper();
  sheet.labels.push_back({.at = {95, 30}, .text = "long words", .height = 3});
  EXPECT_EQ(kinds_in(sheet), Kinds{OverlapKind::off_sheet});
  sheet.labels[0].align = Align::right;
  EXPECT_TRUE(overlaps_in(sheet).empty());
  sheet.strokes.push_back({Pen::edge, {{5, 5}, {5, 60.2}}, false});
  EXPECT_EQ(kinds_in(sheet), Kinds{OverlapKind::off_sheet});
}

TEST(Overlaps, FindsLinesDrawnTwice) {
  Sheet sheet = paper();
  sheet.strokes.push_back({Pen::edge, {{10, 10}, {50, 30}}, false});
  sheet.strokes.push_back({Pen::hidden, {{70, 40}, {40, 25}}, false});
  const auto found = doubled_lines_in(sheet);
  ASSERT_EQ(found.size(), 1U);
  EXPECT_NEAR(found[0].depth, norm(Vec2{10, 5}), 1e-9);
  sheet.strokes[1].points = {{70, 40}, {50, 30}};  // end to end
  EXPECT_TRUE(doubled_lines_in(sheet).empty());
}

TEST(Room, PutsALabelWhereItIsFree) {
  Sheet sheet = paper();
  sheet.strokes.push_back({Pen::edge, {{0, 29}, {100, 29}}, false});
  Room room(sheet);
  put_free(sheet, room, {.text = "a", .height = 3}, {{10, 30}, {20, 30}, {30, 20}, {40, 10}});
  EXPECT_EQ(sheet.labels.back().at, (Vec2{30, 20}));
  put_free(sheet, room, {.text = "a", .height = 3}, {{10, 30}, {20, 30}, {30, 20}, {40, 10}});
  EXPECT_EQ(sheet.labels.back().at, (Vec2{40, 10}));
  EXPECT_TRUE(overlaps_in(sheet).empty());
}

}  // namespace
}  // namespace kw
