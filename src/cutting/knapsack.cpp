#include "knapsack.h"

#include <algorithm>

namespace kw::cutting {

Knapsack::Knapsack(const std::vector<Choice>& choices, int cells)
    : choices_(choices.size()), best_(static_cast<std::size_t>(cells) + 1), next_(best_) {
  for (std::size_t i = 0; i < choices.size(); ++i) {
    const Choice& c = choices[i];
    int left = c.cells == 0 ? c.count : std::min(c.count, cells / c.cells);
    for (int size = 1; left > 0; size *= 2) {
      const int copies = std::min(size, left);
      bundles_.push_back({static_cast<int>(i), copies, copies * c.cells, copies * c.value});
      left -= copies;
    }
  }
  taken_.resize(best_.size() * bundles_.size());
  for (std::size_t b = 0; b < bundles_.size(); ++b) add(b);
}

// Two buffers and no branch, so that the compiler can work on several cells at once.
void Knapsack::add(std::size_t index) {
  const Bundle& bundle = bundles_[index];
  const std::size_t width = best_.size(), shift = static_cast<std::size_t>(bundle.cells);
  std::uint8_t* const taken = taken_.data() + index * width;
  const std::int64_t* const from = best_.data();
  std::int64_t* const to = next_.data();
  std::copy_n(from, shift, to);
  for (std::size_t c = shift; c < width; ++c) {
    const std::int64_t with = from[c - shift] + bundle.value, without = from[c];
    taken[c] = with > without;
    to[c] = std::max(with, without);
  }
  best_.swap(next_);
}

std::vector<int> Knapsack::counts(int cells) const {
  std::vector<int> counts(choices_);
  auto at = static_cast<std::size_t>(cells);
  for (std::size_t b = bundles_.size(); b-- > 0;) {
    if (taken_[b * best_.size() + at] == 0) continue;
    counts[static_cast<std::size_t>(bundles_[b].choice)] += bundles_[b].copies;
    at -= static_cast<std::size_t>(bundles_[b].cells);
  }
  return counts;
}

}  // namespace kw::cutting
