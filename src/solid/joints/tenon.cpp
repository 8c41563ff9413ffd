// Tenon and mortise: b's end in a.
#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <limits>

#include "joints/kinds.h"

namespace kw {
namespace {

// The end of b that stands in a, between two planes that look out along b.
struct Tongue {
  Plane end = {}, shoulder = {};
  double length = 0;                // along b
  Reach across = {}, through = {};  // along b's y and z, in the world
};

Plane moved_back(const Plane& end, Vec3 along, double length) {
  return {end.normal, end.offset - length * std::abs(dot(end.normal, along))};
}

// How far a point lies outside a stick (negative: inside).
double outside(const Stick& stick, Vec3 point) {
  double furthest = -1e300;
  for (const Convex::Side& side : stick.wood.sides)
    furthest = std::max(furthest, side.plane.distance(point));
  return furthest;
}

// b's end whose middle lies deeper in a.
Plane end_in(const Stick& b, const Stick& a) {
  Plane best = {};
  double deepest = std::numeric_limits<double>::max();
  for (const Convex::Side& side : b.wood.sides) {
    if (std::abs(dot(side.plane.normal, b.frame.x)) < 0.5) continue;
    const double out = outside(a, middle_of(loop_of(b.wood, side)));
    if (out >= deepest) continue;
    deepest = out;
    best = side.plane;
  }
  return best;
}

// How far b's end stands in a, measured along b from the face where it comes in.
double depth_in(const Stick& a, const Stick& b, const Plane& end) {
  const Vec3 inwards = dot(end.normal, b.frame.x) > 0 ? b.frame.x : -b.frame.x;
  const double to_end = (end.offset - dot(end.normal, b.frame.origin)) / dot(end.normal, inwards);
  const auto inside = line_through(a.wood, b.frame.origin, inwards);
  return inside ? to_end - inside->from : 0;
}

// A width about b's middle line, moved by `offset`, no wider than b.
Reach share_of(const Joining& joining, Vec3 direction, double width, double offset) {
  const double middle = dot(joining.b.stick->frame.origin, direction) + offset;
  const Reach full = reach_of(joining.b.stick->wood, direction);
  const Reach share = {middle - width / 2, middle + width / 2};
  if (share.from >= full.from - no_length && share.to <= full.to + no_length && width > no_length)
    return share;
  return {0, 0};
}

std::optional<Tongue> tongue_of(Joining& joining) {
  const ResolvedJoint& joint = joining.joint;
  const Stick& b = *joining.b.stick;
  const auto offset = joint.offset.value_or(std::array<double, 2>{0, 0});
  const double full = reach_of(b.wood, b.frame.y).length();
  const double thickness = reach_of(b.wood, b.frame.z).length();
  const double wide = joint.wide.value_or(full), thick = joint.thick.value_or(thickness / 3);
  Tongue tongue{.end = end_in(b, *joining.a.stick)};
  tongue.length = joint.length.value_or(depth_in(*joining.a.stick, b, tongue.end));
  tongue.shoulder = moved_back(tongue.end, b.frame.x, tongue.length);
  tongue.across = share_of(joining, b.frame.y, wide, offset[0]);
  tongue.through = share_of(joining, b.frame.z, thick, offset[1]);
  if (tongue.across.to > tongue.across.from && tongue.through.to > tongue.through.from)
    return tongue;
  tell(
      joining, "solid.tenon-outside",
      fmt::format("a tenon {} wide and {} thick, moved by {} and {}, does not fit in the end of a "
                  "board {} x {}",
                  written(joining, wide), written(joining, thick), written(joining, offset[0]),
                  written(joining, offset[1]), written(joining, full), written(joining, thickness)),
      "make it smaller, or its `offset`");
  return std::nullopt;
}

Hollowing mortise_for(const Tongue& tongue, const Frame& frame) {
  return {{frame.y, tongue.across.to},
          {-frame.y, -tongue.across.from},
          {frame.z, tongue.through.to},
          {-frame.z, -tongue.through.from},
          tongue.end};
}

Plane beyond_shoulder(const Tongue& tongue) {
  return {-tongue.shoulder.normal, -tongue.shoulder.offset};
}

std::vector<Hollowing> shoulders_for(const Tongue& tongue, const Frame& frame) {
  const Plane beyond = beyond_shoulder(tongue);
  return {{beyond, {-frame.y, -tongue.across.to}},
          {beyond, {frame.y, tongue.across.from}},
          {beyond, {-frame.z, -tongue.through.to}},
          {beyond, {frame.z, tongue.through.from}}};
}

}  // namespace

std::optional<Patch> cut_tenon(Joining& joining) {
  const auto tongue = tongue_of(joining);
  if (!tongue) return std::nullopt;
  const Frame& frame = joining.b.stick->frame;
  if (tongue->length < no_length ||
      !take_away(joining, joining.a, FeatureKind::mortise, {mortise_for(*tongue, frame)}))
    return tell_no_overlap(joining), std::nullopt;
  take_away(joining, joining.b, FeatureKind::tenon, shoulders_for(*tongue, frame));
  // A pin goes through the tenon's cheek, from a's wood beside it.
  const Plane cheek = {-frame.z, -tongue->through.to};
  Convex standing = joining.b.stick->wood;
  Knife().cut(standing, beyond_shoulder(*tongue), -1);
  return Patch{cheek, section_of(cheek, joining.a.stick->wood, standing),
               tongue->through.to - tongue->through.from};
}

}  // namespace kw
