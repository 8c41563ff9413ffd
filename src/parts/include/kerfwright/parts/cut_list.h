// From solids to shop numbers: which boards are the same part, what the saw is set to, where each
// mark goes on the tape. Every number that is printed is a `ShopFigure`: exact, and as printed to
// the rule.
//
// The bench frame of a part: it lies flat, x from the hook end (the tip the tape hooks on) along
// the grain, y across from the marked edge (y = 0, nearest you), z up from the bench; so 0 <= x <=
// length, 0 <= y <= width, 0 <= z <= thickness. All marks are measured from x = 0, never chained.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "kerfwright/measure/angle.h"
#include "kerfwright/measure/length.h"
#include "kerfwright/piece/resolved.h"
#include "kerfwright/solid/body.h"

namespace kw {

// Which way a figure is measured in the bench frame.
enum class Way : std::uint8_t { along, across, through };

// A number of the shop.
struct ShopFigure {
  Way way = Way::along;
  Length exact = {};
  Length printed = {};
};

// What a mitre saw can be set to (common practice, no published source); past it a cut is named
// with another way to make it.
inline constexpr double furthest_swing_degrees = 50;
inline constexpr double furthest_tilt_degrees = 48;

// A straight cut through the part. Swing and tilt as the part lies on the saw with its upper face
// up and its edge against the fence: swing = atan2(n_y, |n_x|), tilt = asin(n_z), n the outward
// unit normal.
struct SawCut {
  int feature = 0;                              // of the shape
  Angle swing = {}, tilt = {};                  // exact
  Angle printed_swing = {}, printed_tilt = {};  // to 0.1 degree
  int on_edge = -1;       // figure: where it meets the marked edge on the upper face
  int off_edge = -1;      // figure: where it meets the far edge on the upper face
  bool is_along = false;  // a rip, taper or bevel along the grain rather than a crosscut; then
                          // these tell its line on the upper face, and on_edge, off_edge are -1
  int from_along = -1, from_across = -1, to_along = -1, to_across = -1;
  std::string other_way = {};  // how to make it when a mitre saw cannot; "" when it can
};

// What is taken out of the part on one of its sides.
struct Opening {
  Side side = Side::front;           // of the bench frame: front is up, low_edge is the marked edge
  int near_from = -1, near_to = -1;  // figures along x on the side's edge nearer the marked edge
  int far_from = -1, far_to = -1;    // the same on its other edge; -1 when it does not reach it
  int across_from = -1, across_to = -1;  // figures across the side, for pockets and grooves
  std::vector<Vec3> outline = {};        // bench frame, exact
};
struct Mark {
  int feature = 0;
  FeatureKind kind = FeatureKind::notch;
  int joint = -1;
  std::string partner = {};  // id of the other board of the representative
  std::vector<Opening> openings = {};
  int depth = -1;  // figure, square to the side `depth_from`; -1: right through
  Side depth_from = Side::front;
  Angle swing = {}, tilt = {};  // of its walls, as a SawCut has them
  Angle printed_swing = {}, printed_tilt = {};
};

struct HoleMark {
  int feature = 0;
  FeatureKind kind = FeatureKind::hole;
  Side side = Side::front;  // where the bit enters
  int along = -1,
      across = -1;  // figures: from the hook end, from the marked edge (end faces: y and z)
  int depth = -1;   // figure, along the axis; -1: right through
  Length diameter = {};
  Angle lean = {};  // of the axis away from square to the side
};

// How a face follows from a printed number: the plane with `normal` through the point whose
// coordinate `axis` is the printed figure and whose others are `at`. All in the bench frame.
struct PlaneRule {
  int feature = 0, side = 0;  // which Face
  int figure = -1;
  int axis = 0;              // 0 x, 1 y, 2 z
  bool counts_down = false;  // the figure is measured from the far side (depth from the top)
  Vec3 at = {};
  Vec3 normal = {};     // out of the wood, at the printed angles
  int second = -1;      // a second figure on the same axis, at `second_at`: the plane goes
  Vec3 second_at = {};  // through both points, and `normal` only tells its other direction
};

// A body as it lies on the bench: bench = turn * local + move; `is_mirrored` when turn is a
// reflection.
struct Lie {
  Vec3 row_x = {1, 0, 0}, row_y = {0, 1, 0}, row_z = {0, 0, 1};
  Vec3 move = {};
  bool is_mirrored = false;
  [[nodiscard]] constexpr Vec3 turn(Vec3 d) const {
    return {dot(row_x, d), dot(row_y, d), dot(row_z, d)};
  }
  [[nodiscard]] constexpr Vec3 to_bench(Vec3 p) const { return turn(p) + move; }
  [[nodiscard]] constexpr Vec3 turn_back(Vec3 d) const {
    return row_x * d.x + row_y * d.y + row_z * d.z;
  }
  [[nodiscard]] constexpr Vec3 to_local(Vec3 p) const { return turn_back(p - move); }
};

struct Member {
  int body = 0;
  Lie lie = {};  // is_mirrored: this one is the right hand of the pair
};

// A line of the cut list.
struct Part {
  std::string letter = {};  // "A", ... "Z", "AA"
  std::string name = {};    // of the declaration its first board is made from
  int stock = 0;
  int strips = 1;
  std::vector<Member> members = {};  // the first is the one that is drawn
  int left = 0, right = 0;           // of a pair; right == 0 when all are alike
  std::vector<ShopFigure> figures = {};
  int thickness = -1, width = -1, length = -1;  // figures; length is over all, tip to tip
  std::vector<SawCut> ends = {};                // [0] the hook end, [1] the other
  std::vector<SawCut> cuts = {};                // further straight cuts: tapers, free cuts
  std::vector<Mark> marks = {};
  std::vector<HoleMark> holes = {};
  std::vector<PlaneRule> rules = {};
  bool is_curved = false;  // has roundings or an outline: needs a template
  Vec3 size = {};          // of the box around it, bench frame, exact mm
  Volume volume = {};      // of one
};

struct CutList {
  std::vector<Part> parts = {};
  std::vector<int> part_of_body = {};
  Length rule = {};
  LengthUnit unit = LengthUnit::inch;
};

// Same-part recognition: two boards are one part when a rigid motion that keeps the grain and the
// show face carries one solid onto the other (within 0.002 mm); mirror images make a left/right
// pair.
[[nodiscard]] CutList cut_list_of(const Resolved& piece, const std::vector<Body>& bodies);

// The trade's words: "half-lap", "tenon shoulder", "screw hole"; "upper face", "marked edge", "hook
// end".
[[nodiscard]] std::string_view name_of(FeatureKind kind);
[[nodiscard]] std::string_view name_of(Side side);

// The bit to drill a hole with, as it is sold in the unit: a clearance hole no smaller, a dowel
// hole as dowels are.
[[nodiscard]] Length bit_for(const HoleMark& hole, LengthUnit unit);

// Whether a cut along the grain runs parallel to it: a bevelled edge, not a taper.
[[nodiscard]] bool is_bevel(const Part& part, const SawCut& cut);

// The plane of a rule with the part's printed figures, or with its exact ones. Bench frame.
[[nodiscard]] Plane plane_of(const Part& part, const PlaneRule& rule, bool as_printed);

}  // namespace kw
