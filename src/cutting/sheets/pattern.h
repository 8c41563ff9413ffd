// How one sheet is sawn: a tree of cuts, in the sizes of the model (a kerf longer and wider).
#pragma once

#include <vector>

#include "model.h"

namespace kw::cutting::sheets {

enum class Way : std::uint8_t { none, rip, crosscut };

// A cut (below and beyond are indices), a part (kind is not -1), or an offcut.
struct Node {
  int kind = -1;
  bool turned = false;
  Way way = Way::none;  // of a cut
  std::int64_t at = 0;  // of a cut, from the low corner, holding the kerf
  int below = -1, beyond = -1;
};

// One board with its cuts; nodes[0] is the whole.
struct Pattern {
  int board = 0;
  std::vector<Node> nodes = {};
};

// How many of each kind the pattern makes.
[[nodiscard]] std::vector<int> counts_of(const Model& model, const Pattern& pattern);

// Which cut of `way` may follow after `stages` stages of which the last was of `last`.
struct Stage {
  int stages = 0;
  Way last = Way::none;
  [[nodiscard]] Stage after(Way way) const { return {stages + (way == last ? 0 : 1), way}; }
};
[[nodiscard]] bool is_allowed(const Model& model, Stage before, Way way);
// Whether the cut may be made when it does nothing but trim a part.
[[nodiscard]] bool may_trim(const Model& model, Stage before, Way way);

// The plan: every pattern as pieces in true sizes. Parts that the patterns make beyond what is
// asked for become offcuts. Bound and proof are left to the caller.
[[nodiscard]] SheetPlan plan_of(const SheetProblem& problem, const Model& model,
                                const std::vector<Pattern>& patterns);

}  // namespace kw::cutting::sheets
