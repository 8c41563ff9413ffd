// Private to the kernel's side of solid: a recipe as the kernel's solid.
#pragma once

#include <TopoDS_Shape.hxx>

#include "recipe.h"

namespace kw::kernel {

// The wood of a recipe in the board's frame: one solid, or a compound when it falls into several,
// or none. Throws what the kernel throws, and Standard_Failure when an operation reports failure.
[[nodiscard]] TopoDS_Shape true_solid_of(const Recipe& recipe);

}  // namespace kw::kernel
