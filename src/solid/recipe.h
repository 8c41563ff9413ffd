// Private to solid: what a shape is made from, by value, so that equal recipes share one shape.
#pragma once

#include <vector>

#include "kerfwright/solid/body.h"

namespace kw {

// Wood taken away: where all `planes` hold (normals out of the hollow, into the wood left). Need
// not be bounded: the core bounds it by the stick's box, grown by 1 mm, so a cut that leaves the
// wood is clean.
struct Cutter {
  int feature = 0;
  int first_side = 0;  // Face::side of planes[0]
  std::vector<Plane> planes = {};
  // For each plane the cylinder that it is a facet of (index into Recipe::cylinders), or -1. Empty:
  // all flat.
  std::vector<int> cylinders = {};
};

struct Recipe {
  double from_x = 0, to_x = 0;  // the stick before it is trimmed
  double half_width = 0, half_thickness = 0;
  std::vector<Feature> features = {};  // 0 is the stick
  // Planes that trim the convex stick, with the feature and (for roundings) cylinder of each.
  struct Trim {
    Plane plane = {};
    int feature = 0;
    int side = 0;
    int cylinder = -1;
  };
  std::vector<Trim> trims = {};
  std::vector<Cutter> cutters = {};
  std::vector<Cylinder> cylinders = {};
};

// The recipe of each board: its own cuts, outlines and holes, and what its joints take away. Joints
// need the partner's stick (before the partner's own joints), so this looks at the whole piece.
// Fasteners are told to `driven` where it is given.
[[nodiscard]] std::vector<Recipe> recipes_of(const Resolved& piece, Diagnostics& diagnostics,
                                             std::vector<Driven>* driven = nullptr);

// The solid of a recipe, in the board's frame.
[[nodiscard]] Outcome<Shape> shape_of(const Recipe& recipe);

}  // namespace kw
