// Each fault that a sheet plan can have, planted in a plan that has none.
#include <functional>
#include <gtest/gtest.h>

#include "kerfwright/cutting/sheets.h"

namespace kw {
namespace {

Length in(double inches) {
  return Length::inches(inches);
}

// A sheet of 20 by 11 trimmed to 18 by 10: ripped at 4; the lower strip crosscut at 8 and the rest
// trimmed to a second shelf; the upper one holds a back that lies turned.
SheetProblem problem() {
  return {.parts =
              {{.name = "shelf", .length = in(8), .width = in(4), .count = 2},
               {.name = "back", .length = in(5.75), .width = in(12), .count = 1, .may_turn = true}},
          .sheets = {{.name = "ply", .length = in(20), .width = in(11), .price = {900}, .count = 1},
                     {.name = "small", .length = in(9), .width = in(9), .price = {300}}},
          .kerf = in(0.25),
          .trim = {.left = in(1), .right = in(1), .lower = in(1)},
          .stages = SheetStages::two,
          .first = FirstCut::rip};
}

using Use = SheetPiece::Use;

SheetPiece cut(Length x, Length y, Length l, Length w, SheetCut way, Length at, int below,
               int beyond) {
  return {.x = x,
          .y = y,
          .length = l,
          .width = w,
          .use = Use::cut,
          .way = way,
          .at = at,
          .below = below,
          .beyond = beyond};
}

SheetPlan plan() {
  const SheetCut rip = SheetCut::rip, across = SheetCut::crosscut;
  SawnSheet s;
  s.pieces = {
      cut(in(1), in(1), in(18), in(10), rip, in(4), 1, 2),
      cut(in(1), in(1), in(18), in(4), across, in(8), 3, 4),
      cut(in(1), in(5.25), in(18), in(5.75), across, in(12), 7, 8),
      {.x = in(1), .y = in(1), .length = in(8), .width = in(4), .use = Use::part, .part = 0},
      cut(in(9.25), in(1), in(9.75), in(4), across, in(8), 5, 6),
      {.x = in(9.25), .y = in(1), .length = in(8), .width = in(4), .use = Use::part, .part = 0},
      {.x = in(17.5), .y = in(1), .length = in(1.5), .width = in(4)},
      {.x = in(1),
       .y = in(5.25),
       .length = in(12),
       .width = in(5.75),
       .use = Use::part,
       .part = 1,
       .turned = true},
      {.x = in(13.25), .y = in(5.25), .length = in(5.75), .width = in(5.75)}};
  return {.sheets = {s}, .cost = {900}, .bound = {600}};
}

std::string codes_of(const SheetProblem& q, const SheetPlan& p) {
  std::string codes;
  for (const Diagnostic& d : verify_sheets(q, p)) codes += std::string(d.code) + " ";
  return codes;
}

TEST(VerifySheets, AcceptsAPlanLaidByHand) {
  EXPECT_EQ(codes_of(problem(), plan()), "");
}

struct Fault {
  std::string name = {}, codes = {};
  std::function<void(SheetProblem&, SheetPlan&)> plant = {};
};

void PrintTo(const Fault& fault, std::ostream* out) {
  *out << fault.name;
}

class VerifySheetsRejects : public testing::TestWithParam<Fault> {};

TEST_P(VerifySheetsRejects, EachPlantedFault) {
  SheetProblem q = problem();
  SheetPlan p = plan();
  GetParam().plant(q, p);
  EXPECT_EQ(codes_of(q, p), GetParam().codes + " ");
}

std::vector<SheetPiece>& pieces(SheetPlan& p) {
  return p.sheets[0].pieces;
}

const std::string uncounted = " cutting.sheet-count cutting.sheet-count";

const std::vector<Fault> faults = {
    {"NoSuchSheet", "cutting.sheet-stock" + uncounted + " cutting.sheet-cost",
     [](auto&, SheetPlan& p) { p.sheets[0].sheet = 2; }},
    {"MoreThanThereAre", "cutting.sheet-stock" + uncounted,
     [](auto&, SheetPlan& p) { p.sheets.push_back(p.sheets[0]), p.cost = {1'800}; }},
    {"EmptySheet", "cutting.sheet-stock",
     [](auto&, SheetPlan& p) {
       p.sheets.push_back(
           {.sheet = 1, .pieces = {{.x = in(1), .y = in(1), .length = in(7), .width = in(8)}}});
       p.cost = {1'200};
     }},
    {"UntrimmedSheet", "cutting.sheet-cut cutting.sheet-tree cutting.sheet-stock" + uncounted,
     [](auto&, SheetPlan& p) { pieces(p)[0].length += in(1); }},
    {"KerfForgotten", "cutting.sheet-cut",
     [](auto&, SheetPlan& p) { pieces(p)[8].x -= in(0.25), pieces(p)[8].length += in(0.25); }},
    {"PartTooShort", "cutting.sheet-part",
     [](SheetProblem& q, auto&) { q.parts[1].width += Length::ticks(1); }},
    {"AcrossTheGrain", "cutting.sheet-part cutting.sheet-part",
     [](SheetProblem& q, SheetPlan& p) {
       std::swap(q.parts[0].length, q.parts[0].width);
       pieces(p)[3].turned = pieces(p)[5].turned = true;
     }},
    {"CutOutside", "cutting.sheet-cut cutting.sheet-tree cutting.sheet-count",
     [](auto&, SheetPlan& p) { pieces(p)[2].at = in(18); }},
    {"PieceTwice", "cutting.sheet-cut", [](auto&, SheetPlan& p) { pieces(p)[2].beyond = 6; }},
    {"Loop", "cutting.sheet-cut", [](auto&, SheetPlan& p) { pieces(p)[2].beyond = 2; }},
    {"NoSuchPiece", "cutting.sheet-tree" + uncounted,
     [](auto&, SheetPlan& p) { pieces(p)[0].beyond = 90; }},
    {"RestLost", "cutting.sheet-tree cutting.sheet-tree",
     [](auto&, SheetPlan& p) { pieces(p)[2].beyond = -1; }},
    {"NoSuchPart", "cutting.sheet-count cutting.sheet-count",
     [](auto&, SheetPlan& p) { pieces(p)[7].part = 9; }},
    {"PartMissing", "cutting.sheet-count", [](SheetProblem& q, auto&) { q.parts[0].count = 3; }},
    {"FirstCutTheOtherWay", "cutting.sheet-stages",
     [](SheetProblem& q, auto&) { q.first = FirstCut::crosscut; }},
    {"CostTooLow", "cutting.sheet-cost", [](auto&, SheetPlan& p) { p.cost = {899}; }},
    {"BoundAboveTheCost", "cutting.sheet-bound", [](auto&, SheetPlan& p) { p.bound = {901}; }},
    {"ProofWithoutABound", "cutting.sheet-bound", [](auto&, SheetPlan& p) { p.is_proved = true; }},
};

INSTANTIATE_TEST_SUITE_P(Planted, VerifySheetsRejects, testing::ValuesIn(faults),
                         [](const auto& fault) { return fault.param.name; });

// The second shelf narrower than its strip needs a third stage, which only trims.
TEST(VerifySheets, CountsTheStages) {
  SheetProblem q = problem();
  q.parts = {{.name = "shelf", .length = in(8), .width = in(4)},
             {.name = "lath", .length = in(8), .width = in(2)},
             {.name = "back", .length = in(12), .width = in(5.75)}};
  SheetPlan p = plan();
  pieces(p)[7].part = 2;
  pieces(p)[7].turned = false;
  const SheetPiece strip = pieces(p)[5];
  pieces(p)[5] = cut(strip.x, strip.y, strip.length, strip.width, SheetCut::rip, in(2), 9, 10);
  pieces(p).push_back(
      {.x = strip.x, .y = strip.y, .length = in(8), .width = in(2), .use = Use::part, .part = 1});
  pieces(p).push_back({.x = strip.x, .y = strip.y + in(2.25), .length = in(8), .width = in(1.75)});
  EXPECT_EQ(codes_of(q, p), "cutting.sheet-stages ");
  for (const SheetStages s : {SheetStages::two_and_trim, SheetStages::three, SheetStages::any}) {
    q.stages = s;
    EXPECT_EQ(codes_of(q, p), "");
  }
  q.stages = SheetStages::two_and_trim;
  q.parts.push_back({.name = "thin", .length = in(8), .width = in(1.75)});
  pieces(p)[10].use = Use::part;
  pieces(p)[10].part = 3;
  EXPECT_EQ(codes_of(q, p), "cutting.sheet-stages ");
  q.stages = SheetStages::three;
  EXPECT_EQ(codes_of(q, p), "");
}

TEST(VerifySheets, CountsOnlyOneSheetForTheMostWorth) {
  SheetProblem q = problem();
  q.aim = SheetAim::most_worth;
  q.parts[0].worth = 5;
  q.parts[0].count = 7;
  SheetPlan p = plan();
  p.worth = 10;
  p.worth_bound = 12;
  EXPECT_EQ(codes_of(q, p), "");
  p.worth = 11;
  EXPECT_EQ(codes_of(q, p), "cutting.sheet-cost ");
  p.worth = 10;
  p.worth_bound = 9;
  EXPECT_EQ(codes_of(q, p), "cutting.sheet-bound ");
}

}  // namespace
}  // namespace kw
