// What every step of the working out shares.
#pragma once

#include "kerfwright/measure/vector.h"

#include "counts.h"

namespace kw::resolving {

// What a file can make the program spend is bounded (piece.too-many, told once).
struct Budget {
  int boards = static_cast<int>(most_boards);
  int joints = static_cast<int>(most_joints);
  int uses = static_cast<int>(most_boards);
  int features = 200'000;       // cuts, sides of hollows, curves and holes, of all boards together
  int outline_points = 20'000;  // of all outlines
  long comparisons = 50'000'000;  // of boards with boards, in patterns
};

struct Work {
  const Given& given;
  Sites& sites;
  Values& values;
  Faults& faults;
  const std::vector<ResolvedStock>& stocks;
  const std::vector<int>& stock_index;  // by declaration: which of `stocks`, or -1
  Budget budget = {};
  std::set<int> seen_scopes = {};  // those looked through for faults as a whole
};

// Takes `count` from what is left; false, and piece.too-many at `at`, when there is not so much
// left.
template <class Count>
bool spend(Work& work, Count& left, Count count, Span at, std::string_view what) {
  if (count <= left) {
    left -= count;
    return true;
  }
  work.faults.report({.code = "piece.too-many",
                      .at = at,
                      .message = "this makes more " + std::string(what) + " than are worked out",
                      .hint = "make it less, or divide the piece into several files"});
  return false;
}

[[nodiscard]] inline std::size_t at_index(int index) {
  return static_cast<std::size_t>(index);
}

}  // namespace kw::resolving
