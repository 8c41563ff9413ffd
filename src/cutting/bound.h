// What any plan must cost at least.
#pragma once

#include <cstdint>
#include <optional>

#include "model.h"

namespace kw::cutting {

// Whole coins; none when the stock is proved not to suffice. NOTES.md has the argument.
[[nodiscard]] std::optional<std::int64_t> least_cost(const Model& model);

}  // namespace kw::cutting
