// Private to solid: one joint at work on its two boards, and how it takes wood away.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "joints/bits.h"
#include "stick.h"

namespace kw {

struct JoinedBoard {
  int board = -1;  // index into Resolved::boards; -1: the joint has one board only
  const Stick* stick = nullptr;
  Recipe* recipe = nullptr;
};

struct Joining {
  const Resolved& piece;
  int index = 0;  // into Resolved::joints
  const ResolvedJoint& joint;
  JoinedBoard a = {}, b = {};
  Bits& bits;
  int& holes_left;  // of the piece: what a file can make the program spend is bounded
  Diagnostics& diagnostics;
  std::vector<Driven>* driven = nullptr;  // told of each fastener, where somebody asks
  const Fastener* fastener = nullptr;     // of the joint, once it is known
};

// The flat patch in which two boards bear on one another: where fasteners go through.
struct Patch {
  Plane plane = {};  // the normal looks from a into b
  Loop loop = {};
  double slot = 0;  // how deep b's tongue stands in a's wood behind the patch; 0: a ends there
};

// In the world, the half-spaces whose meeting is taken away; normals look into the wood left.
using Hollowing = std::vector<Plane>;

// Takes the hollowings out of one board as one feature. A plane becomes a wall only where it passes
// more than `no_length` through the inside of the board's stick and bounds the hollow there, so
// that a plane flush with a face or beyond it leaves a cut that runs out cleanly. Walls that stand
// opposite one another are moved apart by the joint's ease in all; a lone wall (a bottom, a
// shoulder) stays. False when no wood is met.
bool take_away(Joining& joining, const JoinedBoard& board, FeatureKind kind,
               const std::vector<Hollowing>& hollowings);

// The boards' own names for messages: `"leg-a" and "rail"`.
[[nodiscard]] std::string names_of(const Joining& joining);
// A length in the piece's unit.
[[nodiscard]] std::string written(const Joining& joining, double mm);
// Files an error at the joint.
void tell(Joining& joining, std::string_view code, std::string message, std::string hint);
// solid.no-overlap, with the distance between the sticks.
void tell_no_overlap(Joining& joining);
// True when the boards' broad faces are parallel within 0.1 degree; files solid.not-flat when not.
[[nodiscard]] bool is_flat(Joining& joining);

// "+x" ... "-z", "start" or "end" of a frame, in the world; "" is +z.
[[nodiscard]] Vec3 axis_of(const Frame& frame, std::string_view word);

}  // namespace kw
