// How many fasteners a row has and where they stand, by rule. mm. Pure.
#pragma once

namespace kw {

struct RowRule {
  int count = 0;
  double first = 0;    // from the end of the patch
  double spacing = 0;  // from one to the next
};
// The fewest that stand at most `greatest` apart (0: 24 diameters or 300 mm, the larger: common
// practice, no published source), the first `end` diameters from the end where there is room; at
// least one, two where two have room.
struct RowWish {
  double length = 0, diameter = 0;
  double end_diameters = 10, in_row_diameters = 10;  // NDS Commentary (from memory)
  double greatest = 0;
};
[[nodiscard]] RowRule row_by_rule(const RowWish& wish);

}  // namespace kw
