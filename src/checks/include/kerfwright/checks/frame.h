// A frame of straight members in space: linear, static, small displacements. Members bend, twist,
// stretch and shear (Timoshenko); links tie two nodes by springs at a point between them, with
// rigid arms; nodes may be held, or moved on purpose. Units: mm, N, MPa (N mm for moments,
// radians).
//
// Where a link presses and parts unlike, each case is brought to rest by itself, so such answers do
// not add up. Exact at the nodes for loads on nodes and even loads on members, so more nodes change
// nothing (McGuire, Gallagher, Ziemian, Matrix Structural Analysis, ch. 4; Przemieniecki, Theory of
// Matrix Structural Analysis, ch. 5, for shear). The stiffness is solved sparse.
#pragma once

#include <array>
#include <vector>

#include "kerfwright/measure/vector.h"

namespace kw {

struct FrameNode {
  Vec3 at = {};
  std::array<bool, 6> held = {};     // moving x y z, turning about x y z
  std::array<double, 6> moved = {};  // of held directions: by how much (0)
};

struct Profile {
  double area = 0;
  double shear_y = 0, shear_z = 0;      // area that shears for bending in y, z; 0: no shear bending
  double inertia_y = 0, inertia_z = 0;  // about the member's y, z
  double torsion = 0;                   // J
};
// A rectangle, `width` along y and `thickness` along z; shears over 5/6 of it; J by Roark's formula
// (Table 10.1; within 4 %).
[[nodiscard]] Profile rectangle(double width, double thickness);

struct FrameMember {
  int from = 0, to = 0;
  Vec3 z = {0, 0, 1};  // the member's z lies in the plane of this and the member's line
  Profile profile = {};
  double stiffness = 0, shear_stiffness = 0;  // E, G
  Vec3 even = {};                             // load on each mm of length, N/mm, world
};

// Springs at `at`, along the axes of `frame`: N/mm for moving, N mm for turning.
struct FrameLink {
  int a = 0, b = 0;
  Frame frame = {};  // its origin is the point where the two meet
  Vec3 moving = {}, turning = {};
  // Along z while b parts from a (z looks from a to b); below zero: as when pressed. Boards press
  // on one another but only their fasteners hold them together.
  double parting = -1;
};

struct NodeLoad {
  int node = 0;
  Vec3 force = {}, moment = {};
};

struct FrameModel {
  std::vector<FrameNode> nodes = {};
  std::vector<FrameMember> members = {};
  std::vector<FrameLink> links = {};
};
struct FrameLoads {
  std::vector<NodeLoad> nodes = {};
  std::vector<Vec3> even = {};  // by member, N/mm, added to FrameMember::even; may be empty
  double own = 1;               // how much of FrameMember::even counts
};

// Forces that the member's ends feel, in its own axes: N, then N mm.
struct MemberForces {
  std::array<double, 6> at_from = {}, at_to = {};
  double most_bending_y = 0, most_bending_z = 0;  // anywhere along it, absolute
};
struct FrameAnswer {
  bool is_solved = false;  // false: it moves freely somewhere, or holds no number
  std::vector<Vec3> moved = {}, turned = {};  // by node
  std::vector<MemberForces> members = {};
  std::vector<Vec3> link_forces = {}, link_moments = {};    // on b, in the link's axes
  std::vector<Vec3> reactions = {}, reaction_moments = {};  // by node, of held directions
};

// Solves one model under several loads; the stiffness is factorised once, and links that part are
// let go by a small system of their own (Woodbury), at most 12 times a case; where more than 250
// part at once, all count as held together.
[[nodiscard]] std::vector<FrameAnswer> solve(const FrameModel& model,
                                             const std::vector<FrameLoads>& cases);

}  // namespace kw
