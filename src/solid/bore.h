// Private to solid: round holes.
#pragma once

#include "recipe.h"

namespace kw {

// Adds a hole to a recipe: `hole` is a feature of a hole's kind with mouth, direction, diameter and
// depth (past `right_through` it has no bottom). The hole is a prism of 24 to 64 sides with the
// circle's area beside its exact cylinder; it is open backwards from the mouth, and a blind one
// ends flat (the tip that a drill leaves is left out).
void add_bore(Recipe& recipe, Feature hole);

inline constexpr double right_through = 1e5;  // mm, as Feature::depth has it
inline constexpr double endless = 1e6;        // the depth given to holes right through

}  // namespace kw
