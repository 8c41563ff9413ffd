// What any plan costs at least, by dual feasible functions (docs/sawing/sheets.md).
#pragma once

#include <optional>

#include "model.h"
#include "work.h"

namespace kw::cutting::sheets {

// What boards of these worths cost at least to be worth `needed` together; none when all the copies
// there are do not suffice. `worth` has an entry a board.
[[nodiscard]] std::optional<std::int64_t> least_price(const Model& model,
                                                      const std::vector<Wide>& worth, Wide needed);

// None: the boards are proved not to suffice.
[[nodiscard]] std::optional<std::int64_t> least_cost(const Model& model, Work& work);

}  // namespace kw::cutting::sheets
