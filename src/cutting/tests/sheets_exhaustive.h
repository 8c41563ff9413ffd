// The best sheet plan by trying everything: for a few parts on sheets of a few ticks.
#pragma once

#include <cstdint>
#include <optional>

#include "kerfwright/cutting/sheets.h"

namespace kw {

// The least cost, or none when the sheets do not suffice; for the most worth, the most.
[[nodiscard]] std::optional<std::int64_t> best_by_trying(const SheetProblem& problem);

// The most that one sheet of the first kind is worth, by all sets of parts that can be cut from
// each size of piece, without limit on the stages; for up to eight parts.
[[nodiscard]] std::int64_t most_by_sets(const SheetProblem& problem);

}  // namespace kw
