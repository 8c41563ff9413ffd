#include "lengths/reach.h"

#include <algorithm>

namespace kw::cutting::lengths {
namespace {

using program::Wide;

constexpr std::int64_t most_cells = 2'000'000;

// Most worth for each number of steps of money, up to what is enough.
class Purse {
 public:
  Purse(std::int64_t steps, std::int64_t enough)
      : most_(static_cast<std::size_t>(steps) + 1), enough_(enough) {}

  void put_endless(std::size_t steps, std::int64_t worth) {
    worth = std::min(worth, enough_);
    for (std::size_t c = steps; c < most_.size(); ++c)
      most_[c] = std::max(most_[c], std::min(enough_, most_[c - steps] + worth));
  }

  // Up to `copies`, in bundles of 1, 2, 4 ... and a rest.
  void put(std::size_t steps, std::int64_t worth, int copies) {
    for (int bundle = 1; copies > 0; bundle *= 2) {
      const int n = std::min(bundle, copies);
      copies -= n;
      const auto size = static_cast<std::size_t>(n) * steps;
      const auto more = static_cast<std::int64_t>(
          std::min(static_cast<Wide>(worth) * n, static_cast<Wide>(enough_)));
      for (std::size_t c = most_.size(); c-- > size;)
        most_[c] = std::max(most_[c], std::min(enough_, most_[c - size] + more));
    }
  }

  // The fewest steps for enough; one more than there are when they do not suffice.
  [[nodiscard]] std::int64_t fewest() const {
    return std::lower_bound(most_.begin(), most_.end(), enough_) - most_.begin();
  }

 private:
  std::vector<std::int64_t> most_ = {};
  std::int64_t enough_ = 0;
};

}  // namespace

std::int64_t least_reach(const Instance& instance, const Rest& rest,
                         const std::vector<std::int64_t>& held, Wide worth, std::int64_t target,
                         const Spend& spend) {
  std::int64_t spent = 0;
  bool is_all_free = false;  // what costs nothing and is there without end holds all
  for (std::size_t b = 0; b < held.size(); ++b) {
    spent += rest.least[b] * instance.bins[b].cost;
    worth -= static_cast<Wide>(held[b]) * rest.least[b];
    if (instance.bins[b].cost > 0 || held[b] == 0) continue;
    if (!rest.is_limited[b]) is_all_free = true;
    worth -= static_cast<Wide>(held[b]) * (rest.copies[b] - rest.least[b]);
  }
  if (worth <= 0 || is_all_free || spent > target) return spent;
  const std::int64_t steps = (target - spent) / instance.step;
  if (steps > most_cells || worth > Wide{1} << 61) return 0;
  Purse purse(steps, static_cast<std::int64_t>(worth));
  for (std::size_t b = 0; b < held.size(); ++b) {
    const Bin& bin = instance.bins[b];
    if (bin.cost == 0 || held[b] == 0) continue;
    if (!spend(steps)) return 0;
    const auto size = static_cast<std::size_t>(bin.cost / instance.step);
    if (rest.is_limited[b]) {
      purse.put(size, held[b], rest.copies[b] - rest.least[b]);
    } else {
      purse.put_endless(size, held[b]);
    }
  }
  return spent + purse.fewest() * instance.step;
}

}  // namespace kw::cutting::lengths
