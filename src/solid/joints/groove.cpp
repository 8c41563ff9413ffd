// Rabbets and grooves in one board alone.
#include <algorithm>
#include <cmath>

#include "joints/kinds.h"

namespace kw {
namespace {

// The face of the stick that looks most along a direction.
Plane face_along(const Stick& stick, Vec3 direction) {
  Plane best = {};
  double most = -2;
  for (const Convex::Side& side : stick.wood.sides)
    if (dot(side.plane.normal, direction) > most + 1e-9) {
      most = dot(side.plane.normal, direction);
      best = side.plane;
    }
  return best;
}

// The hollow down to `depth` below a face.
Plane down_from(const Plane& face, double depth) {
  return {-face.normal, depth - face.offset};
}

// Where the board starts on its middle line: `starts` and `ends` are measured from there.
double start_of(const Recipe& recipe) {
  double start = recipe.from_x;
  for (const Recipe::Trim& trim : recipe.trims)
    if (recipe.features[static_cast<std::size_t>(trim.feature)].kind == FeatureKind::start &&
        trim.plane.normal.x < 0)
      start = std::max(start, trim.plane.offset / trim.plane.normal.x);
  return start;
}

// Bounds along the grain, where the joint gives them.
void bound_along(const Joining& joining, Hollowing& hollow) {
  const Frame& frame = joining.a.stick->frame;
  const double start = start_of(*joining.a.recipe) + dot(frame.origin, frame.x);
  if (joining.joint.starts) hollow.push_back({-frame.x, -(start + *joining.joint.starts)});
  if (joining.joint.ends) hollow.push_back({frame.x, start + *joining.joint.ends});
}

void cut_alone(Joining& joining, FeatureKind kind, Hollowing hollow) {
  const bool is_in_end = joining.joint.face == "start" || joining.joint.face == "end";
  if (is_in_end && (joining.joint.starts || joining.joint.ends))
    return tell(
        joining, "solid.outside",
        "`starts` and `ends` are measured along the board, and a groove in its end lies across",
        "leave them out");
  bound_along(joining, hollow);
  if (take_away(joining, joining.a, kind, {hollow})) return;
  tell(joining, "solid.outside", "it lies outside the board, so there is nothing to cut",
       "check its measures against the board's");
}

}  // namespace

void cut_rabbet(Joining& joining) {
  const Stick& stick = *joining.a.stick;
  const Plane edge = face_along(stick, axis_of(stick.frame, joining.joint.edge));
  const Plane face = face_along(stick, axis_of(stick.frame, joining.joint.face));
  cut_alone(joining, FeatureKind::rabbet,
            {down_from(edge, joining.joint.wide.value_or(0)),
             down_from(face, joining.joint.depth.value_or(0))});
}

void cut_groove(Joining& joining) {
  const Stick& stick = *joining.a.stick;
  const Vec3 out = axis_of(stick.frame, joining.joint.face);
  // In a broad face it lies across the width, in an edge or an end through the thickness.
  const Vec3 across = std::abs(dot(out, stick.frame.z)) > 0.5 ? stick.frame.y : stick.frame.z;
  const double middle = dot(stick.frame.origin, across) + joining.joint.across.value_or(0);
  const double half = joining.joint.wide.value_or(0) / 2;
  cut_alone(joining, FeatureKind::groove,
            {down_from(face_along(stick, out), joining.joint.depth.value_or(0)),
             {across, middle + half},
             {-across, half - middle}});
}

}  // namespace kw
