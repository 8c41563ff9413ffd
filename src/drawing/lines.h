// Private to drawing: joining lines that run over one another.
#pragma once

#include <vector>

#include "kerfwright/drawing/view.h"

namespace kw {

// Collinear lines joined into the longest stretches of one pen; where several coincide the
// strongest (outline, edge, hidden) stays, and of equals the one that comes first.
[[nodiscard]] std::vector<ViewLine> merged(const std::vector<ViewLine>& lines);

// The same for lines that lie on one another but for a slight angle.
[[nodiscard]] std::vector<ViewLine> without_shadowed(const std::vector<ViewLine>& lines);

// The same for the outlines, edges and hidden lines of a finished sheet.
void merge_strokes(Sheet& sheet);

// Of lines that coincide the strongest is drawn: outline, edge, hidden.
[[nodiscard]] int strength_of(Pen pen);

}  // namespace kw
