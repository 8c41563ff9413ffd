// The most that one board can be worth when each kind may be cut only so often: multipliers for the
// counts (a Lagrangian bound over `table`), then labels (state-space relaxation, Christofides and
// Hadjiconstantinou 1995, from memory), until bound and filling meet.
#pragma once

#include <optional>

#include "table.h"
#include "work.h"

namespace kw::cutting::sheets {

struct Filling {
  Blocks blocks = {};  // empty: nothing is worth more than `known`
  std::int64_t worth = 0;
  std::int64_t bound = 0;
  std::vector<Blocks> others = {};  // where any will do: all met that are worth more than `known`
};

struct FillingEffort {
  std::int64_t known = 0;  // only what is worth more is looked for
  int rounds = 300;        // of the multipliers
  std::size_t labels = 3'000'000;
  bool any_will_do = false;  // the first filling worth more is enough, though not the best
};

class OneSheet {
 public:
  // Has no grid when the board has too many points; then nothing can be asked of it.
  OneSheet(const Model& model, int board, Work& work);
  [[nodiscard]] bool has_grid() const { return grid_.has_value(); }
  [[nodiscard]] std::int64_t table_work() const { return grid_->work(); }

  // `worth` and `counts` by kind, none negative. The multipliers of the last time are a start.
  // None when the worths are too large to reckon with, or the work is over too soon.
  [[nodiscard]] std::optional<Filling> fill(const std::vector<std::int64_t>& worth,
                                            const std::vector<int>& counts,
                                            const FillingEffort& effort, Work& work);

  // One filling for each set of parts that can be cut and is worth at least `least`; none when
  // there are more than `most` or they could not all be found.
  [[nodiscard]] std::optional<std::vector<Blocks>> all(const std::vector<std::int64_t>& worth,
                                                       const std::vector<int>& counts,
                                                       std::int64_t least, std::size_t most,
                                                       Work& work);

 private:
  const Model& model_;
  std::optional<Grid> grid_ = {};
  std::vector<Lying> lyings_ = {};
  std::vector<double> multipliers_ = {};  // by kind, for worths of a whole of 1
};

}  // namespace kw::cutting::sheets
