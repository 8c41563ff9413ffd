// Private to solid: where the fasteners of a joint stand in its patch, and holes in the world.
#pragma once

#include "joints/joining.h"

namespace kw {

// How many fasteners, and how far the first and last stand from the ends of their row `length`
// long: as said, else by rule (spacing.h). With a count alone each stands in the middle of its
// equal share.
struct Spacing {
  int count = 2;
  double inset = 0;  // mm
};
[[nodiscard]] Spacing spacing_of(const Joining& joining, double length);

// Points on the patch's plane, spaced evenly on the line through its middle: along the direction
// that `along` gives, or the longest way across the patch among the axes of the two boards (a tie
// goes to `first`'s width). Empty, with solid.no-room filed, when they do not fit.
[[nodiscard]] std::vector<Vec3> row_in(Joining& joining, const Patch& patch,
                                       const JoinedBoard& first, std::optional<Vec3> along = {});

struct WorldHole {
  FeatureKind kind = FeatureKind::pilot_hole;
  Vec3 mouth = {}, direction = {};
  double diameter = 0, depth = 0;
};
// Drills it, unless the piece has too many (solid.too-many-holes, told once).
void bore_into(Joining& joining, const JoinedBoard& board, const WorldHole& hole);

}  // namespace kw
