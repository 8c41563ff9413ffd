// The bounded knapsack over whole cells: one table answers for every capacity at once.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace kw::cutting {

struct Choice {
  int cells = 0;           // 0 is allowed: takes no room
  std::int64_t value = 0;  // not negative
  int count = 0;           // how many there are
};

class Knapsack {
 public:
  // Greatest value of choices within each of 0 .. cells.
  Knapsack(const std::vector<Choice>& choices, int cells);

  [[nodiscard]] std::int64_t best(int cells) const {
    return best_[static_cast<std::size_t>(cells)];
  }

  // How many of each choice make best(cells).
  [[nodiscard]] std::vector<int> counts(int cells) const;

  // Cell updates that the table took: the measure of work.
  [[nodiscard]] std::int64_t work() const { return static_cast<std::int64_t>(taken_.size()); }

 private:
  // `copies` of a choice taken together or not at all: 1, 2, 4, .. and a rest make every count.
  struct Bundle {
    int choice = 0, copies = 0, cells = 0;
    std::int64_t value = 0;
  };
  void add(std::size_t index);

  std::size_t choices_ = 0;
  std::vector<Bundle> bundles_ = {};
  std::vector<std::int64_t> best_ = {}, next_ = {};
  std::vector<std::uint8_t> taken_ = {};  // a row of best_.size() for each bundle
};

}  // namespace kw::cutting
