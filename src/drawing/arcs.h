// Private to drawing: circular arcs of templates, kept exact.
#pragma once

#include <vector>

#include "kerfwright/drawing/view.h"

#include "boxes.h"

namespace kw {

// Points along the arc, ends included, no chord further than `off` mm from it.
[[nodiscard]] std::vector<Vec2> sampled(const Arc& arc, double off = 0.02);

// The stretches of the arc inside the window.
[[nodiscard]] std::vector<Arc> clipped(const Arc& arc, const Rect& window);

// Takes the chords of curves that are seen end on out of a view and gives the true arcs that they
// stand for, in the view's coordinates (y up; angles counter-clockwise). `lie` is how the shape
// lies.
[[nodiscard]] std::vector<Arc> take_arcs(View& view, const Shape& shape, const Frame& lie,
                                         const Look& look);

}  // namespace kw
