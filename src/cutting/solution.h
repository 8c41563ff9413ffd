// Sticks with parts on them, and which of two such answers is the better one.
#pragma once

#include <compare>
#include <cstdint>
#include <vector>

#include "stick.h"

namespace kw::cutting {

// What is still to be made, and what there is to make it of.
struct Supply {
  std::vector<int> kinds = {};  // parts wanted, by kind
  std::vector<int> bars = {};   // copies left, by bar
};

[[nodiscard]] Supply supply_of(const Model& model);

struct Solution {
  std::vector<Stick> sticks = {};
  Supply left = {};  // parts that found no place, bars that were not used
};

// Smaller is better, the first difference decides. Sums over sticks, so differences can be kept.
struct Score {
  std::int64_t missing = 0;  // length of the parts that found no place
  std::int64_t cost = 0;     // coins
  std::int64_t lost = 0;     // length of the sticks, less the offcuts worth keeping
  double spread = 0;         // minus the sum of squared rooms: one large rest is better than many
  friend auto operator<=>(const Score&, const Score&) = default;
};

[[nodiscard]] Score score_of(const Model& model, const std::vector<Stick>& sticks,
                             const std::vector<int>& missing);

// Each stick on the bar that is cheapest, then loses least, of those left that hold it.
void downgrade(const Model& model, Solution& solution);

}  // namespace kw::cutting
