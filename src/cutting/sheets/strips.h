// Boards sawn in two stages: strips of a few widths, and along each a row of parts. Both are
// knapsacks, one nested in the other (Gilmore and Gomory 1965, from memory).
#pragma once

#include <vector>

#include "pattern.h"
#include "work.h"

namespace kw::cutting::sheets {

struct Strips {
  std::int64_t bound = 0;              // no two-stage sawing of the board is worth more
  std::vector<Pattern> patterns = {};  // worth more than `known`, keeping to the counts
};

// For two stages, with trimming or without; `worth` and `counts` by kind.
[[nodiscard]] Strips strips_on(const Model& model, int board,
                               const std::vector<std::int64_t>& worth,
                               const std::vector<int>& counts, std::int64_t known, Work& work);

}  // namespace kw::cutting::sheets
