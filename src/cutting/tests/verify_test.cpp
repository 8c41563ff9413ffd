// Each fault that a plan can have, planted in a plan that has none.
#include <functional>
#include <gtest/gtest.h>

#include "kerfwright/cutting/problem.h"

namespace kw {
namespace {

// Two sticks of 100 in, one of 60; two legs of 40, and three braces of 30 with ends at 45 degrees.
Problem problem() {
  return {.demands = {{.name = "leg", .length = Length::inches(40), .count = 2, .may_turn = false},
                      {.name = "brace",
                       .length = Length::inches(30),
                       .count = 3,
                       .left_slope = 1,
                       .right_slope = 1,
                       .may_flip = false}},
          .stocks = {{.name = "long", .length = Length::inches(100), .price = {700}, .count = 2},
                     {.name = "short", .length = Length::inches(60), .price = {500}}},
          .saw = {.kerf = Length::inches(0.25), .end_trim = Length::inches(1)},
          .width = Length::inches(4)};
}

// Laid by hand. A cut at 45 degrees takes 1/4 in * sqrt 2 along the stick, 179,605,122.4 ticks; its
// tip stands out by 2 in.
Plan plan() {
  const Length tip = Length::inches(2), slant = Length::ticks(179'605'123);
  const Length first = Length::inches(1) + tip, step = Length::inches(30) + slant;
  Plan p;
  p.sticks.push_back({.stock = 0,
                      .parts = {{.demand = 1, .from = first},
                                {.demand = 1, .from = first + step},
                                {.demand = 1, .from = first + 2 * step}},
                      .offcut = Length::inches(99) - first - 3 * step - tip});
  p.sticks.push_back({.stock = 0,
                      .parts = {{.demand = 0, .from = Length::inches(1)},
                                {.demand = 0, .from = Length::inches(41.25)}},
                      .offcut = Length::inches(17.5)});
  p.cost = {1'400};
  p.bound = {1'200};
  return p;
}

std::string codes_of(const Plan& p) {
  std::string codes;
  for (const Diagnostic& d : verify(problem(), p)) codes += std::string(d.code) + " ";
  return codes;
}

TEST(Verify, AcceptsAPlanLaidByHand) {
  EXPECT_EQ(codes_of(plan()), "");
}

struct Fault {
  std::string name = {}, code = {};
  std::function<void(Plan&)> plant = {};
};

void PrintTo(const Fault& fault, std::ostream* out) {
  *out << fault.name;
}

class VerifyRejects : public testing::TestWithParam<Fault> {};

TEST_P(VerifyRejects, EachPlantedFault) {
  Plan p = plan();
  GetParam().plant(p);
  EXPECT_EQ(codes_of(p), GetParam().code + " ");
}

const Length hair = Length::ticks(1);

const std::vector<Fault> faults = {
    {"NoSuchStock", "cutting.plan-stick cutting.plan-count cutting.plan-cost",
     [](Plan& p) { p.sticks[1].stock = 2; }},
    {"NegativeStock", "cutting.plan-stick cutting.plan-count cutting.plan-cost",
     [](Plan& p) { p.sticks[1].stock = -1; }},
    {"EmptyStick", "cutting.plan-stick",
     [](Plan& p) { p.sticks.push_back({.stock = 1}), p.cost = {1'900}; }},
    {"MoreThanThereAre", "cutting.plan-stick cutting.plan-count",
     [](Plan& p) { p.sticks.push_back(p.sticks[1]), p.cost = {2'100}; }},
    {"NoSuchPart", "cutting.plan-count cutting.plan-count",
     [](Plan& p) { p.sticks[1].parts[1].demand = 7; }},
    {"MissingPart", "cutting.plan-offcut cutting.plan-count",
     [](Plan& p) { p.sticks[1].parts.pop_back(); }},
    {"PartOnPart", "cutting.plan-overlap",
     [](Plan& p) { p.sticks[0].parts[1].from = p.sticks[0].parts[0].from; }},
    {"KerfShortByATick", "cutting.plan-overlap",
     [](Plan& p) {
       p.sticks[1].parts[1].from -= hair;
       p.sticks[1].offcut += hair;
     }},
    {"AngledKerfTakenAsSquare", "cutting.plan-overlap",
     [](Plan& p) { p.sticks[0].parts[1].from -= Length::inches(0.1); }},
    {"RightToLeft", "cutting.plan-offcut cutting.plan-overlap",
     [](Plan& p) { std::swap(p.sticks[1].parts[0], p.sticks[1].parts[1]); }},
    {"InTheLeftTrim", "cutting.plan-outside", [](Plan& p) { p.sticks[1].parts[0].from -= hair; }},
    {"TipInTheLeftTrim", "cutting.plan-outside",
     [](Plan& p) { p.sticks[0].parts[0].from -= Length::inches(0.01); }},
    {"InTheRightTrim", "cutting.plan-outside cutting.plan-offcut",
     [](Plan& p) { p.sticks[1].parts[1].from = Length::inches(59) + hair; }},
    {"StickTooShort", "cutting.plan-outside cutting.plan-offcut cutting.plan-cost",
     [](Plan& p) { p.sticks[1].stock = 1; }},
    {"FlippedThoughItMayNot", "cutting.plan-lie cutting.plan-overlap cutting.plan-overlap",
     [](Plan& p) { p.sticks[0].parts[1].flipped = true; }},
    {"OffcutATickTooLong", "cutting.plan-offcut", [](Plan& p) { p.sticks[1].offcut += hair; }},
    {"OffcutTooShort", "cutting.plan-offcut",
     [](Plan& p) { p.sticks[1].offcut -= Length::ticks(3); }},
    {"CostTooLow", "cutting.plan-cost", [](Plan& p) { p.cost = {1'399}; }},
    {"BoundAboveTheCost", "cutting.plan-bound", [](Plan& p) { p.bound = {1'401}; }},
    {"ProofWithoutABound", "cutting.plan-bound", [](Plan& p) { p.is_proved = true; }},
    {"BoundWithoutItsProof", "cutting.plan-bound", [](Plan& p) { p.bound = p.cost; }},
};

INSTANTIATE_TEST_SUITE_P(Planted, VerifyRejects, testing::ValuesIn(faults),
                         [](const auto& fault) { return fault.param.name; });

// A square part looks the same either way up, so a flip that changes nothing is no fault.
TEST(Verify, TakesTheTurnOfASquarePartForWhatItIs) {
  Plan p = plan();
  p.sticks[1].parts[0].turned = true;
  EXPECT_EQ(codes_of(p), "");
}

// A fault from 20 to 22 in, and one that is thinner than the saw's kerf at 40 in.
TEST(Verify, KeepsPartsOutOfFaults) {
  const Length inch = Length::inches(1), kerf = Length::inches(0.125);
  Problem p{.demands = {{.name = "a", .length = 10 * inch, .count = 2}},
            .stocks = {{.name = "s", .length = 60 * inch, .price = {5}}},
            .saw = {.kerf = kerf}};
  p.stocks[0].faults = {{20 * inch, 2 * inch}, {40 * inch, hair}};
  const auto codes = [&](Length first, Length second) {
    const Length behind = std::max(second + 10 * inch + kerf, 40 * inch + kerf);
    const Plan plan{
        .sticks = {{.parts = {{.from = first}, {.from = second}}, .offcut = 60 * inch - behind}},
        .cost = {5},
        .bound = {5},
        .is_proved = true};
    std::string all;
    for (const Diagnostic& d : verify(p, plan)) all += std::string(d.code) + " ";
    return all;
  };
  EXPECT_EQ(codes(10 * inch, 22 * inch), "");
  EXPECT_EQ(codes(10 * inch, 30 * inch), "");
  EXPECT_EQ(codes(10 * inch, 40 * inch + kerf), "");
  EXPECT_EQ(codes(10 * inch + hair, 22 * inch), "cutting.plan-fault ");
  EXPECT_EQ(codes(10 * inch, 22 * inch - hair), "cutting.plan-fault ");
  EXPECT_EQ(codes(10 * inch, 30 * inch + hair), "cutting.plan-fault ");
  EXPECT_EQ(codes(10 * inch, 40 * inch + kerf - hair), "cutting.plan-fault ");
  EXPECT_EQ(codes(16 * inch, 30 * inch), "cutting.plan-fault ");
}

TEST(Verify, SaysFirstWhatIsWrongWithTheProblem) {
  const Diagnostics found = verify({.saw = {.kerf = Length::inches(-1)}}, plan());
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found.front().code, "cutting.bad-number");
}

}  // namespace
}  // namespace kw
