// Rigid motions and mirrors, and what a mirror does to what is cut into a board.
//
// A board's own data (cuts, hollows, holes) are in its own frame, so a motion leaves them as they
// are, to the bit; a mirror makes y of them -y and nothing else.
#pragma once

#include "kerfwright/measure/angle.h"
#include "kerfwright/piece/resolved.h"

namespace kw::resolving {

struct Motion {
  Vec3 x = {1, 0, 0}, y = {0, 1, 0}, z = {0, 0, 1};  // where the axes go
  Vec3 move = {};
  bool is_mirror = false;
  [[nodiscard]] Vec3 turn(Vec3 d) const { return x * d.x + y * d.y + z * d.z; }
  [[nodiscard]] Vec3 apply(Vec3 p) const { return turn(p) + move; }
};

[[nodiscard]] Motion shifted_by(Vec3 move);
[[nodiscard]] Motion mirrored_in(const Plane& plane);
// About a line through a point; the axis is a unit vector, the turn right-handed.
[[nodiscard]] Motion turned_about(Vec3 point, Vec3 axis, Angle angle);
// First `first`, then `then`.
[[nodiscard]] Motion in_turn(const Motion& first, const Motion& then);
// The frame after the motion: right-handed also after a mirror, its y turned round.
[[nodiscard]] Frame moved(const Frame& frame, const Motion& motion);

// What is cut into a board beside its ends. Curves are numbered within.
struct Features {
  std::vector<PlaneCut> cuts = {};
  std::vector<Hollow> hollows = {};
  std::vector<Curve> curves = {};
  std::vector<ResolvedHole> holes = {};
};
[[nodiscard]] long size_of(const Features& features);
// Adds to what is there, curves numbered on.
void append(Features& to, const Features& more);

[[nodiscard]] Plane flipped(const Plane& plane);
[[nodiscard]] Features flipped(const Features& features);
[[nodiscard]] std::string flipped_side(const std::string& side);  // "+y" is "-y"
// A joint when its first board, its second or both are mirrored: sides and offsets across turn
// round.
[[nodiscard]] ResolvedJoint flipped(ResolvedJoint joint, bool is_a_mirrored, bool is_b_mirrored);

}  // namespace kw::resolving
