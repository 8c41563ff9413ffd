// Private to parts: what the sawing plan takes of a part's ends.
#pragma once

#include "kerfwright/parts/cut_list.h"

namespace kw {

// The slope of an end across the width, as the sawing plan takes it: d(x)/d(y). Ends tilted through
// the thickness are taken whole, as square at their long point.
[[nodiscard]] double slope_of(const SawCut& cut, Vec3 size);

}  // namespace kw
