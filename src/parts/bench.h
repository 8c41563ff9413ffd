// Private to parts: one shape as it lies on the bench, and the figures that are read off it.
#pragma once

#include <vector>

#include "kerfwright/parts/cut_list.h"

namespace kw {

// What the builders of ends, marks and holes share. `size` is the box in the bench frame.
struct Bench {
  const Resolved* piece = nullptr;
  const Shape* shape = nullptr;
  Lie lie = {};
  Vec3 size = {};
  Length rule = {};
  Part* part = nullptr;
};

// The figure for a coordinate or size in mm: made once for each way and value, rounded to the rule.
[[nodiscard]] int figure_of(Bench& bench, Way way, double mm);

// Swing and tilt of a plane with outward unit normal n (bench frame): atan2(n_y, |n_x|), asin(n_z).
[[nodiscard]] Angle swing_of(Vec3 n);
[[nodiscard]] Angle tilt_of(Vec3 n);
[[nodiscard]] Angle as_printed(Angle angle);

// The normal with its swing and tilt as printed, looking the same way along x.
[[nodiscard]] Vec3 printed_normal(Vec3 n);

// x of a plane at the given y and z; not finite where the plane runs along x.
[[nodiscard]] double x_on(const Plane& plane, double y, double z);

// One cutter of a feature, in the bench frame; planes[0] is side `first_side` of the feature.
struct BenchCutter {
  std::vector<Plane> planes = {};
  int first_side = 0;
};
[[nodiscard]] std::vector<BenchCutter> cutters_of(const Bench& bench, const Feature& feature);

// The convex outline that a cutter leaves on one side of the box; empty when it does not open
// there.
[[nodiscard]] std::vector<Vec3> opening_on(const Bench& bench, const std::vector<Plane>& cutter,
                                           Side side);

// Which coordinate is constant on a side (0 x, 1 y, 2 z), and whether it is the high one.
struct SideFrame {
  int axis = 0;
  bool is_high = false;
};
[[nodiscard]] SideFrame frame_of(Side side);
[[nodiscard]] Vec3 outward(Side side);

// The face that ends the stick at its start or end: the end's own cut, or the stick's face when
// that is square; null when other cuts have taken it away.
[[nodiscard]] const Face* end_face(const Shape& shape, Side side);

// How well a turn suits the bench: hook end square or its tip on the marked edge, most marks
// upward.
[[nodiscard]] Lie best_lie(const Resolved& piece, const Body& body);

// Whether the width of a part comes from a rip fence, not from the yard.
[[nodiscard]] bool is_ripped(const Resolved& piece, const Part& part);

void add_ends(Bench& bench);   // ends and further straight cuts
void add_marks(Bench& bench);  // what joints and hollows take away
void add_holes(Bench& bench);

}  // namespace kw
