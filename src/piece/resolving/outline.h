// Outlines of panels: from lines and arcs to what must be sawn away from the glued-up rectangle.
#pragma once

#include "arc.h"
#include "motion.h"
#include "work.h"

namespace kw::resolving {

// A corner of a polygon that stands for an outline, and the curve of the side after it, -1 when
// flat.
struct Corner {
  Vec2 at = {};
  int curve = -1;
  Span span = {};      // of the step that the side belongs to
  Span named_at = {};  // of the step that goes to this corner
};

// A closed outline, counter-clockwise, with no side crossing another.
struct Outline {
  std::vector<Corner> corners = {};
  std::vector<Curve> curves = {};
  Vec2 low = {}, high = {};  // the box around the true outline
  double area = 0;           // of the true outline, mm^2 (Green's theorem); of the polygon too
};

// Errors: piece.bad-outline, piece.bad-arc, piece.outline-crosses.
[[nodiscard]] std::optional<Outline> outline_of(Work& work, int site,
                                                const std::vector<OutlineStep>& steps);

struct Rectangle {
  Vec2 low = {}, high = {};
};

// What is taken from the rectangle to leave the outline: a plane for each side of it that lies on
// its convex hull and not on the rectangle; convex hollows for the rest. The hollows reach out past
// hull and rectangle, so that no skin is left.
[[nodiscard]] Features cut_to(const Outline& outline, const Rectangle& rectangle);

}  // namespace kw::resolving
