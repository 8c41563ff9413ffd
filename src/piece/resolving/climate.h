// Where the piece lives.
#pragma once

#include "work.h"

namespace kw::resolving {

// [climate] of the file; humidity and moisture from 0 to 100 %, degrees Celsius from -60 to 80
// (piece.out-of-range).
void add_climate(Work& work, Resolved& into);

}  // namespace kw::resolving
