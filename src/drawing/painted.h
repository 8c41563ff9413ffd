// Private to drawing: faces as areas to be filled, what lies behind before what lies in front.
#pragma once

#include <vector>

#include "kerfwright/drawing/view.h"

namespace kw {

struct PaintedFace {
  int body = 0;  // index into what was shown
  std::vector<Vec2> points = {};
};

// Every face that looks at the eye, from the back forwards, so that each may be painted over the
// last. Openings in a face are painted with it. Faces that lie round about before one another, of
// which no order is right, come in some order.
[[nodiscard]] std::vector<PaintedFace> painted_faces(const std::vector<Shown>& shown,
                                                     const Look& look);

}  // namespace kw
