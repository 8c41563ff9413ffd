// Private to solid: what is done to a board by itself, before its joints.
#pragma once

#include "recipe.h"

namespace kw {

// The stick, its end cuts, free cuts, tapers, corners, outline and holes.
[[nodiscard]] Recipe own_cuts_of(const ResolvedBoard& board);

}  // namespace kw
