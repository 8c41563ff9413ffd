// What time it is, for those at the edge of the program: nothing below the workbench asks.
#pragma once

#include <cstdint>

#include "kerfwright/trade/day.h"

namespace kw {

[[nodiscard]] std::int64_t now_in_milliseconds();  // since 1970, UTC
[[nodiscard]] trade::Day today();                  // by this machine's calendar

}  // namespace kw
