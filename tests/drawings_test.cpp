// Every sheet of every starter and of hundreds of random parts, read by the judge of overlaps.
#include <gtest/gtest.h>

#include "kerfwright/drawing/templates.h"
#include "kerfwright/planbook/lists.h"
#include "kerfwright/planbook/steps.h"
#include "kerfwright/workbench/recompute.h"

#include "bench_piece.h"
#include "overlap.h"
#include "random_part.h"
#include "starters.h"

namespace kw {
namespace {

Snapshot closed(const Text& text, LengthUnit unit) {
  ShapeCache cache;
  Snapshot snapshot = recompute(text, built_in_catalogue(), cache, {}, unit);
  static_cast<void>(close_up(snapshot.piece, snapshot.bodies, snapshot.cut_list));
  return snapshot;
}

void expect_clear(const Sheet& sheet, const std::string& of) {
  for (const Overlap& o : overlaps_in(sheet)) {
    ADD_FAILURE() << of << ", " << sheet.name << ": " << o.what << " by " << o.depth << " mm at "
                  << o.at.x << ", " << o.at.y;
  }
  for (const Overlap& o : doubled_lines_in(sheet)) {
    ADD_FAILURE() << of << ", " << sheet.name << ": " << o.what << " over " << o.depth << " mm at "
                  << o.at.x << ", " << o.at.y;
  }
}

std::vector<Sheet> part_sheets(const Snapshot& s, const SheetStyle& style) {
  std::vector<Sheet> sheets;
  for (std::size_t i = 0; i < s.cut_list.parts.size(); ++i)
    sheets.push_back(part_sheet(s.piece, s.bodies, s.cut_list, static_cast<int>(i), style));
  return sheets;
}

class Drawings : public testing::TestWithParam<std::tuple<std::string, LengthUnit>> {};

TEST_P(Drawings, LetNothingLieOnAnything) {
  const auto& [name, unit] = GetParam();
  const Snapshot s = closed(test::starter(name), unit);
  for (const double width : {90.0, 130.0, 180.0, 250.0}) {
    const SheetStyle style{.width = width, .tallest = width * 1.35, .length = {.unit = unit}};
    for (const Sheet& sheet : part_sheets(s, style)) expect_clear(sheet, name);
    expect_clear(overall_sheet(s.piece, s.bodies, s.cut_list, style), name);
    expect_clear(elevations_sheet(s.piece, s.bodies, s.cut_list, style), name);
  }
}

TEST_P(Drawings, OfTemplatesLetNothingLieOnAnything) {
  const auto& [name, unit] = GetParam();
  const Snapshot s = closed(test::starter(name), unit);
  for (const Vec2 page : {Vec2{180, 267}, Vec2{185.9, 249.4}}) {
    const TemplateStyle style{.page = page, .length = {.unit = unit}};
    for (const Sheet& sheet : templates_of(s.piece, s.bodies, s.cut_list, style)) {
      EXPECT_TRUE(sheet.is_full_size || sheet.name.ends_with("map")) << sheet.name;
      EXPECT_LE(sheet.width, page.x);
      EXPECT_LE(sheet.height, page.y + 1e-9) << sheet.name;
      expect_clear(sheet, name);
    }
  }
}

TEST_P(Drawings, OfStepsLetNothingLieOnAnything) {
  const auto& [name, unit] = GetParam();
  Snapshot s = closed(test::starter(name), unit);
  const ShopPlan plan = plan_of(s, {.seconds = 0.2});
  const PlanData data = data_of(s, plan);
  for (const double width : {120.0, 180.0, 250.0}) {
    const SheetStyle style{.width = width, .tallest = width * 0.5, .length = {.unit = unit}};
    for (const ToldStep& step : steps_of(data, style.length))
      expect_clear(step_sheet(s.bodies, s.cut_list, step.picture, style), name);
  }
}

TEST_P(Drawings, OfSectionsLetNothingLieOnAnything) {
  const auto& [name, unit] = GetParam();
  Snapshot s = closed(test::starter(name), unit);
  for (const double width : {120.0, 180.0, 250.0}) {
    const SheetStyle style{.width = width, .tallest = width * 0.6, .length = {.unit = unit}};
    const auto sheet = section_sheet(s.piece, s.bodies, s.cut_list, style);
    if (!sheet) GTEST_SKIP() << "nothing inside to show";
    expect_clear(*sheet, name);
  }
}

TEST_P(Drawings, OfSawingLetNothingLieOnAnything) {
  const auto& [name, unit] = GetParam();
  Snapshot s = closed(test::starter(name), unit);
  const ShopPlan plan = plan_of(s, {.seconds = 0.2});
  const Job job = job_of(s.piece, s.cut_list);
  int judged = 0;
  for (const double width : {120.0, 180.0, 250.0}) {
    const SheetStyle style{.width = width, .tallest = width * 1.3, .length = {.unit = unit}};
    for (const StockPlan& one : plan.sawing.plans) {
      for (const Sheet& sheet : sawing_sheets(job, one, proof_text(job, one), style)) {
        expect_clear(sheet, name);
        ++judged;
      }
    }
    for (const SheetStockPlan& one : plan.sawing.sheets) {
      for (const Sheet& sheet : sheet_sheets(job, one, proof_text(job, one), style)) {
        expect_clear(sheet, name);
        ++judged;
      }
    }
  }
  EXPECT_GT(judged, 0);
}

INSTANTIATE_TEST_SUITE_P(Starters, Drawings,
                         testing::Combine(testing::ValuesIn(test::starters()),
                                          testing::Values(LengthUnit::inch, LengthUnit::mm)));

TEST(RandomParts, HaveSheetsOnWhichNothingLiesOnAnything) {
  int judged = 0;
  int with_notches = 0;
  int with_holes = 0;
  for (unsigned seed = 1; seed <= 300; ++seed) {
    const LengthUnit unit = seed % 2 == 0 ? LengthUnit::inch : LengthUnit::mm;
    Snapshot s = closed({"part.toml", test::head() + test::RandomPart(seed).text()}, unit);
    const double width = 90 + 10 * (seed % 12);
    const SheetStyle style{.width = width, .tallest = width * 1.3, .length = {.unit = unit}};
    for (const Sheet& sheet : part_sheets(s, style)) {
      expect_clear(sheet, "seed " + std::to_string(seed));
      ++judged;
    }
    for (const Part& part : s.cut_list.parts) {
      with_notches += part.marks.empty() ? 0 : 1;
      with_holes += part.holes.empty() ? 0 : 1;
    }
  }
  EXPECT_GE(judged, 300);
  EXPECT_GE(with_notches, 100);
  EXPECT_GE(with_holes, 100);
}

}  // namespace
}  // namespace kw
