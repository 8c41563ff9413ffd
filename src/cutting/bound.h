// What any plan must cost at least.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "model.h"

namespace kw::cutting {

// Whole coins; none when the stock is proved not to suffice. NOTES.md has the argument. Once
// `goes_on` says no, the best bound so far.
[[nodiscard]] std::optional<std::int64_t> least_cost(const Model& model,
                                                     const std::function<bool()>& goes_on);

// The least money for sticks that together can hold `demand`, when one stick of bar b can hold
// held[b] at most. None when all copies there are do not suffice. Worths below 2^61 in all.
[[nodiscard]] std::optional<std::int64_t> least_cover(const Model& model,
                                                      const std::vector<std::int64_t>& held,
                                                      std::int64_t demand);

}  // namespace kw::cutting
