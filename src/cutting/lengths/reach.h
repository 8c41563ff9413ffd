// The least money for whole bins that together can hold what all parts are worth.
#pragma once

#include <cstdint>
#include <vector>

#include "lengths/prices.h"
#include "lengths/pricing.h"

namespace kw::cutting::lengths {

// What no fewer coins than these buy: bins, as many as `rest` allows and asks for, that hold
// `worth`, when one bin b holds held[b] at most. More than `target` where that much does not do.
// 0, which is always right, where the question would take too much work.
[[nodiscard]] std::int64_t least_reach(const Instance& instance, const Rest& rest,
                                       const std::vector<std::int64_t>& held, program::Wide worth,
                                       std::int64_t target, const Spend& spend);

}  // namespace kw::cutting::lengths
