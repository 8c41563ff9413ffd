#include "bound.h"

#include <algorithm>
#include <limits>
#include <numeric>
#include <vector>

#include "knapsack.h"
#include "program/safe_bound.h"

namespace kw::cutting {
namespace {

using Values = std::vector<std::int64_t>;  // by kind, or by bar

constexpr std::int64_t finest = 1 << 24;      // of a scaled length; keeps every product in 64 bits
constexpr std::int64_t work_limit = 1 << 27;  // cell updates spent on valuations
constexpr std::int64_t ask_every = 1 << 22;   // cell updates
constexpr std::int64_t most_coin_cells = 65'536;  // of the table over money
constexpr std::size_t most_references = 8, most_thresholds = 64;

// At most `most` of a sorted list, evenly spread.
Values spread(const Values& all, std::size_t most) {
  if (all.size() <= most) return all;
  Values some;
  for (std::size_t i = 0; i < most; ++i) some.push_back(all[i * all.size() / most]);
  return some;
}

Values distinct_sizes(const Model& model) {
  Values sizes;
  for (const Kind& kind : model.kinds) sizes.push_back(kind.size);
  std::sort(sizes.begin(), sizes.end());
  sizes.erase(std::unique(sizes.begin(), sizes.end()), sizes.end());
  return sizes;
}

Values distinct_capacities(const Model& model) {
  Values capacities;
  for (const Bar& bar : model.bars) capacities.push_back(bar.capacity);
  std::sort(capacities.begin(), capacities.end());
  capacities.erase(std::unique(capacities.begin(), capacities.end()), capacities.end());
  return capacities;
}

// A part is worth its length; where it is nearly all of a bar (more than `whole - threshold`) it is
// worth the bar, and what is under the threshold is worth nothing.
Values by_length(const Model& model, std::int64_t whole, std::int64_t threshold) {
  const std::int64_t longest = model.bars.front().capacity;
  const std::int64_t unit = std::max(model.divisor, longest / finest + 1);
  Values values;
  for (const Kind& kind : model.kinds) {
    const bool is_nearly_all = kind.size > whole - threshold && kind.size <= whole;
    const std::int64_t worth = is_nearly_all ? whole : kind.size < threshold ? 0 : kind.size;
    values.push_back(worth / unit);
  }
  return values;
}

// A part is worth how many thresholds it displaces in a bar (twice that, to stay whole).
Values by_share(const Model& model, std::int64_t whole, std::int64_t threshold) {
  Values values;
  for (const Kind& kind : model.kinds) {
    const std::int64_t size = std::min(kind.size, whole);
    if (2 * size > whole) {
      values.push_back(2 * (whole / threshold - (whole - size) / threshold));
    } else if (2 * size == whole) {
      values.push_back(whole / threshold);
    } else {
      values.push_back(2 * (size / threshold));
    }
  }
  return values;
}

Values by_count(const Model& model, std::int64_t threshold) {
  Values values;
  for (const Kind& kind : model.kinds) values.push_back(kind.size >= threshold ? 1 : 0);
  return values;
}

// A part is worth its length at the best price a length among the bars that can hold it: no bar can
// then hold more than it costs.
Values by_rate(const Model& model) {
  std::vector<double> rates;
  double highest = 0;
  for (const Kind& kind : model.kinds) {
    double least = std::numeric_limits<double>::max();
    for (const Bar& bar : model.bars) {
      const auto capacity = static_cast<double>(bar.capacity);
      if (kind.size <= bar.capacity) {
        least = std::min(least, static_cast<double>(bar.price) / capacity);
      }
    }
    rates.push_back(least * static_cast<double>(kind.size));
    highest = std::max(highest, rates.back());
  }
  Values values;
  for (const double rate : rates) {
    values.push_back(highest > 0 ? static_cast<std::int64_t>(rate / highest * finest) : 0);
  }
  return values;
}

// Ways to value the parts. Each gives a valid bound, whatever the values; these are known to be
// good.
std::vector<Values> valuations_of(const Model& model) {
  const Values sizes = distinct_sizes(model);
  std::vector<Values> all = {by_length(model, model.bars.front().capacity, 0), by_rate(model)};
  for (const std::int64_t t : spread(sizes, most_thresholds)) all.push_back(by_count(model, t));
  for (const std::int64_t whole : spread(distinct_capacities(model), most_references)) {
    Values small = sizes;
    std::erase_if(small, [&](std::int64_t s) { return 2 * s > whole || s < 1; });
    for (const std::int64_t t : spread(small, most_thresholds)) {
      all.push_back(by_length(model, whole, t));
      all.push_back(by_share(model, whole, t));
    }
  }
  return all;
}

// The most that one stick of each bar can hold of a valuation.
struct Holding {
  Values of_bar = {};
  std::int64_t demand = 0;  // what all parts together are worth
  std::int64_t work = 0;
};

Holding holding_of(const Model& model, const Values& values) {
  Holding holding;
  std::vector<Choice> choices;
  double densest = 0;
  for (std::size_t k = 0; k < model.kinds.size(); ++k) {
    const Kind& kind = model.kinds[k];
    holding.demand += values[k] * kind.count;
    if (values[k] == 0) continue;
    choices.push_back({kind.cells, values[k], kind.count});
    // Infinite for a size of nothing, which is right.
    densest = std::max(densest, static_cast<double>(values[k]) / static_cast<double>(kind.size));
  }
  const Knapsack table(choices, model.bars.front().cells);
  for (const Bar& bar : model.bars) {
    // Cells are rounded, so a bar full of what is worth most for its size may be the tighter limit.
    // The factor covers the rounding of the division and the product.
    const double full = densest * static_cast<double>(bar.capacity) * (1 + 0x1p-40);
    const auto best = static_cast<double>(table.best(bar.cells));
    holding.of_bar.push_back(static_cast<std::int64_t>(std::min(best, full)));
  }
  holding.work = table.work();
  return holding;
}

std::vector<std::size_t> by_price_of_worth(const Model& model, const Values& held) {
  std::vector<std::size_t> order;
  for (std::size_t b = 0; b < held.size(); ++b) {
    if (held[b] > 0) order.push_back(b);
  }
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return static_cast<program::Wide>(model.bars[a].price) * held[b] <
           static_cast<program::Wide>(model.bars[b].price) * held[a];
  });
  return order;
}

// The least money for sticks that hold the demand, the last of them bought in part.
std::optional<std::int64_t> linear_cover(const Model& model, const Holding& holding) {
  std::int64_t left = holding.demand, cost = 0;
  for (const std::size_t b : by_price_of_worth(model, holding.of_bar)) {
    if (left <= 0) break;
    const std::int64_t held = holding.of_bar[b], price = model.bars[b].price;
    const std::int64_t whole = std::min<std::int64_t>(model.bars[b].copies, left / held);
    cost += whole * price;
    left -= whole * held;
    if (whole == model.bars[b].copies || left <= 0) continue;
    return cost + program::ceil_over(static_cast<program::Wide>(price) * left, held);
  }
  if (left > 0) return std::nullopt;
  return cost;
}

// The same with whole sticks only, from a table over money. None where that would be too large.
std::optional<Knapsack> table_over_money(const Model& model, const Holding& holding,
                                         std::int64_t coin, std::int64_t most) {
  if (coin == 0 || most / coin >= most_coin_cells) return std::nullopt;
  std::vector<Choice> choices;
  for (std::size_t b = 0; b < model.bars.size(); ++b) {
    const Bar& bar = model.bars[b];
    choices.push_back({static_cast<int>(bar.price / coin), holding.of_bar[b], bar.copies});
  }
  return Knapsack(choices, static_cast<int>(most / coin));
}

struct Prices {
  std::int64_t coin = 0;  // divides every price
  std::int64_t dearest = 0;
};

Prices prices_of(const Model& model) {
  Prices prices;
  for (const Bar& bar : model.bars) {
    prices.coin = std::gcd(prices.coin, bar.price);
    prices.dearest = std::max(prices.dearest, bar.price);
  }
  return prices;
}

struct Cover {
  Holding holding = {};
  std::int64_t linear = 0;
};

// Whole sticks cost at most one stick more than the linear cover, so the table needs to reach no
// further, and a cover more than that below the best bound cannot raise it.
std::int64_t best_whole_cover(const Model& model, std::vector<Cover>& covers) {
  std::stable_sort(covers.begin(), covers.end(),
                   [](const Cover& a, const Cover& b) { return a.linear > b.linear; });
  const Prices prices = prices_of(model);
  std::int64_t best = covers.front().linear, work = 0;
  for (const Cover& cover : covers) {
    const std::int64_t most = cover.linear + prices.dearest;
    if (most <= best || work > work_limit) break;
    const auto table = table_over_money(model, cover.holding, prices.coin, most);
    if (!table) continue;
    work += table->work();
    auto least = static_cast<int>((cover.linear + prices.coin - 1) / prices.coin);
    while (table->best(least) < cover.holding.demand) ++least;
    best = std::max(best, least * prices.coin);
  }
  return best;
}

}  // namespace

std::optional<std::int64_t> least_cover(const Model& model, const std::vector<std::int64_t>& held,
                                        std::int64_t demand) {
  const Holding holding{held, demand, 0};
  const auto linear = linear_cover(model, holding);
  if (!linear) return std::nullopt;
  std::vector<Cover> covers = {{holding, *linear}};
  return best_whole_cover(model, covers);
}

std::optional<std::int64_t> least_cost(const Model& model, const std::function<bool()>& goes_on) {
  if (model.parts == 0) return 0;
  if (model.bars.empty()) return std::nullopt;
  const std::vector<Values> valuations = valuations_of(model);
  std::vector<Cover> covers;
  std::size_t step = 1;
  std::int64_t unasked = 0;
  for (std::size_t v = 0; v < valuations.size(); v += step) {
    Holding holding = holding_of(model, valuations[v]);
    const auto linear = linear_cover(model, holding);
    if (!linear) return std::nullopt;
    if (v == 0) {
      const std::int64_t affordable = std::max<std::int64_t>(work_limit / (holding.work + 1), 8);
      step = valuations.size() / static_cast<std::size_t>(affordable) + 1;
    }
    unasked += holding.work;
    covers.push_back({std::move(holding), *linear});
    if (unasked < ask_every) continue;
    if (!goes_on()) break;
    unasked = 0;
  }
  return best_whole_cover(model, covers);
}

}  // namespace kw::cutting
