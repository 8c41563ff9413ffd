// Parts put together to rectangles, and those to larger ones, before it is known what they are cut
// from.
#pragma once

#include <vector>

#include "pattern.h"

namespace kw::cutting::sheets {

// One part, or two blocks side by side (`way` is the cut between them).
struct Block {
  int kind = -1;
  bool is_turned = false;
  Way way = Way::none;
  int first = -1, second = -1;
  Size size = {};
};

struct Blocks {
  std::vector<Block> all = {};
  int root = -1;  // -1: nothing at all

  int add_part(int kind, bool is_turned, Size size);
  int join(int first, int second, Way way);  // either may be -1
};

[[nodiscard]] std::vector<int> counts_of(const Model& model, const Blocks& blocks);

// The cuts that get the blocks out of a board; for rules without limited stages.
[[nodiscard]] Pattern pattern_of(const Model& model, int board, const Blocks& blocks);

}  // namespace kw::cutting::sheets
