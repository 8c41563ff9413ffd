// Random boards for tests against the geometry kernel: cuts as a shop makes them, and cuts that it
// never would.
#pragma once

#include <cstdint>
#include <random>

#include "recipe.h"

namespace kw::test {

// The same numbers on every machine, as long as no two are drawn in the arguments of one call.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : random_(seed) {}
  double between(double low, double high) {
    return low + (high - low) * (static_cast<double>(random_() >> 11) * 0x1.0p-53);
  }
  int below(int count) { return static_cast<int>(random_() % static_cast<std::uint64_t>(count)); }
  bool one_in(int count) { return below(count) == 0; }
  Vec3 direction();

 private:
  std::mt19937_64 random_;
};

// No round holes: end cuts, tapers, free planes; notches, grooves, rabbets, tenons and odd hollows,
// some of them flush with a face or with one another.
[[nodiscard]] Recipe random_flat_recipe(Dice& dice);

// Square-ended, with round holes that meet nothing else, square to their faces, and rounded
// corners.
struct RoundRecipe {
  Recipe recipe = {};
  // What the chords of rounded corners leave more than the true arcs: of the wood, and of its two
  // broad faces. (The core reckons the area of curved walls by their arcs, and holes have the
  // circle's area.)
  double more_volume = 0, more_area = 0;
};
[[nodiscard]] RoundRecipe random_round_recipe(Dice& dice);

[[nodiscard]] Frame random_frame(Dice& dice, double reach);

}  // namespace kw::test
