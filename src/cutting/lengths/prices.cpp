#include "lengths/prices.h"

#include <algorithm>
#include <cmath>

namespace kw::cutting::lengths {
namespace {

using program::Wide;

// Sums of worths stay exact as doubles (2^53) in the tables.
constexpr double largest_worth = 0x1p45;

std::int64_t brought_down(std::int64_t worth, std::int64_t num, std::int64_t den) {
  return static_cast<std::int64_t>(static_cast<Wide>(worth) * num / den);
}

}  // namespace

std::int64_t whole(double coins, std::int64_t scale) {
  const double scaled = std::floor(std::max(coins, 0.0) * static_cast<double>(scale));
  return static_cast<std::int64_t>(std::min(scaled, largest_worth));
}

bool holds(const Pattern& pattern, int type) {
  const auto found = std::lower_bound(pattern.parts.begin(), pattern.parts.end(), type,
                                      [](const auto& part, int t) { return part.first < t; });
  return found != pattern.parts.end() && found->first == type;
}

Rest rest_of(const Instance& instance) {
  Rest rest;
  for (const Type& t : instance.types) rest.counts.push_back(t.count);
  for (const Bin& b : instance.bins) {
    rest.copies.push_back(b.copies);
    rest.least.push_back(0);
    rest.is_limited.push_back(b.is_scarce);
  }
  return rest;
}

std::int64_t threshold(const Instance& instance, const Prices& prices, int bin) {
  return prices.scale * instance.bins[at(bin)].cost + prices.bin[at(bin)];
}

std::int64_t worth_of(const Prices& prices, const Pattern& pattern) {
  std::int64_t worth = 0;
  for (const auto& [type, count] : pattern.parts) worth += prices.part[at(type)] * count;
  for (const auto& [triple, price] : prices.cuts) {
    std::int64_t sum = 0;
    for (const auto& [type, count] : pattern.parts) {
      if (std::find(triple.begin(), triple.end(), type) != triple.end()) sum += count;
    }
    worth += price * ((sum + 1) / 2);
  }
  for (const PairPrice& pair : prices.pairs) {
    if (holds(pattern, pair.first) && holds(pattern, pair.second)) worth += pair.worth;
  }
  return worth;
}

std::int64_t scale_for(const Instance& instance) {
  std::int64_t scale = 1;
  while (static_cast<double>(scale) * static_cast<double>(instance.dearest) < largest_worth / 16)
    scale *= 2;
  return scale;
}

Prices whole_prices(const Instance& instance, std::span<const double> part,
                    std::span<const double> bin,
                    const std::vector<std::pair<program::Triple, double>>& cuts) {
  Prices prices;
  prices.scale = scale_for(instance);
  for (const double p : part) prices.part.push_back(whole(p, prices.scale));
  for (std::size_t b = 0; b < bin.size(); ++b) {
    const std::int64_t least = -whole(-bin[b], prices.scale);
    prices.bin.push_back(bin[b] < 0 ? std::max(least, -prices.scale * instance.bins[b].cost)
                                    : whole(bin[b], prices.scale));
  }
  for (const auto& [triple, price] : cuts) {
    const std::int64_t w = whole(price, prices.scale);
    if (w > 0) prices.cuts.emplace_back(triple, w);
  }
  return prices;
}

Prices mended(const Instance& instance, const Prices& prices, const Rest& rest,
              const std::vector<std::int64_t>& most) {
  // The endless bin with the least cost / most decides; compared crosswise.
  std::int64_t num = 1, den = 1;
  for (int b = 0; b < static_cast<int>(instance.bins.size()); ++b) {
    if (rest.is_limited[at(b)]) continue;
    const std::int64_t limit = prices.scale * instance.bins[at(b)].cost;
    if (most[at(b)] <= limit) continue;
    if (static_cast<Wide>(limit) * den < static_cast<Wide>(num) * most[at(b)])
      num = limit, den = most[at(b)];
  }
  Prices right = prices;
  if (num < den) {
    for (std::int64_t& p : right.part) p = brought_down(p, num, den);
    for (auto& [triple, p] : right.cuts) p = brought_down(p, num, den);
    for (PairPrice& p : right.pairs) {
      const std::int64_t less = brought_down(p.worth, num, den);  // towards 0
      p.worth = less - (p.worth < 0 ? 1 : 0);
    }
  }
  for (int b = 0; b < static_cast<int>(instance.bins.size()); ++b) {
    std::int64_t& surcharge = right.bin[at(b)];
    surcharge = 0;
    if (!rest.is_limited[at(b)] && rest.least[at(b)] == 0) continue;
    const std::int64_t worth = num < den ? brought_down(most[at(b)], num, den) + 1 : most[at(b)];
    surcharge = worth - prices.scale * instance.bins[at(b)].cost;
    if (rest.least[at(b)] == 0) surcharge = std::max<std::int64_t>(surcharge, 0);
    if (!rest.is_limited[at(b)]) surcharge = std::min<std::int64_t>(surcharge, 0);
  }
  return right;
}

Wide worth_of_parts(const Prices& prices, const Rest& rest) {
  Wide sum = 0;
  for (std::size_t i = 0; i < prices.part.size(); ++i)
    sum += static_cast<Wide>(prices.part[i]) * rest.counts[i];
  for (const auto& [triple, price] : prices.cuts) {
    std::int64_t wanted = 0;
    for (const int type : triple) wanted += rest.counts[at(type)];
    sum += static_cast<Wide>(price) * ((wanted + 1) / 2);
  }
  for (const PairPrice& p : prices.pairs) sum += static_cast<Wide>(p.worth) * p.side;
  return sum;
}

Wide worth_of_all(const Prices& prices, const Rest& rest) {
  Wide sum = worth_of_parts(prices, rest);
  for (std::size_t b = 0; b < prices.bin.size(); ++b) {
    const int sticks = prices.bin[b] > 0 ? rest.copies[b] : rest.least[b];
    sum -= static_cast<Wide>(prices.bin[b]) * sticks;
  }
  return sum;
}

}  // namespace kw::cutting::lengths
