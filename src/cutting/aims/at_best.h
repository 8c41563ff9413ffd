// What no plan can do better at, after money.
#pragma once

#include <cstdint>
#include <optional>

#include "model.h"

namespace kw::cutting {

// The most that the offcuts of a plan of this cost can be worth, less what is used from the rack;
// none where the cost does not limit it.
[[nodiscard]] std::optional<std::int64_t> most_kept(const Problem& problem, const Model& model,
                                                    std::int64_t cost);

// No plan has fewer layouts.
[[nodiscard]] int fewest_layouts(const Model& model);

}  // namespace kw::cutting
