// Plans of sheets against trying everything, and what must hold of any plan.
#include "kerfwright/cutting/sheets.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>
#include <sstream>

#include "sheets/one_sheet.h"
#include "sheets_draw.h"
#include "sheets_exhaustive.h"

namespace kw {
namespace {

int drawn(int from, int below) {
  return *rc::gen::inRange(from, below);
}

std::string codes_in(const Diagnostics& found) {
  std::string codes;
  for (const Diagnostic& d : found) codes += std::string(d.code) + ": " + d.message + "\n";
  return codes;
}

std::string shown(const SheetProblem& p) {
  std::ostringstream out;
  for (const SheetStock& s : p.sheets) {
    out << "sheet " << s.length.in_ticks() << "x" << s.width.in_ticks() << " price "
        << s.price.coins << " count " << s.count.value_or(-1) << "\n";
  }
  for (const SheetPart& q : p.parts) {
    out << "part " << q.length.in_ticks() << "x" << q.width.in_ticks() << " count " << q.count
        << (q.may_turn ? " turns" : "") << " worth " << q.worth << "\n";
  }
  out << "kerf " << p.kerf.in_ticks() << " stages " << static_cast<int>(p.stages) << " first "
      << static_cast<int>(p.first) << " aim " << static_cast<int>(p.aim) << "\n";
  return out.str();
}

const Effort short_effort{.seconds = 20, .work = 3'000'000};

RC_GTEST_PROP(Sheets, CostNoLessThanTryingEverything, ()) {
  const SheetProblem problem = draw_small_sheets(drawn);
  if (has_errors(validate_sheets(problem))) RC_DISCARD("a part fits nowhere");
  RC_LOG() << shown(problem);
  const auto best = best_by_trying(problem);
  const auto plan = optimise_sheets(problem, short_effort);
  RC_ASSERT(bool(plan) == best.has_value());
  if (!plan) return;
  RC_ASSERT(codes_in(verify_sheets(problem, *plan)) == "");
  RC_ASSERT(plan->bound.coins <= *best);
  RC_ASSERT(plan->cost.coins >= *best);
}

RC_GTEST_PROP(Sheets, AreWorthNoMoreThanTryingEverything, ()) {
  SheetProblem problem = draw_small_sheets(drawn);
  problem.aim = SheetAim::most_worth;
  if (has_errors(validate_sheets(problem))) RC_DISCARD("no sheet");
  RC_LOG() << shown(problem);
  const auto best = best_by_trying(problem);
  const auto plan = optimise_sheets(problem, short_effort);
  RC_ASSERT(bool(plan));
  RC_ASSERT(codes_in(verify_sheets(problem, *plan)) == "");
  RC_ASSERT(plan->worth_bound >= *best);
  RC_ASSERT(plan->worth <= *best);
  if (problem.stages == SheetStages::any) RC_ASSERT((plan->worth == *best && plan->is_proved));
}

// Worths near the area leave much to choose between, so that the multipliers alone do not settle
// it.
RC_GTEST_PROP(Sheets, AreWorthTheMostOfAllSetsOfParts, ()) {
  SheetProblem problem{.aim = SheetAim::most_worth};
  problem.kerf = Length::ticks(drawn(0, 2));
  problem.sheets.push_back({.name = "only",
                            .length = Length::ticks(drawn(8, 17)),
                            .width = Length::ticks(drawn(8, 13)),
                            .count = 1});
  for (int left = 8, name = 0; left > 0; ++name) {
    const int count = std::min(drawn(1, 4), left), l = drawn(1, 10), w = drawn(1, 8);
    left -= count;
    problem.parts.push_back({.name = std::to_string(name),
                             .length = Length::ticks(l),
                             .width = Length::ticks(w),
                             .count = count,
                             .may_turn = drawn(0, 3) == 0,
                             .worth = l * w * 10 + drawn(-6, 7)});
  }
  RC_LOG() << shown(problem);
  const auto plan = optimise_sheets(problem, {.seconds = 60, .work = 100'000'000});
  RC_ASSERT(bool(plan));
  RC_ASSERT(codes_in(verify_sheets(problem, *plan)) == "");
  RC_ASSERT(plan->is_proved);
  const std::int64_t most = most_by_sets(problem);
  RC_ASSERT(plan->worth == most);
  // Again without the greedy start, which is so good on small sheets that it hides faults.
  const cutting::sheets::Model model = cutting::sheets::model_of(problem);
  if (model.boards.empty()) return;
  std::vector<std::int64_t> worth;
  std::vector<int> counts;
  for (const auto& k : model.kinds) worth.push_back(k.worth), counts.push_back(k.count);
  const Effort effort{.seconds = 60, .work = 3'000'000'000};
  cutting::Work work(effort);
  const auto filling = cutting::sheets::OneSheet(model, 0, work)
                           .fill(worth, counts, {.rounds = drawn(10, 40)}, work);
  RC_ASSERT(filling.has_value());
  RC_ASSERT(filling->bound == most);
  RC_ASSERT(filling->worth == most);
}

RC_GTEST_PROP(Sheets, StandUpToTheJudgeAtAnyEffort, ()) {
  const SheetProblem problem = draw_sheets(drawn);
  RC_LOG() << shown(problem);
  const auto plan = optimise_sheets(problem, {.seconds = 20, .work = drawn(0, 2'000'000)});
  RC_ASSERT(bool(plan));
  RC_ASSERT(codes_in(verify_sheets(problem, *plan)) == "");
}

// Compares proved plans only, or what a bound says of a cost.
void expect_no_dearer(const SheetProblem& free, const SheetProblem& bound) {
  const auto a = optimise_sheets(free, short_effort), b = optimise_sheets(bound, short_effort);
  if (!b) return;
  RC_ASSERT(bool(a));
  RC_ASSERT(a->bound <= b->cost);
  if (a->is_proved) RC_ASSERT(a->cost <= b->cost);
}

RC_GTEST_PROP(Sheets, CostNoMoreWhereMoreIsAllowed, ()) {
  SheetProblem problem = draw_small_sheets(drawn);
  if (has_errors(validate_sheets(problem))) RC_DISCARD("a part fits nowhere");
  RC_LOG() << shown(problem);
  problem.stages = SheetStages::two;
  SheetProblem trimmed = problem, three = problem, any = problem;
  trimmed.stages = SheetStages::two_and_trim;
  three.stages = SheetStages::three;
  any.stages = SheetStages::any;
  expect_no_dearer(trimmed, problem);
  expect_no_dearer(three, trimmed);
  expect_no_dearer(any, three);
  SheetProblem turning = problem, wide = problem;
  for (SheetPart& p : turning.parts) p.may_turn = true;
  expect_no_dearer(turning, problem);
  wide.kerf += Length::ticks(1);
  if (!has_errors(validate_sheets(wide))) expect_no_dearer(problem, wide);
}

TEST(Sheets, SawABoardToStripsAndThoseToParts) {
  // Two rails of 3 1/2 by 40 and three slats of 2 1/4 by 26 out of boards 5 7/8 wide and 80 long.
  SheetProblem problem{.parts = {{.name = "rail",
                                  .length = Length::inches(39),
                                  .width = Length::inches(3.5),
                                  .count = 2},
                                 {.name = "slat",
                                  .length = Length::inches(26),
                                  .width = Length::inches(2.25),
                                  .count = 3}},
                       .sheets = {{.name = "board",
                                   .length = Length::inches(80),
                                   .width = Length::inches(5.875),
                                   .price = {700}}},
                       .kerf = Length::inches(0.125),
                       .stages = SheetStages::two,
                       .first = FirstCut::rip};
  const auto plan = optimise_sheets(problem);
  ASSERT_TRUE(plan);
  EXPECT_EQ(plan->cost.coins, 700);
  EXPECT_TRUE(plan->is_proved);
  EXPECT_EQ(codes_in(verify_sheets(problem, *plan)), "");
  problem.first =
      FirstCut::crosscut;  // blanks hold parts of one length: 39, 26 and 26 are too much
  const auto crosscut = optimise_sheets(problem);
  ASSERT_TRUE(crosscut);
  EXPECT_EQ(crosscut->cost.coins, 1'400);
  EXPECT_EQ(codes_in(verify_sheets(problem, *crosscut)), "");
}

TEST(Sheets, GiveTheSamePlanForTheSameWork) {
  const auto fixed = [](int from, int below) { return from + (below - from) * 3 / 5; };
  const SheetProblem problem = draw_sheets(fixed);
  const auto a = optimise_sheets(problem, short_effort), b = optimise_sheets(problem, short_effort);
  ASSERT_TRUE(a && b);
  ASSERT_EQ(a->sheets.size(), b->sheets.size());
  for (std::size_t s = 0; s < a->sheets.size(); ++s)
    EXPECT_EQ(a->sheets[s].pieces.size(), b->sheets[s].pieces.size());
}

TEST(Sheets, SayWhatIsWrongWithTheProblem) {
  const Length inch = Length::inches(1);
  const auto code = [](const SheetProblem& p) {
    const auto plan = optimise_sheets(p);
    return plan ? std::string() : std::string(plan.diagnostics().front().code);
  };
  const SheetStock sheet{.name = "s", .length = 10 * inch, .width = 5 * inch, .price = {1}};
  EXPECT_EQ(code({.parts = {{.length = inch, .width = Length()}}, .sheets = {sheet}}),
            "cutting.bad-number");
  EXPECT_EQ(code({.parts = {{.length = inch, .width = inch}}}), "cutting.no-stock");
  EXPECT_EQ(code({.parts = {{.length = 5 * inch, .width = 6 * inch}}, .sheets = {sheet}}),
            "cutting.too-large");
  EXPECT_EQ(code({.parts = {{.length = 5 * inch, .width = 6 * inch, .may_turn = true}},
                  .sheets = {sheet}}),
            "");
  EXPECT_EQ(code({.parts = {{.length = inch, .width = inch, .count = 10'001}}, .sheets = {sheet}}),
            "cutting.too-many");
  SheetStock once = sheet;
  once.count = 1;
  EXPECT_EQ(
      code({.parts = {{.length = 10 * inch, .width = 3 * inch, .count = 2}}, .sheets = {once}}),
      "cutting.cannot");
}

}  // namespace
}  // namespace kw
