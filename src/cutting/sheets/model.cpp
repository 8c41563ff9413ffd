#include "model.h"

#include <algorithm>
#include <tuple>

namespace kw::cutting::sheets {
namespace {

Size size_of(const SheetProblem& problem, Length length, Length width) {
  return {(length + problem.kerf).in_ticks(), (width + problem.kerf).in_ticks()};
}

Kind kind_of(const SheetProblem& problem, const SheetPart& part) {
  Kind kind{.size = size_of(problem, part.length, part.width),
            .turns = part.may_turn && part.length != part.width,
            .worth = problem.aim == SheetAim::most_worth ? part.worth : 0,
            .count = part.count};
  if (kind.turns && kind.size.l < kind.size.w) kind.size = turned(kind.size);
  return kind;
}

auto order_of(const Kind& k) {
  return std::tuple(-k.size.area(), -k.size.l, k.turns, -k.worth);
}

void merge(std::vector<Kind>& kinds) {
  std::stable_sort(kinds.begin(), kinds.end(),
                   [](const Kind& a, const Kind& b) { return order_of(a) < order_of(b); });
  std::vector<Kind> merged;
  for (Kind& k : kinds) {
    if (!merged.empty() && order_of(merged.back()) == order_of(k)) {
      merged.back().count += k.count;
      merged.back().parts.push_back(k.parts.front());
    } else {
      merged.push_back(std::move(k));
    }
  }
  kinds = std::move(merged);
}

// No sheet can hold more of a kind than its area.
void clip_counts(Model& model) {
  for (Kind& k : model.kinds) {
    Wide most = 0;
    for (const Board& b : model.boards) {
      if (fits(k, b)) most = std::max(most, b.size.area() / k.size.area());
    }
    k.count = static_cast<int>(std::min<Wide>(k.count, most));
  }
}

}  // namespace

bool fits(const Kind& kind, const Board& board) {
  return board.size.holds(kind.size) || (kind.turns && board.size.holds(turned(kind.size)));
}

Model model_of(const SheetProblem& problem) {
  Model model{.kerf = problem.kerf.in_ticks(),
              .stages = problem.stages,
              .first = problem.first,
              .for_worth = problem.aim == SheetAim::most_worth};
  const SheetTrim& t = problem.trim;
  for (std::size_t s = 0; s < problem.sheets.size(); ++s) {
    const SheetStock& sheet = problem.sheets[s];
    if (sheet.length <= t.left + t.right || sheet.width <= t.lower + t.upper) continue;
    model.boards.push_back(
        {.size = size_of(problem, sheet.length - t.left - t.right, sheet.width - t.lower - t.upper),
         .price = sheet.price.coins,
         .copies = sheet.count.value_or(1'000'000),
         .sheet = static_cast<int>(s)});
  }
  for (std::size_t p = 0; p < problem.parts.size(); ++p) {
    const SheetPart& part = problem.parts[p];
    if (part.count == 0 || (model.for_worth && part.worth == 0)) continue;
    model.kinds.push_back(kind_of(problem, part));
    model.kinds.back().parts.push_back(static_cast<int>(p));
  }
  merge(model.kinds);
  std::erase_if(model.boards, [&](const Board& b) {
    return b.copies == 0 || std::none_of(model.kinds.begin(), model.kinds.end(),
                                         [&](const Kind& k) { return fits(k, b); });
  });
  if (model.for_worth) {
    clip_counts(model);
    std::erase_if(model.kinds, [](const Kind& k) { return k.count == 0; });
  }
  for (const Kind& k : model.kinds) model.parts += k.count;
  for (Board& b : model.boards) b.copies = std::min(b.copies, model.for_worth ? 1 : model.parts);
  return model;
}

}  // namespace kw::cutting::sheets
