// Hollows of boards that hold what is poured in: soil, water. mm.
//
// The hollow is found on a grid (at most 120,000 cells) by how high water must rise to run out.
// Where its walls are the planes of a convex room, its volume is then exact; else it is the grid's,
// within about a cell at each wall. Gaps narrower than a cell are not seen as leaks by the grid.
#pragma once

#include <vector>

#include "kerfwright/solid/body.h"

namespace kw {

struct Pool {
  double volume = 0;             // mm^3, to the rim
  bool is_exact = false;         // else from the grid
  double cell = 0;               // of the grid, mm
  double floor = 0, rim = 0;     // z
  Vec3 low = {}, high = {};      // box of the grid's cells
  std::vector<int> bodies = {};  // of its walls and bottom
  bool is_drained = false;  // a hole goes right through its bottom, or a gap opens between boards
};
// Largest first; those under 0.2 litre, or fewer than 30 cells, are left out.
[[nodiscard]] std::vector<Pool> pools_in(const std::vector<Body>& bodies);

// Volume of the meeting of half-spaces dot(normal, p) <= offset; 0 when it has none, infinite ones
// count to 10 m.
[[nodiscard]] double convex_volume(const std::vector<Plane>& planes);

}  // namespace kw
