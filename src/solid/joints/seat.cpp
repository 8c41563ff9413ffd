// Notches, housings, rabbets and grooves with a partner: a gives way to b.
#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <limits>

#include "joints/kinds.h"

namespace kw {
namespace {

constexpr std::array<std::string_view, 6> sides = {"+z", "-z", "+y", "-y", "+x", "-x"};

// How far b stands out of a on a side, and how far it stays inside on the other.
struct Entry {
  Vec3 direction = {};  // out of a
  double face = 0;      // a's reach along it
};

// The side of a on which b comes in: b reaches it or stands out of it, and does not come out
// opposite. Where several do, the one where b stands out furthest.
std::optional<Entry> entry_of(const Joining& joining) {
  std::optional<Entry> best;
  double furthest = std::numeric_limits<double>::lowest();
  for (const std::string_view side : sides) {
    const Vec3 d = axis_of(joining.a.stick->frame, side);
    const Reach a = reach_of(joining.a.stick->wood, d), b = reach_of(joining.b.stick->wood, d);
    const double out = b.to - a.to;
    if (out < -no_length || b.from < a.from + no_length || out < furthest + no_length) continue;
    furthest = out;
    best = Entry{d, a.to};
  }
  return best;
}

std::optional<Entry> entry_for(const Joining& joining, FeatureKind kind) {
  if (joining.joint.face.empty() || kind == FeatureKind::housing) return entry_of(joining);
  const Vec3 d = axis_of(joining.a.stick->frame, joining.joint.face);
  return Entry{d, reach_of(joining.a.stick->wood, d).to};
}

Hollowing faces_of(const Stick& stick) {
  Hollowing faces;
  for (const Convex::Side& side : stick.wood.sides) faces.push_back(side.plane);
  return faces;
}

// The bottom of the seat as b bears on it: b's face that looks most against the way in, or the
// plane at `depth`.
std::optional<Patch> floor_of(const Joining& joining, const Entry& entry) {
  const Plane* lowest = nullptr;
  for (const Convex::Side& side : joining.b.stick->wood.sides)
    if (!lowest || dot(side.plane.normal, entry.direction) < dot(lowest->normal, entry.direction))
      lowest = &side.plane;
  if (!lowest) return std::nullopt;
  Plane floor = {-lowest->normal, -lowest->offset};
  const Reach b = reach_of(joining.b.stick->wood, entry.direction);
  if (joining.joint.depth && *joining.joint.depth < entry.face - b.from)
    floor = {entry.direction, entry.face - *joining.joint.depth};
  const Loop loop = section_of(floor, joining.a.stick->wood, joining.b.stick->wood);
  return loop.empty() ? std::nullopt : std::optional(Patch{floor, loop});
}

// The edge that looks to the front: a's +y, and so -y of a mirror image, whose y is turned round.
Vec3 front_of(const Joining& joining) {
  const bool is_mirrored =
      joining.piece.boards[static_cast<std::size_t>(joining.a.board)].is_mirrored;
  const std::string_view own = is_mirrored ? "-y" : "+y";
  return axis_of(joining.a.stick->frame, joining.joint.face.empty() ? own : joining.joint.face);
}

// What of b reaches past the end of a housing that stops short of a's front edge.
Hollowing past_stop(const Entry& entry, Vec3 front, double stop) {
  return {{entry.direction, entry.face}, {-front, -stop}};
}

}  // namespace

std::optional<Patch> cut_seat(Joining& joining, FeatureKind kind) {
  const ResolvedJoint& joint = joining.joint;
  const auto entry = entry_for(joining, kind);
  if ((joint.depth || joint.stop) && !entry) {
    tell(joining, "solid.no-entry",
         fmt::format("it cannot be told on which face of the first of {} the other comes in",
                     names_of(joining)),
         "leave `depth` and `stop` out, or move the second board so that it ends inside the first");
    return std::nullopt;
  }
  Hollowing seat = faces_of(*joining.b.stick);
  if (joint.depth) seat.push_back({-entry->direction, *joint.depth - entry->face});
  const Vec3 front = front_of(joining);
  const double stop = reach_of(joining.a.stick->wood, front).to - joint.stop.value_or(0);
  if (joint.stop) seat.push_back({front, stop});
  if (!take_away(joining, joining.a, kind, {seat})) return tell_no_overlap(joining), std::nullopt;
  if (joint.stop) take_away(joining, joining.b, kind, {past_stop(*entry, front, stop)});
  return entry ? floor_of(joining, *entry) : std::nullopt;
}

}  // namespace kw
