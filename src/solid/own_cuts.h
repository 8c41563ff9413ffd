// Private to solid: what is done to a board by itself, before its joints.
#pragma once

#include "recipe.h"

namespace kw {

// The stick, its end cuts, free cuts, tapers, corners, outline and holes.
[[nodiscard]] Recipe own_cuts_of(const ResolvedBoard& board);

// The upright plane on the side from a to b of a counter-clockwise polygon, looking out of it.
[[nodiscard]] Plane side_of(Vec2 a, Vec2 b);

}  // namespace kw
