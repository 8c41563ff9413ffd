// Private to solid: makes planes that nearly coincide one plane.
#pragma once

#include <vector>

#include "kerfwright/measure/vector.h"

#include "box.h"

namespace kw {

inline constexpr double one_plane =
    2.5e-4;  // mm: planes nearer than this all over the stick are one

// Planes that nowhere in the box are further apart than one_plane, facing alike or opposite ways,
// become the first of them. So no later step has to tell apart what corners (one_point) cannot.
void unite(const std::vector<Plane*>& planes, const Box& box);

}  // namespace kw
