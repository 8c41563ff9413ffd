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

class Check {
 public:
  Check(Scene& scene, const JointDecl& decl) : faults_(scene.work.faults), decl_(decl) {}

  // False, and the fault told, when the figure is as large as the wood or larger.
  bool is_less(const std::optional<Formula>& formula, std::optional<double> figure, double wood,
               std::string_view code, std::string_view message, std::string_view hint) {
    if (!figure || *figure < wood - slack) return true;
    faults_.report({.code = code,
                    .at = formula ? formula->at : decl_.name.at,
                    .message = fmt::format(fmt::runtime(message), faults_.length(*figure),
                                           faults_.length(wood)),
                    .hint = std::string(hint)});
    return false;
  }

 private:
  Faults& faults_;
  const JointDecl& decl_;
};

bool is_tongue_sound(Check& check, const JointDecl& decl, const ResolvedJoint& joint, const Part& a,
                     const Part& b) {
  const bool is_tenon = joint.kind == JointKind::tenon;
  const double wood = is_tenon ? thickness_of(b) : std::min(thickness_of(a), thickness_of(b));
  if (!check.is_less(decl.thick, joint.thick, wood, "piece.tenon-too-thick",
                     "a tongue {} thick leaves nothing to its sides: the wood is {} thick",
                     "make `thick` about a third of that"))
    return false;
  if (!is_tenon) return true;
  return check.is_less(decl.wide, joint.wide, width_of(b) + 2 * slack, "piece.tenon-too-wide",
                       "a tenon {} wide is wider than its board, {}", "make `wide` less") &&
         check.is_less(
             decl.length, joint.length, wood_for(joint, a, &b) + 2 * slack, "piece.tenon-too-long",
             "a tenon {} long comes out of the other board, which is {} there", "make `long` less");
}

}  // namespace

bool can_be_made(Scene& scene, const JointDecl& decl, const ResolvedJoint& joint, const Part& a,
                 const Part* b) {
  Check check(scene, decl);
  if (joint.kind == JointKind::notch) return true;
  if (b && (joint.kind == JointKind::tenon || joint.kind == JointKind::bridle))
    return is_tongue_sound(check, decl, joint, a, *b);
  if (b && joint.kind == JointKind::dowel)
    return check.is_less(decl.diameter, joint.diameter, std::min(thickness_of(a), thickness_of(*b)),
                         "piece.dowel-too-thick", "a dowel of {} splits a board {} thick",
                         "make `diameter` about a third of that");
  if (!check.is_less(decl.depth, joint.depth, wood_for(joint, a, b), "piece.too-deep-cut",
                     "a cut {} deep goes right through the board, which is {} there",
                     "make `depth` less"))
    return false;
  if (b || joint.kind != JointKind::groove || !joint.wide) return true;
  const bool is_in_edge = joint.face == "+y" || joint.face == "-y";
  return check.is_less(decl.wide, joint.wide, is_in_edge ? thickness_of(a) : width_of(a),
                       "piece.too-wide-cut", "a groove {} wide takes all of a side {} wide",
                       "make `width` less");
}

}  // namespace kw::resolving
