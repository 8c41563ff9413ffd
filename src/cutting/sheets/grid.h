// Where cuts may lie on a board without loss: sizes that parts can add up to, and for each size the
// pairs of sizes it may be cut into (docs/sawing/sheets.md).
#pragma once

#include <optional>
#include <utility>
#include <vector>

#include "model.h"
#include "work.h"

namespace kw::cutting::sheets {

// One side of a board. points[0] is 0; the last is what the whole side comes to.
struct Axis {
  std::vector<std::int64_t> points = {};
  // For each point: what it may be cut into, as indices, the lesser first. Neither of a pair can
  // grow without the other losing; every cut has a pair at least as good.
  std::vector<std::vector<std::pair<int, int>>> cuts = {};

  [[nodiscard]] int count() const { return static_cast<int>(points.size()); }
  // The first point that is no less; count() when there is none.
  [[nodiscard]] int at_least(std::int64_t size) const;
};

struct Grid {
  Axis x = {}, y = {};
  [[nodiscard]] int states() const { return x.count() * y.count(); }
  [[nodiscard]] int state(int ix, int iy) const { return ix * y.count() + iy; }
  [[nodiscard]] int root() const { return states() - 1; }
  [[nodiscard]] std::int64_t work() const;  // of one table, in cells looked at
};

// None when the board has too many points to work with, or the work is over.
[[nodiscard]] std::optional<Grid> grid_of(const Model& model, const Board& board, Work& work);

}  // namespace kw::cutting::sheets
