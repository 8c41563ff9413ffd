// Arcs of circles, and the polygons that stand for them: as large in area, to rounding.
#pragma once

#include <optional>
#include <vector>

#include "kerfwright/measure/vector.h"

namespace kw::resolving {

struct Arc {
  Vec2 centre = {};
  double radius = 0;
  double from = 0;   // radians from +x
  double sweep = 0;  // radians; above zero counter-clockwise
};

// Through three points; empty when they lie on a line.
[[nodiscard]] std::optional<Arc> arc_through(Vec2 from, Vec2 through, Vec2 to);
// The shorter arc of a radius, bent to the left or right as one walks; empty when the radius is
// less than half the distance.
[[nodiscard]] std::optional<Arc> arc_of_radius(Vec2 from, Vec2 to, double radius, bool is_left);

// What the arc adds to the area on the left of its chord's left side: r^2 (sweep - sin sweep) / 2,
// its circular segment, below zero for a clockwise arc.
[[nodiscard]] double segment_area(const Arc& arc);

// The corners of the arc's polygon between its two ends, which are not among them. The arc is
// divided where it reaches furthest along an axis, so that the polygon stays within the true arc's
// box; within each part the ends lie on the circle and the corners between so far outside it that
// the polygon has the arc's area. Chord error at most 0.05 mm, at least 32 facets to a full turn
// and 96 to an arc.
[[nodiscard]] std::vector<Vec2> facets_of(const Arc& arc);

}  // namespace kw::resolving
