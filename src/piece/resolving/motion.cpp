#include "motion.h"

#include <algorithm>

#include "place.h"

namespace kw::resolving {
namespace {

// No -0, so that what is mirrored twice is the same to the bit.
double negated(double value) {
  return value == 0 ? 0.0 : -value;
}
Vec2 flipped(Vec2 p) {
  return {p.x, negated(p.y)};
}
Vec3 flipped(Vec3 p) {
  return {p.x, negated(p.y), p.z};
}

// The sides turn round with the corners: the side after a corner is then the one before it.
Hollow flipped(const Hollow& hollow) {
  Hollow out;
  const std::size_t n = hollow.points.size();
  for (std::size_t i = 0; i < n; ++i) {
    out.points.push_back(flipped(hollow.points[n - 1 - i]));
    out.curves.push_back(hollow.curves[(2 * n - 2 - i) % n]);
  }
  return out;
}

}  // namespace

Motion shifted_by(Vec3 move) {
  return {.move = move};
}

Motion mirrored_in(const Plane& plane) {
  const Vec3 n = plane.normal;
  const auto mirrored = [&](Vec3 axis) { return axis - n * (2 * dot(n, axis)); };
  return {.x = mirrored({1, 0, 0}),
          .y = mirrored({0, 1, 0}),
          .z = mirrored({0, 0, 1}),
          .move = n * (2 * plane.offset),
          .is_mirror = true};
}

Motion turned_about(Vec3 point, Vec3 axis, Angle angle) {
  Motion motion{.x = turned({1, 0, 0}, axis, angle),
                .y = turned({0, 1, 0}, axis, angle),
                .z = turned({0, 0, 1}, axis, angle)};
  motion.move = point - motion.turn(point);
  return motion;
}

Motion in_turn(const Motion& first, const Motion& then) {
  return {.x = then.turn(first.x),
          .y = then.turn(first.y),
          .z = then.turn(first.z),
          .move = then.apply(first.move),
          .is_mirror = first.is_mirror != then.is_mirror};
}

Frame moved(const Frame& frame, const Motion& motion) {
  const Vec3 y = motion.turn(frame.y);
  return {motion.apply(frame.origin), motion.turn(frame.x), motion.is_mirror ? -y : y,
          motion.turn(frame.z)};
}

long size_of(const Features& features) {
  std::size_t size = features.cuts.size() + features.curves.size() + features.holes.size();
  for (const Hollow& hollow : features.hollows) size += hollow.points.size();
  return static_cast<long>(size);
}

void append(Features& to, const Features& more) {
  const int first = static_cast<int>(to.curves.size());
  const auto renumber = [&](int& curve) {
    if (curve >= 0) curve += first;
  };
  for (PlaneCut cut : more.cuts) {
    renumber(cut.curve);
    to.cuts.push_back(std::move(cut));
  }
  for (Hollow hollow : more.hollows) {
    std::for_each(hollow.curves.begin(), hollow.curves.end(), renumber);
    to.hollows.push_back(std::move(hollow));
  }
  to.curves.insert(to.curves.end(), more.curves.begin(), more.curves.end());
  to.holes.insert(to.holes.end(), more.holes.begin(), more.holes.end());
}

Plane flipped(const Plane& plane) {
  return {flipped(plane.normal), plane.offset};
}

Features flipped(const Features& features) {
  Features out = features;
  for (PlaneCut& cut : out.cuts) cut.plane = flipped(cut.plane);
  for (Hollow& hollow : out.hollows) hollow = flipped(hollow);
  for (Curve& curve : out.curves) curve.centre = flipped(curve.centre);
  for (ResolvedHole& hole : out.holes) {
    hole.mouth = flipped(hole.mouth);
    hole.direction = flipped(hole.direction);
  }
  return out;
}

ResolvedJoint flipped(ResolvedJoint joint, bool is_a_mirrored, bool is_b_mirrored) {
  // A pocket is in a side of b; every other side named is one of a.
  const bool is_face_of_b = joint.kind == JointKind::pocket_screw;
  if (is_face_of_b ? is_b_mirrored : is_a_mirrored) joint.face = flipped_side(joint.face);
  if (is_a_mirrored) {
    joint.edge = flipped_side(joint.edge);
    // In an edge or an end it counts through the thickness, which a mirror leaves as it is.
    const bool is_across_width = joint.face == "+z" || joint.face == "-z";
    if (joint.across && is_across_width) joint.across = negated(*joint.across);
  }
  if (is_b_mirrored && joint.offset) (*joint.offset)[0] = negated((*joint.offset)[0]);
  return joint;
}

std::string flipped_side(const std::string& side) {
  if (side == "+y") return "-y";
  return side == "-y" ? "+y" : side;
}

}  // namespace kw::resolving
