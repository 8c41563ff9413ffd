// What each size of piece is worth at most when parts may be repeated without limit (Gilmore and
// Gomory 1966; Beasley 1985; from memory), and what is worth having around it.
#pragma once

#include <vector>

#include "block.h"
#include "grid.h"
#include "work.h"

namespace kw::cutting::sheets {

// Whole numbers below 2^53, in doubles because those compare fastest.
using Worths = std::vector<double>;

constexpr double no_worth = -1e300;

// A part lying one way, at the least state that holds it.
struct Lying {
  int kind = 0;
  bool is_turned = false;
  Size size = {};
  int ix = 0, iy = 0;
};

[[nodiscard]] std::vector<Lying> lyings_on(const Model& model, const Board& board,
                                           const Grid& grid);

// By state. `worth` has an entry a kind; kinds worth nothing or less are left out. This and
// `outside_of` stop when the work is over: then what they give must not be used.
[[nodiscard]] Worths inside_of(const Grid& grid, const std::vector<Lying>& lyings,
                               const std::vector<double>& worth, Work& work);

// By state: the most that all the rest of the board is worth when a piece of that state is cut out
// of it; no_worth where none ever is.
[[nodiscard]] Worths outside_of(const Grid& grid, const Worths& inside, Work& work);

// A way to get what `inside` says of the whole board.
[[nodiscard]] Blocks best_blocks(const Grid& grid, const std::vector<Lying>& lyings,
                                 const std::vector<double>& worth, const Worths& inside);

}  // namespace kw::cutting::sheets
