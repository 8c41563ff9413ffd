// Private to solid: which holes of a face lie in which of its outer rings.
#pragma once

#include <vector>

#include "net.h"
#include "polygon.h"

namespace kw {

// Groups the rings of each face: first an outer ring, then the holes in it, as indices into
// net.rings. In the order of the faces.
[[nodiscard]] std::vector<std::vector<int>> islands_in(const Net& net,
                                                       const std::vector<Face>& faces);

}  // namespace kw
