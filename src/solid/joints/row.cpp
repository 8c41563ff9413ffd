#include "joints/row.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "kerfwright/solid/spacing.h"

#include "bore.h"
#include "joints/kinds.h"

namespace kw {
namespace {

struct Chord {
  Vec3 from = {}, to = {};
};

// Where a line crosses the border of a loop, as distances from a point of it along the line, in
// order.
std::vector<double> crossings_of(const Loop& loop, Vec3 point, Vec3 along, Vec3 across) {
  std::vector<double> crossings;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const Vec3 a = loop[i] - point, b = loop[(i + 1) % loop.size()] - point;
    const double left = dot(a, across), right = dot(b, across);
    if ((left < 0) == (right < 0)) continue;
    crossings.push_back(dot(a, along) + (dot(b, along) - dot(a, along)) * (left / (left - right)));
  }
  std::sort(crossings.begin(), crossings.end());
  return crossings;
}

// The longest stretch of the line through the patch's middle that lies in the patch.
Chord chord_of(const Patch& patch, Vec3 direction) {
  const Vec3 n = patch.plane.normal, middle = middle_of(patch.loop);
  const Vec3 along = unit(direction - n * dot(direction, n));
  const auto crossings = crossings_of(patch.loop, middle, along, cross(n, along));
  Reach longest;
  for (std::size_t i = 0; i + 1 < crossings.size(); i += 2)
    if (crossings[i + 1] - crossings[i] > longest.length())
      longest = {crossings[i], crossings[i + 1]};
  return {middle + along * longest.from, middle + along * longest.to};
}

double length_of(const Chord& chord) {
  return norm(chord.to - chord.from);
}

Chord longest_chord(const Joining& joining, const Patch& patch, const JoinedBoard& first) {
  const JoinedBoard& second = first.board == joining.a.board ? joining.b : joining.a;
  Chord longest = {};
  for (const JoinedBoard* board : {&first, &second}) {
    const Frame& frame = board->stick->frame;
    for (const Vec3 axis : {frame.y, frame.z, frame.x}) {
      if (std::abs(dot(axis, patch.plane.normal)) > 0.9) continue;
      const Chord chord = chord_of(patch, axis);
      if (length_of(chord) > length_of(longest) * (1 + 1e-6)) longest = chord;
    }
  }
  return longest;
}

Vec3 snapped(Vec3 direction) {
  const auto zeroed = [](double value) { return std::abs(value) < 1e-12 ? 0.0 : value; };
  return unit({zeroed(direction.x), zeroed(direction.y), zeroed(direction.z)});
}

Vec3 rounded(Vec3 point) {
  const auto to = [](double value) { return std::round(value * 1e9) / 1e9; };
  return {to(point.x), to(point.y), to(point.z)};
}

}  // namespace

Spacing spacing_of(const Joining& joining, double length) {
  const ResolvedJoint& joint = joining.joint;
  if (joint.count) {
    const double share = length / *joint.count;
    return {*joint.count, *joint.count == 1 ? length / 2 : joint.inset.value_or(share / 2)};
  }
  const Fastener* fastener = joining.fastener;
  constexpr double unsaid = 9.5;  // mm: a dowel whose size follows from its boards
  const double diameter = fastener ? fastener->diameter.in_mm() : joint.diameter.value_or(unsaid);
  const RowRule rule = row_by_rule({.length = length, .diameter = diameter});
  if (!joint.inset) return {std::max(1, rule.count), rule.first};
  const double run = length - 2 * *joint.inset;
  const RowRule between = row_by_rule({.length = run, .diameter = diameter, .end_diameters = 0});
  return {std::max(2, between.count), *joint.inset};
}

RowRule row_by_rule(const RowWish& wish) {
  if (wish.length <= 0 || wish.diameter <= 0) return {};
  const double d = wish.diameter;
  const double most = wish.greatest > 0 ? wish.greatest : std::max(24 * d, 300.0);
  const double first = std::min(wish.end_diameters * d, wish.length / 4);
  const double run = wish.length - 2 * first;
  if (run < std::min(wish.in_row_diameters, 5.0) * d) return {1, wish.length / 2, 0};
  const int gaps = std::max(1, static_cast<int>(std::ceil(run / most - 1e-9)));
  return {gaps + 1, first, run / gaps};
}

std::vector<Vec3> row_in(Joining& joining, const Patch& patch, const JoinedBoard& first,
                         std::optional<Vec3> along) {
  const Chord chord = along ? chord_of(patch, *along) : longest_chord(joining, patch, first);
  const double length = length_of(chord);
  const Spacing spacing = spacing_of(joining, length);
  if (spacing.count < 1 || spacing.count > most_fasteners) {
    tell(joining, "solid.no-room", fmt::format("{} fasteners in one joint", spacing.count),
         fmt::format("`count` is between 1 and {}", most_fasteners));
    return {};
  }
  const double inset = spacing.inset;
  if (length < no_length || inset < 0 || (spacing.count > 1 && 2 * inset > length - no_length)) {
    tell(joining, "solid.no-room",
         fmt::format("{} fasteners {} from the ends do not fit in the {} where {} meet",
                     spacing.count, written(joining, inset), written(joining, length),
                     names_of(joining)),
         "make `inset` or `count` less");
    return {};
  }
  std::vector<Vec3> row;
  const Vec3 step = spacing.count == 1 ? Vec3{}
                                       : (chord.to - chord.from) *
                                             ((length - 2 * inset) / length / (spacing.count - 1));
  const Vec3 start = chord.from + (chord.to - chord.from) * (inset / length);
  for (int i = 0; i < spacing.count; ++i) row.push_back(start + step * i);
  return row;
}

void bore_into(Joining& joining, const JoinedBoard& board, const WorldHole& hole) {
  if (joining.holes_left == 0)
    tell(joining, "solid.too-many-holes", "the piece has more holes than are worked out",
         "use fewer fasteners");
  if (joining.holes_left-- <= 0) return;
  const Frame& frame = board.stick->frame;
  add_bore(*board.recipe,
           {.kind = hole.kind,
            .name = joining.joint.id,
            .joint = joining.index,
            .partner = board.board == joining.a.board ? joining.b.board : joining.a.board,
            .mouth = rounded(frame.to_local(hole.mouth)),
            .direction = snapped(frame.direction_to_local(hole.direction)),
            .diameter = hole.diameter,
            .depth = hole.depth});
}

}  // namespace kw
