// Ends that go into another board: housed, tenoned, bridled. The file cuts them to the face of that
// board; here they are moved on into it.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "joint.h"
#include "place.h"

namespace kw::resolving {
namespace {

constexpr double at_place = 0.01;      // mm: an end this near to where it should be is there
constexpr double parallel = 1.523e-6;  // 1 - cos(0.1 degree)

// Where a part's middle line leaves an end, and the end's plane, in the scene.
struct EndInScene {
  Which which = at_start;
  Plane plane = {};
  Vec3 point = {}, outward = {};  // outward: along the board
};

EndInScene end_in_scene(const Part& part, Which which) {
  const Plane& plane = part.ends[which].plane;
  const Frame& frame = part.board.frame;
  return {which, frame.to_world(plane), frame.to_world(Vec3{end_on_line(part, which), 0, 0}),
          frame.x * (which == at_start ? -1.0 : 1.0)};
}

double outside(const Convex& body, Vec3 point) {
  double furthest = -1e300;
  for (const Convex::Side& side : body.sides)
    furthest = std::max(furthest, side.plane.distance(point));
  return furthest;
}

// The end that goes into the other board: the one nearer to it.
EndInScene entering_end(const Part& part, const Convex& other) {
  const EndInScene start = end_in_scene(part, at_start), end = end_in_scene(part, at_end);
  return outside(other, start.point) < outside(other, end.point) ? start : end;
}

// The face of the other board that the end lies on or has gone through: it looks against the end.
const Convex::Side* entry_face(const Convex& other, const EndInScene& end) {
  const Convex::Side* best = nullptr;
  for (const Convex::Side& side : other.sides)
    if (dot(side.plane.normal, end.plane.normal) < -1 + parallel &&
        (!best || side.plane.distance(end.point) > best->plane.distance(end.point)))
      best = &side;
  return best;
}

// How far into the other board the joint's own rules let an end go, square to the face, where the
// file does not say: a third of it for a housing, two thirds for a tenon (common practice, no
// published source), all of it for a bridle.
double usual_depth(JointKind kind, double wood) {
  if (kind == JointKind::housing) return wood / 3;
  return kind == JointKind::tenon ? wood * 2 / 3 : wood;
}

bool is_entering(JointKind kind) {
  return kind == JointKind::housing || kind == JointKind::tenon || kind == JointKind::bridle;
}

void tell_elsewhere(Scene& scene, const Part& part, const ResolvedJoint& joint, double is,
                    double wanted) {
  const Faults& faults = scene.work.faults;
  const std::string where = is < 0 ? fmt::format("{} short of the other board", faults.length(-is))
                                   : fmt::format("{} inside the other board", faults.length(is));
  scene.work.faults.report({.code = "piece.end-at-another-depth",
                            .severity = Severity::warning,
                            .at = joint.at,
                            .message = fmt::format("the end of `{}` lies {}; the joint is {} deep",
                                                   part.board.id, where, faults.length(wanted)),
                            .hint = "cut the end to the face of that board, { against = ... }: it "
                                    "is then moved in by itself"});
}

void enter(Scene& scene, Part& part, const Part& other, ResolvedJoint& joint) {
  const Convex body = body_of(other);
  if (body.sides.empty()) return;
  const EndInScene end = entering_end(part, body);
  const Convex::Side* face = entry_face(body, end);
  if (!face) return;
  const double is = -face->plane.distance(end.point);
  const double wood = face->plane.offset - reach_of(body, face->plane.normal).from;
  const double slope =
      std::abs(dot(end.plane.normal, end.outward));  // of the end against the board's line
  const bool is_tenon = joint.kind == JointKind::tenon;
  auto& said = is_tenon ? joint.length : joint.depth;
  const bool is_said = said && joint.kind != JointKind::bridle;
  double wanted = usual_depth(joint.kind, wood);
  if (is_said) wanted = is_tenon ? *said * slope : *said;
  if (std::abs(is) <= at_place)
    part.ends[end.which].plane.offset += wanted;
  else if (std::abs(is - wanted) > at_place) {
    if (is_said) tell_elsewhere(scene, part, joint, is, wanted);
    return;
  }
  if (!is_said && joint.kind != JointKind::bridle) said = is_tenon ? wanted / slope : wanted;
}

}  // namespace

// Sources before their copies, so that what moves a source's end has moved the copy's when its own
// joint looks at it.
void enter_others(Scene& scene) {
  std::vector<std::vector<std::size_t>> of_part(scene.parts.size());
  bool has_any = false;
  for (std::size_t j = 0; j < scene.joints.size(); ++j) {
    const Joined& joined = scene.joints[j];
    if (joined.is_settled || joined.joint.b < 0 || !is_entering(joined.joint.kind)) continue;
    of_part[at_index(joined.joint.b)].push_back(j);
    has_any = true;
  }
  if (!has_any) return;
  for (std::size_t i = 0; i < scene.parts.size(); ++i) {
    Part& part = scene.parts[i];
    if (part.source >= 0 && !part.is_broken)
      for (const Which which : {at_start, at_end}) {
        const Plane& of_source = scene.part(part.source).ends[which].plane;
        part.ends[which].plane = part.is_flipped ? flipped(of_source) : of_source;
      }
    for (const std::size_t j : of_part[i]) {
      ResolvedJoint& joint = scene.joints[j].joint;
      enter(scene, part, scene.part(joint.a), joint);
    }
  }
}

}  // namespace kw::resolving
