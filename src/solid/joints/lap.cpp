// Half-laps and bridles: both boards lie flat on one plane and share their thickness.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "joints/kinds.h"

namespace kw {
namespace {

// The faces of a stick that are not its broad ones: what the partner's recess is walled by.
Hollowing edges_of(const Stick& stick, Vec3 up) {
  Hollowing edges;
  for (const Convex::Side& side : stick.wood.sides)
    if (std::abs(dot(side.plane.normal, up)) < 1 - 1e-9) edges.push_back(side.plane);
  return edges;
}

Hollowing with(Hollowing planes, const Plane& plane) {
  planes.push_back(plane);
  return planes;
}

// Half-spaces along `up`: below a height, or above it.
Plane below(Vec3 up, double height) {
  return {up, height};
}
Plane above(Vec3 up, double height) {
  return {-up, -height};
}

struct Share {
  Reach a = {}, b = {}, common = {};
};

Share share_of(const Joining& joining, Vec3 up) {
  Share share{reach_of(joining.a.stick->wood, up), reach_of(joining.b.stick->wood, up)};
  share.common = {std::max(share.a.from, share.b.from), std::min(share.a.to, share.b.to)};
  return share;
}

// Boards that overlap only in part can only go together one way: the higher one is over.
bool is_a_over(Joining& joining, const Share& share) {
  const bool a_is_higher =
      share.a.to > share.b.to + no_length && share.a.from > share.b.from + no_length;
  const bool b_is_higher =
      share.b.to > share.a.to + no_length && share.b.from > share.a.from + no_length;
  if (a_is_higher && !joining.joint.a_is_over)
    tell(joining, "solid.lap-side",
         fmt::format("the second of {} cannot be over: the first stands higher", names_of(joining)),
         "take `over` away, or say over = \"a\"");
  return b_is_higher ? false : a_is_higher || joining.joint.a_is_over;
}

}  // namespace

std::optional<Patch> cut_half_lap(Joining& joining) {
  if (!is_flat(joining)) return std::nullopt;
  const Vec3 up = joining.a.stick->frame.z;
  const Share share = share_of(joining, up);
  const double thickness = share.common.length();
  if (thickness < no_length) return tell_no_overlap(joining), std::nullopt;
  const double depth = joining.joint.depth.value_or(thickness / 2);
  if (depth < no_length || depth > thickness - no_length) {
    tell(joining, "solid.too-deep",
         fmt::format("a lap {} deep does not fit the {} that {} have in common",
                     written(joining, depth), written(joining, thickness), names_of(joining)),
         "leave `depth` out for half, or make it less");
    return std::nullopt;
  }
  const bool a_over = is_a_over(joining, share);
  const double split = a_over ? share.common.from + depth : share.common.to - depth;
  const auto low = below(up, split), high = above(up, split);
  const bool met = take_away(joining, joining.a, FeatureKind::half_lap,
                             {with(edges_of(*joining.b.stick, up), a_over ? low : high)}) &&
                   take_away(joining, joining.b, FeatureKind::half_lap,
                             {with(edges_of(*joining.a.stick, up), a_over ? high : low)});
  if (!met) return tell_no_overlap(joining), std::nullopt;
  const Plane into_b = a_over ? Plane{-up, -split} : Plane{up, split};
  return Patch{into_b, section_of(into_b, joining.a.stick->wood, joining.b.stick->wood)};
}

std::optional<Patch> cut_bridle(Joining& joining) {
  if (!is_flat(joining)) return std::nullopt;
  const Vec3 up = joining.a.stick->frame.z;
  const Share share = share_of(joining, up);
  const double full = share.a.length(), middle = (share.a.from + share.a.to) / 2;
  const double thick = joining.joint.thick.value_or(full / 3);
  if (thick < no_length || thick > full - 2 * no_length) {
    tell(joining, "solid.too-deep",
         fmt::format("a tongue {} thick leaves no cheeks on a board {} thick",
                     written(joining, thick), written(joining, full)),
         "leave `thick` out for a third, or make it less");
    return std::nullopt;
  }
  const double top = std::min(middle + thick / 2, share.b.to),
               bottom = std::max(middle - thick / 2, share.b.from);
  if (top - bottom < no_length) return tell_no_overlap(joining), std::nullopt;
  const Hollowing a_edges = edges_of(*joining.a.stick, up);
  const Hollowing slot =
      with(with(edges_of(*joining.b.stick, up), below(up, top)), above(up, bottom));
  if (!take_away(joining, joining.a, FeatureKind::bridle, {slot}))
    return tell_no_overlap(joining), std::nullopt;
  take_away(joining, joining.b, FeatureKind::bridle,
            {with(a_edges, above(up, top)), with(a_edges, below(up, bottom))});
  const Plane into_b = {-up, -top};
  return Patch{into_b, section_of(into_b, joining.a.stick->wood, joining.b.stick->wood),
               top - bottom};
}

}  // namespace kw
