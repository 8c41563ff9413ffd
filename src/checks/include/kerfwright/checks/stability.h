// Whether a body stands: the ground it stands on, where its weight comes down, and what tips it.
// mm, N, degrees. Pure.
#pragma once

#include <vector>

#include "kerfwright/measure/vector.h"

namespace kw {

// The convex hull of points on the ground, counter-clockwise; collinear points are left out.
[[nodiscard]] std::vector<Vec2> hull_of(std::vector<Vec2> points);

// One way of tipping: about an edge of the support.
struct Tip {
  Vec2 from = {}, to = {};  // the edge
  Vec2 outward = {};        // the way it tips, unit
  double lever = 0;         // of the weight inside the edge, mm; negative: it tips by itself
  double angle = 0;         // degrees the ground may tilt before it tips: atan(lever / height)
  double force = 0;         // N, level, at `pushed_at` above the ground
};
// In the order of the hull's edges. `weight` in N, its centre above the ground; empty when the
// support has no area.
struct Standing {
  std::vector<Vec2> support = {};  // a hull
  Vec3 centre = {};                // height above the ground in z
  double weight = 0;
  double pushed_at = 0;
};
[[nodiscard]] std::vector<Tip> tips_of(const Standing& standing);
// The tip of least force; a Tip of no lever when there is none.
[[nodiscard]] Tip first_tip(const std::vector<Tip>& tips);

// N that slides it: friction x weight. 0.4 wood on a dry floor, 0.2 when wet or polished (common
// practice, no published source).
[[nodiscard]] double sliding_force(double weight, double friction);

// How far the worst of four or more feet stands off the plane of the three that carry it, mm: every
// three whose triangle holds `centre` are tried, and the best is taken. Of more than 40 feet the
// lowest 40 count.
[[nodiscard]] double rocking_gap(const std::vector<Vec3>& feet, Vec2 centre);

}  // namespace kw
