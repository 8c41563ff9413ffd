// The closing check: the piece put together from the printed, rounded numbers, and the worst gap
// and clash that this leaves, joint by joint.
//
// Method: each face that touches another is moved to where its printed numbers put it (PlaneRule).
// The parts are then let settle: each may shift and turn a little, so that the sum of squared gaps
// at the corners of all touching patches is least, each patch weighing as much as its area. What is
// left is reported.
// First order in the shifts, which are below a millimetre.
#pragma once

#include <vector>

#include "kerfwright/parts/cut_list.h"

namespace kw {

struct JointClosing {
  int joint = -1;             // -1: boards that touch without a joint
  int a = -1, b = -1;         // bodies
  double gap = 0, clash = 0;  // mm, worst, beyond the joint's own ease; both >= 0
};

struct Closing {
  std::vector<JointClosing> joints = {};
  double worst_gap = 0, worst_clash = 0;  // mm
  double naive_gap = 0, naive_clash = 0;  // with every number simply rounded to the nearest
  int chosen = 0;                         // figures whose rounding was chosen otherwise
  bool closes = false;                    // no gap or clash above half the rule
};

// Checks the printed numbers of `cut_list`; where plain rounding leaves a joint worse than half the
// rule, chooses up or down for the figures concerned (coordinate descent, the worst joint first)
// and writes the better set into `cut_list`.
[[nodiscard]] Closing close_up(const Resolved& piece, const std::vector<Body>& bodies,
                               CutList& cut_list);

}  // namespace kw
