// Column generation over patterns: what any plan costs at least by the worth of the parts, and the
// best plan of the patterns met (Gilmore and Gomory 1961, 1965; from memory).
#pragma once

#include <map>
#include <memory>
#include <set>

#include "one_sheet.h"
#include "program/master.h"
#include "search.h"

namespace kw::cutting::sheets {

// Patterns met, each set of parts on a board once.
class Pool {
 public:
  explicit Pool(const Model& model) : model_(model) {}
  // False when it is known, or makes nothing.
  bool add(const Pattern& pattern);
  [[nodiscard]] const std::vector<Pattern>& patterns() const { return patterns_; }
  [[nodiscard]] const std::vector<int>& counts(std::size_t pattern) const {
    return counts_[pattern];
  }
  [[nodiscard]] std::size_t size() const { return patterns_.size(); }

 private:
  const Model& model_;
  std::vector<Pattern> patterns_ = {};
  std::vector<std::vector<int>> counts_ = {};
  std::set<std::pair<int, std::vector<int>>> known_ = {};
};

// A cheaper plan of patterns of the pool than `found`, if there is one and it is found; true when
// then no plan of the pool is cheaper.
bool best_of_pool(const Model& model, const Pool& pool, std::int64_t bound, Found& found,
                  std::int64_t most_nodes, Work& work);

class Columns {
 public:
  // `pool` must hold patterns for a whole plan. Its patterns keep
  // the rule of two stages, but not that of three: there only the bound is of use.
  Columns(const Model& model, Pool& pool, Work& work);
  [[nodiscard]] bool can_price() const;

  // Prices until nothing is to be gained, the bound reaches `cost`, or the work is over. What any
  // plan costs at least.
  std::int64_t bound(std::int64_t cost);

  // All patterns that a plan cheaper than `cost` can hold are in the pool; false when they are too
  // many to say. Only after bound().
  bool enumerate(std::int64_t cost);

 private:
  [[nodiscard]] bool has_strips() const;
  void add_columns();
  bool price(std::int64_t cost);
  void round_duals(double pull);
  bool fill(std::size_t board);
  void learn();

  const Model& model_;
  Pool& pool_;
  Work& work_;
  program::Master master_ = {};
  std::size_t added_ = 0;  // patterns of the pool in the master
  std::vector<int> rows_ = {}, board_rows_ = {};
  std::vector<std::unique_ptr<OneSheet>> sheets_ = {};
  std::vector<int> counts_ = {};
  std::vector<std::int64_t> duals_ = {};  // whole
  std::vector<Wide> most_ = {};           // by board: what it can be worth at most
  double scale_ = 1;
  std::int64_t bound_ = 0;
  double exact_bound_ = 0;                     // before it is rounded up to whole prices
  std::vector<std::int64_t> best_duals_ = {};  // of the best bound; at first, worth by area
  std::vector<Wide> best_most_ = {};
};

}  // namespace kw::cutting::sheets
