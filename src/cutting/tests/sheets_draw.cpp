#include "sheets_draw.h"

#include <algorithm>

namespace kw {
namespace {

void draw_rule(const Draw& draw, SheetProblem& problem) {
  problem.stages = static_cast<SheetStages>(draw(0, 4));
  problem.first = static_cast<FirstCut>(draw(0, 3));
}

}  // namespace

SheetProblem draw_small_sheets(const Draw& draw) {
  SheetProblem problem;
  draw_rule(draw, problem);
  problem.kerf = Length::ticks(draw(0, 3));
  const int length = draw(6, 12), width = draw(4, 10);
  problem.sheets.push_back({.name = "large",
                            .length = Length::ticks(length),
                            .width = Length::ticks(width),
                            .price = {draw(3, 9)}});
  if (draw(0, 2) == 0) {
    problem.sheets.push_back({.name = "small",
                              .length = Length::ticks(draw(2, length + 1)),
                              .width = Length::ticks(draw(2, width + 1)),
                              .price = {draw(0, 6)},
                              .count = draw(0, 4)});
  }
  if (draw(0, 3) == 0) {
    problem.trim = {.left = Length::ticks(1), .upper = Length::ticks(draw(0, 2))};
    problem.sheets[0].length += Length::ticks(1);
    problem.sheets[0].width += problem.trim.upper;
  }
  for (int left = draw(1, 6), name = 0; left > 0; ++name) {
    const int count = std::min(draw(1, 4), left);
    left -= count;
    problem.parts.push_back({.name = std::to_string(name),
                             .length = Length::ticks(draw(1, length + 1)),
                             .width = Length::ticks(draw(1, width + 1)),
                             .count = count,
                             .may_turn = draw(0, 2) == 0,
                             .worth = draw(0, 20)});
  }
  return problem;
}

SheetProblem draw_sheets(const Draw& draw) {
  SheetProblem problem;
  draw_rule(draw, problem);
  problem.kerf = Length::ticks(Length::ticks_per_inch / 16 * draw(0, 4));
  const auto inches = [&](int from, int below) {
    return Length::ticks(Length::ticks_per_inch / 8 * draw(from * 8, below * 8));
  };
  problem.sheets.push_back({.name = "full",
                            .length = Length::inches(96),
                            .width = Length::inches(48),
                            .price = {5'400}});
  if (draw(0, 2) == 0) {
    problem.sheets.push_back({.name = "half",
                              .length = Length::inches(48),
                              .width = Length::inches(48),
                              .price = {3'100}});
  }
  const int kinds = draw(1, 20);
  for (int k = 0; k < kinds; ++k) {
    problem.parts.push_back({.name = std::to_string(k),
                             .length = inches(4, 60),
                             .width = inches(2, 40),
                             .count = draw(1, 6),
                             .may_turn = draw(0, 2) == 0,
                             .worth = draw(0, 1'000)});
  }
  return problem;
}

}  // namespace kw
