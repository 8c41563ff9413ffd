// Private to drawing: which stretches of edges lie behind faces. All in view coordinates: x right,
// y up, z towards the eye, millimetres of the thing itself.
#pragma once

#include <algorithm>
#include <vector>

#include "kerfwright/drawing/view.h"

namespace kw {

struct Axes {
  Vec3 right = {}, up = {}, towards = {};
  [[nodiscard]] Vec3 turn(Vec3 p) const { return {dot(right, p), dot(up, p), dot(towards, p)}; }
};

[[nodiscard]] inline Axes axes_of(const Look& look) {
  Axes axes;
  axes.towards = unit(look.towards);
  axes.right = unit(cross(look.up, axes.towards));
  axes.up = cross(axes.towards, axes.right);
  return axes;
}

struct Box {
  double left = 1e300, right = -1e300, low = 1e300, high = -1e300, near = -1e300;
  void add(Vec3 p) {
    left = std::min(left, p.x);
    right = std::max(right, p.x);
    low = std::min(low, p.y);
    high = std::max(high, p.y);
    near = std::max(near, p.z);
  }
};

// A face that looks at the eye, in view coordinates.
struct Screen {
  std::vector<std::vector<Vec3>> loops = {};
  Plane plane = {};
  Box box = {};
};

// An edge to be drawn with its pen where nothing stands before it. With the pen `hidden` it lies
// behind its own body and is not looked at further.
struct Candidate {
  Vec3 from = {}, to = {};
  Pen pen = Pen::edge;
  int body = 0;
};

// The edges cut to stretches seen and (when asked for) hidden; joined where they run on in one
// another.
[[nodiscard]] std::vector<ViewLine> lines_before(const std::vector<Screen>& screens,
                                                 const std::vector<Candidate>& edges,
                                                 bool with_hidden);

// The lines of a view with the box around them.
[[nodiscard]] View boxed(std::vector<ViewLine> lines);

// What view_of looks at: the faces towards the eye, and the edges with their pens.
[[nodiscard]] std::vector<Screen> screens_of(const std::vector<Shown>& shown, const Axes& axes);
[[nodiscard]] std::vector<Candidate> candidates_of(const std::vector<Shown>& shown,
                                                   const Axes& axes, bool with_hidden);

}  // namespace kw
