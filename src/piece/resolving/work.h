// What every step of the working out shares.
#pragma once

#include "kerfwright/measure/vector.h"

#include "counts.h"

namespace kw::resolving {

// What a file can make the program spend is bounded (piece.too-many, told once).
struct Budget {
  long boards = static_cast<long>(most_boards);
  long joints = static_cast<long>(most_joints);
  long uses = static_cast<long>(most_boards);
  long features = 200'000;       // cuts, sides of hollows, curves and holes, of all boards together
  long outline_points = 20'000;  // of all outlines
  long letters = 20'000'000;     // of ids, names and notes, which copies repeat
  long comparisons = 50'000'000;  // of boards with boards and of ids with patterns
};

struct Work {
  const Given& given;
  Sites& sites;
  Values& values;
  Faults& faults;
  const std::vector<ResolvedStock>& stocks;
  const std::vector<int>& stock_index;  // by declaration: which of `stocks`, or -1
  Budget budget = {};
  std::set<int> seen_scopes = {};                 // those looked through for faults as a whole
  std::set<std::string, std::less<>> spent = {};  // what there is too much of
};

// Takes `count` from what is left; false when there is not so much left, and piece.too-many at `at`
// the first time.
inline bool spend(Work& work, long& left, long count, Span at, std::string_view what) {
  if (count <= left) {
    left -= count;
    return true;
  }
  if (!work.spent.emplace(what).second) return false;
  work.faults.report({.code = "piece.too-many",
                      .at = at,
                      .message = "this makes more " + std::string(what) + " than are worked out",
                      .hint = "make it less, or divide the piece into several files"});
  return false;
}

inline bool spend_letters(Work& work, std::size_t letters, Span at) {
  return spend(work, work.budget.letters, static_cast<long>(letters), at, "names and notes");
}

[[nodiscard]] inline std::size_t at_index(int index) {
  return static_cast<std::size_t>(index);
}

}  // namespace kw::resolving
