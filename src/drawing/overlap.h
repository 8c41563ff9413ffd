// Private to drawing: a judge of finished sheets. It reads nothing but the sheet: the boxes of its
// labels, its lines, its arrow heads and its edge.
#pragma once

#include <string>
#include <vector>

#include "kerfwright/drawing/sheet.h"

namespace kw {

enum class OverlapKind : std::uint8_t { label_label, label_stroke, label_fill, off_sheet };

struct Overlap {
  OverlapKind kind = OverlapKind::label_label;
  std::string what = {};  // the label's text, and what it lies on
  Vec2 at = {};
  double depth = 0;  // mm
};

// Labels that lie on labels, on lines, on the edge of a tinted area (an arrow head, a board of a
// diagram), or past the edge of the sheet; and lines and fills past the edge. Depths up to
// `slack` mm are let pass.
[[nodiscard]] std::vector<Overlap> overlaps_in(const Sheet& sheet, double slack = 0.05);

// Straight lines drawn twice over the same stretch, longer than `slack` mm.
[[nodiscard]] std::vector<Overlap> doubled_lines_in(const Sheet& sheet, double slack = 0.05);

}  // namespace kw
