// Random boards meant to be hard for the planar core: overlapping hollows and bores, planes that
// coincide, nearly coincide, or meet at hair's breadth.
#pragma once

#include "random_recipe.h"

namespace kw::test {

enum class Trouble {
  none,          // half of the boards have whole millimetres, so that much coincides
  moved,         // besides, planes are moved by up to 1e-3 mm
  doubled,       // besides, each cutter and trim stands twice, a hair apart
  doubled_askew  // besides, planes are turned by up to 1e-5
};
[[nodiscard]] Recipe hard_recipe(Dice& dice, Trouble trouble);

}  // namespace kw::test
