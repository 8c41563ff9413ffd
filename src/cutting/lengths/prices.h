// What parts are worth, in whole numbers, and what follows from it without a rounding error.
//
// With scale V, worths d_i >= 0 of parts, s_S >= 0 of cuts (program/triples.h) and surcharges
// t_b >= 0 of scarce bins, call the worth of a pattern a on a bin of kind b
//     worth(a) = sum_i d_i a_i + sum_S s_S ceil(sum_{i in S} a_i / 2).
// If worth(a) <= V cost_b + t_b for every pattern, every plan costs at least
//     (sum_i d_i count_i + sum_S s_S ceil(sum_{i in S} count_i / 2) - sum_b t_b copies_b) / V :
// sum worth(a) x_a is at least the first two sums, and at most V cost + sum_b t_b copies_b.
// Where at least least_b bins of a kind are to be used, t_b < 0 is right too, with least_b in the
// place of copies_b.
#pragma once

#include <span>
#include <vector>

#include "lengths/instance.h"
#include "program/safe_bound.h"
#include "program/triples.h"

namespace kw::cutting::lengths {

// Two types, first < second, and what a pattern that holds both is worth beyond its parts. With
// rows that ask for at least (worth > 0) or at most (worth < 0) `side` such patterns, worth * side
// joins the sums above.
struct PairPrice {
  int first = 0, second = 0;
  std::int64_t worth = 0;
  std::int64_t side = 0;
};

struct Prices {
  std::int64_t scale = 1;
  std::vector<std::int64_t> part = {};  // by type
  std::vector<std::int64_t> bin = {};   // surcharge by bin; below 0 only where some must be used
  std::vector<std::pair<program::Triple, std::int64_t>> cuts = {};
  std::vector<PairPrice> pairs = {};
};

// What is wanted and to be had where the search stands.
struct Rest {
  std::vector<int> counts = {};  // by type
  std::vector<int> copies = {};  // by bin
  std::vector<int> least = {};   // by bin: so many are to be used
  // By bin: the copies may matter, since they are scarce or the search has said so.
  std::vector<bool> is_limited = {};
};

[[nodiscard]] Rest rest_of(const Instance& instance);

// What a bin holds at most must be worth so much, else its cost is not met.
[[nodiscard]] std::int64_t threshold(const Instance& instance, const Prices& prices, int bin);

[[nodiscard]] std::int64_t worth_of(const Prices& prices, const Pattern& pattern);

[[nodiscard]] bool holds(const Pattern& pattern, int type);

[[nodiscard]] std::int64_t scale_for(const Instance& instance);

// A number of coins at the scale, not negative, rounded down.
[[nodiscard]] std::int64_t whole(double coins, std::int64_t scale);

// `part`, `bin` and cuts in coins; what is negative counts as nothing, but for bins, which may give
// back no more than they cost. Pairs are left out.
[[nodiscard]] Prices whole_prices(const Instance& instance, std::span<const double> part,
                                  std::span<const double> bin,
                                  const std::vector<std::pair<program::Triple, double>>& cuts);

// Prices that are proved right, given that no pattern on bin b is worth more than most[b]: worths
// brought down in proportion by the endless bins, surcharges as the others then need.
[[nodiscard]] Prices mended(const Instance& instance, const Prices& prices, const Rest& rest,
                            const std::vector<std::int64_t>& most);

// What the worths of all parts, cuts and pairs come to.
[[nodiscard]] program::Wide worth_of_parts(const Prices& prices, const Rest& rest);

// V times the bound, for prices that are right.
[[nodiscard]] program::Wide worth_of_all(const Prices& prices, const Rest& rest);

}  // namespace kw::cutting::lengths
