// The linear relaxation of a pool with cuts and branching rows, and what it proves in integers.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "cover.h"
#include "master.h"
#include "safe_bound.h"
#include "triples.h"

namespace kw::cutting::program {

// Columns that hold both rows: how many of them there may be.
struct PairRow {
  int first = 0, second = 0;
  friend auto operator<=>(const PairRow&, const PairRow&) = default;
};

struct Branch {
  std::optional<int> column = {};  // of the pool; else the pair
  PairRow pair = {};
  bool is_up = false;  // at least `limit`, else at most
  std::int64_t limit = 0;
};

using Chain = std::vector<Branch>;

class PoolLp {
 public:
  PoolLp(const Pool& pool, std::int64_t penalty, std::function<bool()> is_over);

  // Solves with the branches of a node. False when stopped or failed: nothing may be used then.
  bool solve(const Chain& chain);

  [[nodiscard]] double value() const { return master_.value(); }
  [[nodiscard]] int pivots() const { return pivots_; }
  [[nodiscard]] int rows() const { return master_.rows(); }
  // By pool column.
  [[nodiscard]] const std::vector<double>& primal() const { return primal_; }
  // Nothing cheaper is possible in this node.
  [[nodiscard]] std::int64_t bound() const { return bound_; }

  // Takes away copies of columns with which, at the root, cost would reach `cost`; says how many
  // columns went wholly.
  int fix(std::int64_t cost);
  void add_cut(const Triple& triple);
  [[nodiscard]] std::vector<std::int64_t> sides() const;
  [[nodiscard]] std::int64_t most(int column) const {
    return most_[static_cast<std::size_t>(column)];
  }

 private:
  struct Extra {
    bool is_cut = false;
    Triple triple = {};
    PairRow pair = {};
    std::int64_t lower = 0;
    std::optional<std::int64_t> upper = {};
    int row = 0;
  };

  [[nodiscard]] std::int64_t count_in(const Extra& extra, int column) const;
  void add_extra(Extra extra);
  void put(int column);
  void add_penalty(int row);
  bool price_in();
  void set_columns(const Chain& chain);
  void set_pairs(const Chain& chain);
  void set_extra(Extra& extra, std::int64_t lower, std::optional<std::int64_t> upper);
  void reckon_bound();
  [[nodiscard]] std::int64_t whole_cost(int column, const std::vector<std::int64_t>& y,
                                        std::int64_t scale) const;
  void drop_unused_pairs();

  const Pool& pool_;
  std::int64_t penalty_ = 0, dearest_ = 1;
  std::function<bool()> is_over_ = {};
  Master master_ = {};
  std::vector<std::int64_t> most_ = {};                         // by pool column, at the root
  std::vector<std::int64_t> least_here_ = {}, most_here_ = {};  // in this node
  std::vector<int> place_ = {};    // in the master by pool column, or -1
  std::vector<int> changed_ = {};  // columns with bounds of this node
  std::vector<Extra> extras_ = {};
  std::vector<double> primal_ = {};
  std::vector<std::int64_t> reduced_ = {};  // at scale_
  Wide bound_scaled_ = 0;
  std::int64_t scale_ = 1, bound_ = 0;
  int pivots_ = 0;
};

}  // namespace kw::cutting::program
