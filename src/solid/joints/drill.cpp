// Holes for screws, nails, bolts, dowels and pocket screws.
//
// Figures without a published source, from common practice: a dowel is a third of the thinner board
// thick and four times its own thickness long; a pocket is 9.5 mm wide and leans 15 degrees; half
// the screw's length lies beyond the pocket's bottom in the board that has the pocket. Toe-nails
// are driven at 30 degrees, a third of their length from the end (NDS 2018 12.5.4).
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

#include "kerfwright/lumber/choose.h"

#include "bore.h"
#include "joints/kinds.h"
#include "joints/row.h"

namespace kw {
namespace {

constexpr double pocket_diameter = 9.5;  // mm
constexpr double pocket_lean = 15 * std::numbers::pi / 180;
constexpr double toe_lean = 30 * std::numbers::pi / 180;

const JoinedBoard& other_of(const Joining& joining, const JoinedBoard& board) {
  return &board == &joining.a ? joining.b : joining.a;
}

// How much wood lies from a point of the patch in a direction.
double wood_from(const JoinedBoard& board, Vec3 point, Vec3 direction) {
  const auto inside = line_through(board.stick->wood, point, direction);
  return inside ? std::max(0.0, inside->to) : 0;
}

// A hole that would come out on the far side goes right through.
double depth_within(double wanted, double wood) {
  return wanted > wood - no_length ? endless : wanted;
}

// The board that the fastener goes in through: as said, or where there is less wood to go through.
const JoinedBoard& near_of(const Joining& joining, const Patch& patch) {
  if (patch.slot > 0 || joining.joint.from == "a") return joining.a;
  if (joining.joint.from == "b") return joining.b;
  const Vec3 middle = middle_of(patch.loop), into_b = patch.plane.normal;
  const bool b_is_thinner =
      wood_from(joining.b, middle, into_b) < wood_from(joining.a, middle, -into_b) - no_length;
  return b_is_thinner ? joining.b : joining.a;
}

void tell_driven(Joining& joining, const Driven& driven) {
  if (joining.driven == nullptr) return;
  joining.driven->push_back(driven);
  joining.driven->back().joint = joining.index;
  if (joining.fastener) joining.driven->back().fastener = joining.fastener->name;
}

// The joint's fastener, or the one that the rule chooses of the kind that it names: by the wood in
// the middle of the patch. Null when there is none; told when none fits.
const Fastener* fastener_for(Joining& joining, const Patch& patch) {
  const std::string& name = joining.joint.fastener;
  const auto kind = kind_by_rule(name);
  if (!kind) return joining.bits.fastener(name);
  if (joining.joint.kind == JointKind::toe_nail) {
    tell(joining, "solid.no-fastener-fits",
         fmt::format("of toe-nails no length is chosen by rule, so `{}` does not say which", name),
         "name one, as \"common nail 8d\"");
    return nullptr;
  }
  const Catalogue& catalogue = built_in_catalogue();
  const JoinedBoard& near = near_of(joining, patch);
  const JoinedBoard& far = other_of(joining, near);
  const Vec3 in = &near == &joining.a ? patch.plane.normal : -patch.plane.normal;
  const Vec3 middle = middle_of(patch.loop);
  const double through = wood_from(near, middle, -in);
  const double wood = patch.slot > 0 ? patch.slot : wood_from(far, middle, in);
  const double stock =
      joining.piece.boards[static_cast<std::size_t>(joining.b.board)].section.thickness.in_inches();
  const Fastener* chosen =
      *kind == FastenerKind::pocket_screw
          ? choose_pocket_screw(catalogue, stock)
          : choose_screw(catalogue, {.through = through, .wood = wood, .kind = *kind});
  if (chosen == nullptr)
    tell(joining, "solid.no-fastener-fits",
         fmt::format("no {} of the tables goes through {} and bites in {} without coming out", name,
                     written(joining, through), written(joining, wood)),
         "name one, drive it from the other side with `from`, or use thicker wood");
  return chosen;
}

void drive_screw(Joining& joining, const Patch& patch, const Fastener& screw, Vec3 point) {
  const JoinedBoard& near = near_of(joining, patch);
  const JoinedBoard& far = other_of(joining, near);
  const Vec3 in = &near == &joining.a ? patch.plane.normal : -patch.plane.normal;
  const double through = wood_from(near, point, -in);
  const double clearance = screw.clearance.in_mm();
  tell_driven(joining, {.near = near.board,
                        .far = far.board,
                        .head = point - in * through,
                        .direction = in,
                        .length = screw.length.in_mm(),
                        .diameter = screw.diameter.in_mm(),
                        .through = through,
                        .wood = patch.slot > 0 ? patch.slot : wood_from(far, point, in)});
  // In a cheek the hole ends in the middle of the slot, not in the cheek beyond.
  if (clearance > 0)
    bore_into(joining, near,
              {FeatureKind::clearance_hole, point - in * through, in, clearance,
               patch.slot > 0 ? through + patch.slot / 2 : endless});
  const bool is_bolt = screw.kind == FastenerKind::bolt;
  const double bite = screw.length.in_mm() - through;
  const double wood = patch.slot > 0 ? patch.slot : wood_from(far, point, in);
  const double diameter = is_bolt ? clearance : joining.bits.pilot_in(far.board, screw);
  if (diameter > 0 && bite > no_length)
    bore_into(joining, far,
              {is_bolt ? FeatureKind::clearance_hole : FeatureKind::pilot_hole, point, in, diameter,
               is_bolt ? endless : depth_within(bite, wood)});
}

struct Dowel {
  double diameter = 0, length = 0;
};

Dowel dowel_for(const Joining& joining, const Fastener* fastener) {
  const auto thickness = [&](const JoinedBoard& board) {
    return joining.piece.boards[static_cast<std::size_t>(board.board)].section.thickness.in_mm();
  };
  const double thinner = std::min(thickness(joining.a), thickness(joining.b));
  const double diameter =
      joining.joint.diameter.value_or(fastener ? fastener->diameter.in_mm() : thinner / 3);
  return {diameter,
          joining.joint.length.value_or(fastener ? fastener->length.in_mm() : 4 * diameter)};
}

// A dowel stands half in each board; as a pin through a cheek and its tongue it goes right through.
void set_dowel(Joining& joining, const Patch& patch, const Dowel& dowel, Vec3 point) {
  const Vec3 into_b = patch.plane.normal;
  tell_driven(joining, {.near = joining.a.board,
                        .far = joining.b.board,
                        .head = point - into_b * (dowel.length / 2),
                        .direction = into_b,
                        .length = dowel.length,
                        .diameter = dowel.diameter,
                        .through = dowel.length / 2,
                        .wood = wood_from(joining.b, point, into_b),
                        .is_dowel = true});
  const auto drill_into = [&](const JoinedBoard& board, Vec3 in) {
    const double depth =
        patch.slot > 0 ? endless : depth_within(dowel.length / 2, wood_from(board, point, in));
    bore_into(joining, board, {FeatureKind::dowel_hole, point, in, dowel.diameter, depth});
  };
  drill_into(joining.a, -into_b);
  drill_into(joining.b, into_b);
}

// b's end or edge, where it bears on a: which way it looks, and the face that it is bored or nailed
// from.
struct SlantedEnd {
  Vec3 towards = {};  // square to the face, into a
  Vec3 face = {};     // out of b
  Vec3 across = {};
  double half = 0;  // of b through that face
};

std::optional<SlantedEnd> slanted_end(const Joining& joining, const Patch& patch) {
  const Frame& frame = joining.b.stick->frame;
  SlantedEnd end{.face = axis_of(frame, joining.joint.face.empty() ? "-z" : joining.joint.face)};
  double most = 0.5;  // cosine: a mitre of 45 degrees still counts as an end
  for (const Vec3 axis : {frame.x, -frame.x, frame.y, -frame.y, frame.z, -frame.z}) {
    const double into_a = -dot(axis, patch.plane.normal);
    if (into_a < most + 1e-9 || std::abs(dot(axis, end.face)) > 0.5) continue;
    most = into_a;
    end.towards = axis;
  }
  if (most == 0.5) return std::nullopt;
  end.across = cross(end.towards, end.face);
  end.half = reach_of(joining.b.stick->wood, end.face).to - dot(frame.origin, end.face);
  return end;
}

void drill_pocket(Joining& joining, const SlantedEnd& end, const Fastener& screw, Vec3 exit) {
  const Vec3 in = end.towards * std::cos(pocket_lean) - end.face * std::sin(pocket_lean);
  const double to_exit = end.half / std::sin(pocket_lean);
  const double left = screw.length.in_mm() / 2;
  tell_driven(joining, {.near = joining.b.board,
                        .far = joining.a.board,
                        .head = exit - in * left,
                        .direction = in,
                        .length = screw.length.in_mm(),
                        .diameter = screw.diameter.in_mm(),
                        .through = left,
                        .wood = wood_from(joining.a, exit, in),
                        .is_pocket = true});
  if (to_exit - left > no_length)
    bore_into(joining, joining.b,
              {FeatureKind::pocket_hole, exit - in * to_exit, in, pocket_diameter, to_exit - left});
  const double diameter = joining.bits.pilot_in(joining.a.board, screw);
  if (diameter > 0)
    bore_into(joining, joining.a,
              {FeatureKind::pilot_hole, exit, in, diameter,
               depth_within(screw.length.in_mm() - left, wood_from(joining.a, exit, in))});
}

// The point of the patch's plane that lies from `point` along the way that the end looks.
Vec3 on_end(const Patch& patch, const SlantedEnd& end, Vec3 point) {
  return point +
         end.towards * (-patch.plane.distance(point) / dot(patch.plane.normal, end.towards));
}

void drill_pockets(Joining& joining, const Patch& patch, const Fastener& screw) {
  const auto end = slanted_end(joining, patch);
  if (!end)
    return tell(
        joining, "solid.no-contact",
        fmt::format("of {} the second must bear on the first with an end or an edge to be screwed "
                    "through pockets",
                    names_of(joining)),
        "name the board with the pockets second, or use plain screws");
  const Vec3 middle = joining.b.stick->frame.origin;
  // The screws leave the end in the middle of b's thickness.
  for (const Vec3& point : row_in(joining, patch, joining.b, end->across)) {
    const Vec3 level = point + end->face * dot(middle - point, end->face);
    drill_pocket(joining, *end, screw, on_end(patch, *end, level));
  }
}

// Through b's face and its end into a; `side` is 1 or -1: from which of the two faces.
void toe_nail(Joining& joining, const Patch& patch, const SlantedEnd& end, const Fastener& nail,
              Vec3 point, double side) {
  const Vec3 face = end.face * side;
  const Vec3 in = end.towards * std::cos(toe_lean) - face * std::sin(toe_lean);
  const double through = nail.length.in_mm() / 3 / std::cos(toe_lean);
  const Vec3 middle = joining.b.stick->frame.origin;
  const Vec3 on_face = on_end(patch, end, point + face * (dot(middle - point, face) + end.half));
  const Vec3 exit = on_face - face * (through * std::sin(toe_lean));
  const Vec3 head = exit - in * through;
  const double wood = wood_from(joining.a, exit, in);
  tell_driven(joining, {.near = joining.b.board,
                        .far = joining.a.board,
                        .head = head,
                        .direction = in,
                        .length = nail.length.in_mm(),
                        .diameter = nail.diameter.in_mm(),
                        .through = through,
                        .wood = wood,
                        .is_toe_nail = true});
  const double clearance = nail.clearance.in_mm();
  const double wide = clearance > 0 ? clearance : joining.bits.pilot_in(joining.b.board, nail);
  if (wide > 0)
    bore_into(joining, joining.b,
              {clearance > 0 ? FeatureKind::clearance_hole : FeatureKind::pilot_hole, head, in,
               wide, endless});
  const double pilot = joining.bits.pilot_in(joining.a.board, nail);
  if (pilot > 0)
    bore_into(joining, joining.a,
              {FeatureKind::pilot_hole, exit, in, pilot,
               depth_within(nail.length.in_mm() - through, wood)});
}

void toe_nails(Joining& joining, const Patch& patch, const Fastener& nail) {
  const auto end = slanted_end(joining, patch);
  if (!end)
    return tell(joining, "solid.no-contact",
                fmt::format("of {} the second must bear on the first with an end or an edge to be "
                            "toe-nailed",
                            names_of(joining)),
                "name the board that is nailed through second, or nail it straight");
  const double across = nail.length.in_mm() / 3 * std::tan(toe_lean);
  if (across > 2 * end->half - no_length)
    return tell(
        joining, "solid.no-room",
        fmt::format("toe-nails {} long come out of the other face of `{}`, which is {} thick",
                    written(joining, nail.length.in_mm()),
                    joining.piece.boards[static_cast<std::size_t>(joining.b.board)].id,
                    written(joining, 2 * end->half)),
        "use shorter nails, or nail it straight");
  double side = 1;
  for (const Vec3& point : row_in(joining, patch, joining.b, end->across)) {
    toe_nail(joining, patch, *end, nail, point, side);
    side = -side;
  }
}

void tell_no_contact(Joining& joining) {
  tell(joining, "solid.no-contact",
       names_of(joining) +
           " have no faces that bear on one another, so nothing can be fastened there",
       "bring them together, or take the fastener away");
}

}  // namespace

void drill(Joining& joining, const std::optional<Patch>& patch) {
  const ResolvedJoint& joint = joining.joint;
  const bool has_dowels = joint.kind == JointKind::dowel;
  if (joint.fastener.empty() && !has_dowels) return;
  if (!patch || patch->loop.empty()) return tell_no_contact(joining);
  const Fastener* fastener = joining.fastener = fastener_for(joining, *patch);
  if (!fastener && !has_dowels) return;
  if (joint.kind == JointKind::pocket_screw) return drill_pockets(joining, *patch, *fastener);
  if (joint.kind == JointKind::toe_nail) return toe_nails(joining, *patch, *fastener);
  const Dowel dowel = dowel_for(joining, fastener);
  for (const Vec3& point : row_in(joining, *patch, near_of(joining, *patch))) {
    if (has_dowels || (fastener && fastener->kind == FastenerKind::dowel))
      set_dowel(joining, *patch, dowel, point);
    else
      drive_screw(joining, *patch, *fastener, point);
  }
}

}  // namespace kw
