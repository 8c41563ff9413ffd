// The cheapest plan of a small problem by trying everything: an oracle that shares nothing with the
// module, its geometry included.
#pragma once

#include <cstdint>
#include <optional>

#include "kerfwright/cutting/problem.h"

namespace kw {

// Whole coins; none when the stock does not suffice. Takes problems of up to 12 parts.
[[nodiscard]] std::optional<std::int64_t> cheapest(const Problem& problem);

// The shortest length of stick, in ticks and without trim, that all parts of a problem fit on.
[[nodiscard]] double shortest_row(const Problem& problem);

}  // namespace kw
