// Whether a joint fits its boards: what can be said from their sections alone.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "joint.h"
#include "place.h"

namespace kw::resolving {
namespace {

constexpr double slack = 1e-6;  // mm

double thickness_of(const Part& part) {
  return part.board.section.thickness.in_mm();
}
double width_of(const Part& part) {
  return part.board.section.width.in_mm();
}

// What a board measures along a direction of the scene, ends apart: its thickness or its width,
// whichever lies nearer to it.
double size_along(const Part& part, Vec3 direction) {
  const Frame& frame = part.board.frame;
  return std::abs(dot(direction, frame.z)) >= std::abs(dot(direction, frame.y)) ? thickness_of(part)
                                                                                : width_of(part);
}

// How thick a is where the joint is cut into it.
double wood_for(const ResolvedJoint& joint, const Part& a, const Part* b) {
  if (joint.face == "+z" || joint.face == "-z") return thickness_of(a);
  if (joint.face == "+y" || joint.face == "-y") return width_of(a);
  if (!b) return thickness_of(a);
  if (joint.kind == JointKind::housing || joint.kind == JointKind::tenon)
    return size_along(a, b->board.frame.x);
  if (joint.kind != JointKind::half_lap) return std::max(thickness_of(a), width_of(a));
  const Vec3 normal = cross(a.board.frame.x, b->board.frame.x);
  return norm(normal) < 1e-9 ? thickness_of(a) : size_along(a, unit_of(normal));
}

// A figure of a joint, and the wood that it must leave something of.
struct Limit {
  const std::optional<Formula>& formula;
  std::optional<double> figure = {};
  double wood = 0;
  bool may_take_all = false;
  std::string_view code = {}, message = {},
                   hint = {};  // the message names the figure, then the wood
};

bool is_kept(Scene& scene, const Limit& limit) {
  if (!limit.figure || *limit.figure < limit.wood + (limit.may_take_all ? slack : -slack))
    return true;
  Faults& faults = scene.work.faults;
  faults.report({.code = limit.code,
                 .at = limit.formula ? limit.formula->at : Span{},
                 .message = fmt::format(fmt::runtime(limit.message), faults.length(*limit.figure),
                                        faults.length(limit.wood)),
                 .hint = std::string(limit.hint)});
  return false;
}

bool is_tongue_sound(Scene& scene, const JointDecl& decl, const ResolvedJoint& joint, const Part& a,
                     const Part& b) {
  const bool is_tenon = joint.kind == JointKind::tenon;
  const double wood = is_tenon ? thickness_of(b) : std::min(thickness_of(a), thickness_of(b));
  return is_kept(scene, {decl.thick, joint.thick, wood, false, "piece.tenon-too-thick",
                         "a tongue {} thick leaves nothing to its sides: the wood is {} thick",
                         "make `thick` about a third of that"}) &&
         is_kept(scene, {decl.wide, joint.wide, width_of(b), true, "piece.tenon-too-wide",
                         "a tenon {} wide is wider than its board, {}", "make `wide` less"}) &&
         is_kept(scene,
                 {decl.length, joint.length, wood_for(joint, a, &b), true, "piece.tenon-too-long",
                  "a tenon {} long comes out of the other board, which is {} there",
                  "make `long` less"});
}

bool is_groove_sound(Scene& scene, const JointDecl& decl, const ResolvedJoint& joint,
                     const Part& a) {
  const bool is_in_edge = joint.face == "+y" || joint.face == "-y";
  return is_kept(scene, {decl.wide, joint.wide, is_in_edge ? thickness_of(a) : width_of(a), false,
                         "piece.too-wide-cut", "a groove {} wide takes all of a side {} wide",
                         "make `width` less"});
}

}  // namespace

bool can_be_made(Scene& scene, const JointDecl& decl, const ResolvedJoint& joint, const Part& a,
                 const Part* b) {
  if (joint.kind == JointKind::notch) return true;
  if (b && (joint.kind == JointKind::tenon || joint.kind == JointKind::bridle))
    return is_tongue_sound(scene, decl, joint, a, *b);
  if (b && joint.kind == JointKind::dowel)
    return is_kept(
        scene, {decl.diameter, joint.diameter, std::min(thickness_of(a), thickness_of(*b)), false,
                "piece.dowel-too-thick", "a dowel of {} splits a board {} thick",
                "make `diameter` about a third of that"});
  if (!is_kept(scene, {decl.depth, joint.depth, wood_for(joint, a, b), false, "piece.too-deep-cut",
                       "a cut {} deep goes right through the board, which is {} there",
                       "make `depth` less"}))
    return false;
  return b || joint.kind != JointKind::groove || is_groove_sound(scene, decl, joint, a);
}

}  // namespace kw::resolving
