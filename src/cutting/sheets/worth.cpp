#include "worth.h"

#include <algorithm>

#include "greedy.h"
#include "one_sheet.h"

namespace kw::cutting::sheets {
namespace {

// The dearest by area, as far as the counts go and a part of the last.
std::int64_t area_bound(const Model& model, const Board& board) {
  std::vector<const Kind*> kinds;
  for (const Kind& k : model.kinds) {
    if (fits(k, board)) kinds.push_back(&k);
  }
  std::sort(kinds.begin(), kinds.end(), [](const Kind* a, const Kind* b) {
    return a->worth * b->size.area() > b->worth * a->size.area();
  });
  Wide left = board.size.area(), worth = 0;
  for (const Kind* k : kinds) {
    const Wide whole = std::min<Wide>(k->count, left / k->size.area());
    worth += whole * k->worth;
    left -= whole * k->size.area();
    if (whole == k->count) continue;
    worth += left * k->worth / k->size.area();
    break;
  }
  return static_cast<std::int64_t>(worth);
}

std::int64_t worth_of(const Model& model, const Pattern& pattern) {
  std::int64_t worth = 0;
  for (const Node& n : pattern.nodes) {
    if (n.kind >= 0) worth += model.kinds[static_cast<std::size_t>(n.kind)].worth;
  }
  return worth;
}

// Dear parts first, disturbed anew each time.
std::vector<int> drawn_order(const Model& model, double noise, Random& random) {
  std::vector<double> keys;
  for (const Kind& k : model.kinds) {
    keys.push_back(static_cast<double>(k.worth) / static_cast<double>(k.size.area()) *
                   random.between(1 - noise, 1));
  }
  std::vector<int> kinds;
  for (std::size_t k = 0; k < model.kinds.size(); ++k)
    kinds.insert(kinds.end(), static_cast<std::size_t>(model.kinds[k].count), static_cast<int>(k));
  std::sort(kinds.begin(), kinds.end(), [&](int a, int b) {
    const double x = keys[static_cast<std::size_t>(a)], y = keys[static_cast<std::size_t>(b)];
    return x != y ? x > y : a < b;
  });
  return kinds;
}

constexpr int tries = 300;

void try_greedy(const Model& model, Random& random, Work& work, BestSheet& best) {
  for (int t = 0; t < tries && best.worth < best.bound && (t == 0 || !work.is_over()); ++t) {
    for (std::size_t b = 0; b < model.boards.size(); ++b) {
      Layout layout = empty_layout(model);
      for (std::size_t o = 0; o < layout.copies.size(); ++o) layout.copies[o] = o == b ? 1 : 0;
      const Rules rules{.fit = static_cast<Rules::Fit>(random.under(3)),
                        .split = static_cast<Rules::Split>(random.under(4))};
      put(model, drawn_order(model, random.between(0, 0.8), random), rules, layout, work);
      if (layout.sheets.empty()) continue;
      const std::int64_t worth = worth_of(model, layout.sheets[0].pattern);
      if (worth <= best.worth) continue;
      best.worth = worth;
      best.pattern = std::move(layout.sheets[0].pattern);
      work.report(best.worth, best.bound);
    }
  }
}

// Board after board, each to be worth more than the best of those before.
void fill_boards(const Model& model, Work& work, BestSheet& best) {
  std::vector<std::int64_t> worth;
  std::vector<int> counts;
  for (const Kind& k : model.kinds) worth.push_back(k.worth), counts.push_back(k.count);
  std::int64_t bound = best.worth;
  for (std::size_t b = 0; b < model.boards.size(); ++b) {
    const std::int64_t by_area = area_bound(model, model.boards[b]);
    if (by_area <= best.worth) continue;
    OneSheet sheet(model, static_cast<int>(b), work);
    std::optional<Filling> filling;
    if (sheet.has_grid() && !work.is_over())
      filling = sheet.fill(worth, counts, {.known = best.worth}, work);
    bound = std::max(bound, filling ? std::min(filling->bound, by_area) : by_area);
    if (!filling || filling->blocks.root < 0 || model.stages != SheetStages::any) continue;
    best.worth = filling->worth;
    best.pattern = pattern_of(model, static_cast<int>(b), filling->blocks);
    work.report(best.worth, std::max(best.bound, best.worth));
  }
  best.bound = std::min(best.bound, std::max(bound, best.worth));
}

}  // namespace

BestSheet best_sheet(const Model& model, std::uint64_t seed, Work& work) {
  BestSheet best;
  for (const Board& b : model.boards) best.bound = std::max(best.bound, area_bound(model, b));
  Random random(seed);
  try_greedy(model, random, work, best);
  if (best.worth < best.bound) fill_boards(model, work, best);
  return best;
}

}  // namespace kw::cutting::sheets
