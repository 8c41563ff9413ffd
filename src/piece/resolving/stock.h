// Stocks, sizes and the figures of the file itself.
#pragma once

#include "work.h"

namespace kw::resolving {

// The stocks whose section is known, in the order of the file; `index_of` gets one entry a
// declaration, the index among them or -1.
[[nodiscard]] std::vector<ResolvedStock> stocks_of(Values& values, Faults& faults,
                                                   std::vector<int>& index_of);

// The sizes with their ranges (piece.out-of-range) and the piece's derived values.
void add_values(Work& work, Resolved& into);

// Title, notes, rule, saw.
void add_heading(Work& work, Resolved& into);

}  // namespace kw::resolving
