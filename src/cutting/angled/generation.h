// Column generation: the linear programme over patterns, with new ones priced in until none pays.
#pragma once

#include <cstdint>
#include <set>
#include <vector>

#include "angled/search.h"
#include "program/cover.h"
#include "program/master.h"

namespace kw::cutting::angled {

struct Known {
  Pattern pattern = {};
  bool fits = true;  // see Found
};

// How thoroughly to price.
struct Care {
  std::int64_t first_nodes = 2'000;  // steps for each longest part while patterns are found
  std::int64_t most_nodes = 400'000;
  int most_rounds = 1'000;
};

class Generation {
 public:
  // All must outlive this.
  Generation(const Model& model, Search& search, Work& work);

  // A pattern that is known already is not added again.
  void add(const Pattern& pattern, bool fits);

  // Solves for what is available. False when the work is over or the programme failed: then only
  // what `proof` says may be used.
  bool solve(const Available& available, const Care& care);

  // Of the last solve.
  [[nodiscard]] double value() const { return master_.value(); }
  [[nodiscard]] double use_of(std::size_t known) const;
  [[nodiscard]] const std::vector<Known>& known() const { return known_; }

  // Worths at `scale` and thresholds that no pattern of what was available passes.
  [[nodiscard]] const Worths& proof() const { return proof_; }
  [[nodiscard]] std::int64_t scale() const { return scale_; }

 private:
  void set_rows(const Available& available);
  [[nodiscard]] Worths worths() const;
  // Whether there are new patterns; the proof is set when there are none.
  bool price(const Available& available, std::int64_t nodes);

  const Model& model_;
  Search& search_;
  Work& work_;
  program::Master master_ = {};
  std::vector<int> row_of_bar_ = {};  // -1 where copies cannot matter
  std::vector<Known> known_ = {};
  std::set<Pattern> patterns_ = {};
  std::int64_t scale_ = 1, dearest_ = 1;
  bool was_complete_ = false;
  Worths proof_ = {};
};

// The same as a whole-number programme over `columns`.
[[nodiscard]] program::Pool pool_of(const Model& model, const std::vector<Known>& columns);

}  // namespace kw::cutting::angled
