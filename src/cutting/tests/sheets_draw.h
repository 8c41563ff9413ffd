// Small sheet problems drawn at random for the tests.
#pragma once

#include "kerfwright/cutting/sheets.h"

#include "draw.h"

namespace kw {

// Up to five parts on sheets of up to 11 by 9 ticks; any rule of stages. Every part fits somewhere.
[[nodiscard]] SheetProblem draw_small_sheets(const Draw& draw);

// Up to a hundred parts on sheets as they are sold, a few kinds of them.
[[nodiscard]] SheetProblem draw_sheets(const Draw& draw);

}  // namespace kw
