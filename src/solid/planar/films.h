// Private to solid: takes films of no thickness out of a face.
#pragma once

#include <vector>

#include "polygon.h"

namespace kw {

// Where a border of the figure runs back along another, nearer than corners can be told apart,
// there is no face between them: the figure is parted there. Loops as in region.h.
[[nodiscard]] std::vector<Loop> without_films(std::vector<Loop> loops, Vec3 normal);

}  // namespace kw
