// The linear relaxation over patterns, by column generation: patterns are made as they are needed.
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "lengths/instance.h"
#include "lengths/prices.h"
#include "lengths/pricing.h"
#include "program/master.h"

namespace kw::cutting::lengths {

// How many patterns hold both of two types: a row that branching asks for.
struct PairRow {
  int first = 0, second = 0;  // types, first < second
  bool is_least = false;      // at least `side`, else at most
  int side = 0;
};

// What is still to be done, and for how much at most: only plans that cost no more matter, so
// patterns that waste too much for any of them are left out.
struct Stand {
  Rest rest = {};
  std::int64_t target = 0;
  std::vector<std::int64_t> waste = {};  // by bin, what a pattern may waste
  std::vector<PairRow> pairs = {};
  Groups groups = {};
};

// With the waste that the target allows. With r the least cost for length among the bins, parts at
// r times their length are right prices, so the bins of a plan cost at most target - r (all parts)
// more than r times what lies in them; a single one does not either.
[[nodiscard]] Stand stand_of(const Instance& instance, Rest rest, std::int64_t target);

enum class Generated {
  above,      // proved in whole numbers: every plan costs more than the target
  converged,  // no pattern would lower the value any more
  enough,     // what was asked for is reached
  stopped,
};

enum class Until {
  converged,
  bound_known,  // the bound cannot rise by a whole step any more
  affordable,   // the value is within the target
};

struct Use {
  Pattern pattern = {};
  double times = 0;
};

class Relaxation {
 public:
  Relaxation(const Instance& instance, Spend spend);

  void add(const Pattern& pattern);
  void add_cuts(const std::vector<program::Triple>& triples);
  [[nodiscard]] std::size_t cuts() const { return cuts_.size(); }

  Generated generate(const Stand& stand, Until until);

  [[nodiscard]] double value() const { return value_; }
  [[nodiscard]] const std::vector<Use>& used() const { return used_; }
  // Right prices of a stand, and V times what they prove of it.
  struct Proved {
    Prices prices = {};
    program::Wide worth = 0;
    std::int64_t reach = 0;  // no set of whole bins that costs less can hold the worth of all parts
    [[nodiscard]] std::int64_t bound() const {
      return std::max(reach, program::ceil_over(worth, prices.scale));
    }
  };
  // Of the last stand: the best there were, and those of the last simplex basis.
  [[nodiscard]] const Proved& best() const { return best_; }
  [[nodiscard]] const Proved& last() const { return last_; }
  [[nodiscard]] const std::vector<Pattern>& patterns() const { return patterns_; }
  // How many bins of each kind the last solution takes.
  [[nodiscard]] const std::vector<double>& sticks() const { return sticks_; }

  // For tables of others while this one does nothing.
  [[nodiscard]] Table::Memory& memory() { return memory_; }

  struct Counts {
    int rounds = 0;
    std::int64_t pivots = 0;
    double in_master = 0, in_pricing = 0;  // seconds
  };
  [[nodiscard]] const Counts& counts() const { return counted_; }

 private:
  struct Duals {
    std::vector<double> part = {}, bin = {}, cut = {}, pair = {};
  };

  void add_cut(const program::Triple& triple);
  void enter(const Stand& stand);
  void set_pairs(const std::vector<PairRow>& pairs);
  [[nodiscard]] bool fits(const Pattern& pattern, const Stand& stand) const;
  [[nodiscard]] Duals duals() const;
  [[nodiscard]] Prices prices_at(const Duals& duals) const;
  bool consider(const Stand& stand, const Prices& prices, const Priced& priced);
  int take(const std::vector<Found>& found, const Duals& duals);
  std::optional<Generated> begin(const Stand& stand);
  Generated round(const Stand& stand, Until until, bool& goes_on);
  [[nodiscard]] bool is_enough(const Stand& stand, Until until) const;
  [[nodiscard]] int first_pair_row() const {
    return first_cut_row_ + static_cast<int>(cuts_.size());
  }
  void read_solution();
  bool is_out_of_reach(const Stand& stand);
  void purge();
  void set_first_centre();
  void set_centre(const Prices& prices);

  const Instance& instance_;
  Spend spend_ = {};
  program::Master master_ = {};
  std::vector<int> bin_row_ = {};           // by bin, -1 where the number is of no matter
  std::vector<program::Triple> cuts_ = {};  // rows from first_cut_row_ on
  std::vector<PairRow> pairs_ = {};         // rows from first_pair_row() on
  std::vector<Pattern> patterns_ = {};      // column: index + first_pattern_
  std::vector<bool> is_shut_ = {};          // by pattern: does not fit the stand
  int first_pattern_ = 0, first_cut_row_ = 0;
  Duals centre_ = {};
  Proved best_ = {}, last_ = {};
  Prices asked_ = {};  // before they were mended, and what bins hold at them
  std::vector<std::int64_t> held_ = {};
  std::vector<double> sticks_ = {};
  double value_ = 0;
  bool has_added_ = false;  // in the round before
  std::vector<Use> used_ = {};
  Table::Memory memory_ = {};
  Counts counted_ = {};
};

}  // namespace kw::cutting::lengths
