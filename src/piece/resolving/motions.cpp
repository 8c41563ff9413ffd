// Where the copies of a mirror, repeat, turn or fill go.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>

#include "copies.h"
#include "place.h"

namespace kw::resolving {
namespace {

constexpr int most_copies = static_cast<int>(most_boards);
constexpr double slack = 1e-6;  // mm

using Motions = std::optional<std::vector<Motion>>;

Motions mirrored(Scene& scene, const MirrorDecl& mirror) {
  const auto glass = glass_of(scene.work, scene.site, mirror.across);
  return glass ? Motions({mirrored_in(*glass)}) : std::nullopt;
}

Motions repeated(Scene& scene, const RepeatDecl& repeat) {
  const auto count = scene.work.values.count(repeat.count, scene.site, 1, most_copies);
  const auto step = point_of(scene.work, scene.site, repeat.step);
  if (!count || !step) return std::nullopt;
  std::vector<Motion> motions;
  for (int k = 1; k < *count; ++k) motions.push_back(shifted_by(*step * k));
  return motions;
}

Motions turned_copies(Scene& scene, const TurnDecl& turn) {
  const auto count = scene.work.values.count(turn.count, scene.site, 1, most_copies);
  const auto axis = direction_of(scene.work, scene.site, turn.about);
  const auto at = turn.at ? point_of(scene.work, scene.site, *turn.at) : std::optional(Vec3{});
  const auto angle = turn.angle ? scene.work.values.angle(*turn.angle, scene.site) : std::nullopt;
  if (!count || !axis || !at || (turn.angle && !angle)) return std::nullopt;
  std::vector<Motion> motions;
  for (int k = 1; k < *count; ++k)
    motions.push_back(
        turned_about(*at, *axis, angle ? *angle * k : Angle::degrees(360.0 * k / *count)));
  return motions;
}

// How far the boxes of the sources reach along a direction, their ends taken as square.
Reach reach_along(const Scene& scene, const std::vector<int>& sources, Vec3 along) {
  Reach reach{std::numeric_limits<double>::max(), std::numeric_limits<double>::lowest()};
  for (const int index : sources) {
    const Part& part = scene.part(index);
    const Frame& frame = part.board.frame;
    const double middle = dot(along, frame.to_world(Vec3{part.length / 2, 0, 0}));
    const double half = (std::abs(dot(along, frame.x)) * part.length +
                         std::abs(dot(along, frame.y)) * part.board.section.width.in_mm() +
                         std::abs(dot(along, frame.z)) * part.board.section.thickness.in_mm()) /
                        2;
    reach = {std::min(reach.from, middle - half), std::max(reach.to, middle + half)};
  }
  return reach;
}

// What a [fill] asks for, in mm.
struct Room {
  double from = 0, to = 0, size = 0;  // from face to face, and of one board
  std::optional<double> gap_from = {}, gap_to = {};
  std::optional<int> count = {};
};

double gap_of(const Room& room, int count) {
  return (room.to - room.from - count * room.size) / (count - 1);
}

// "7 boards leave gaps of 3/16"".
std::string gaps_of(const Scene& scene, const Room& room, int count) {
  if (count == 1)
    return fmt::format("1 board leaves {} over",
                       scene.work.faults.length(room.to - room.from - room.size));
  const double gap = gap_of(room, count);
  if (gap < 0) return fmt::format("{} boards overlap by {}", count, scene.work.faults.length(-gap));
  return fmt::format("{} boards leave gaps of {}", count, scene.work.faults.length(gap));
}

std::optional<int> no_even_fill(Scene& scene, const CopyDecl& decl, const Room& room, int nearest) {
  const auto& fill = std::get<FillDecl>(decl.how);
  const Span at = fill.gap_to ? fill.gap_to->at : fill.count ? fill.count->at : decl.name.at;
  std::string message = gaps_of(scene, room, nearest);
  if (fill.gap_to && nearest > 1)
    message = fmt::format("{}, and {}", gaps_of(scene, room, nearest - 1), message);
  scene.work.faults.report(
      {.code = "piece.no-even-fill",
       .at = at,
       .message = "no row of boards fits: " + message,
       .hint = "allow another gap, change `from` or `to`, or rip the boards to another width"});
  return std::nullopt;
}

// As few boards as keep the gap from growing past `gap_to`; none when it is then less than
// `gap_from`.
std::optional<int> count_for(Scene& scene, const CopyDecl& decl, const Room& room) {
  const double all = room.to - room.from;
  if (room.count) {
    const bool fits =
        *room.count == 1 ? all >= room.size - slack : gap_of(room, *room.count) >= -slack;
    return fits ? room.count : no_even_fill(scene, decl, room, *room.count);
  }
  const double wanted = std::ceil((all + *room.gap_to - slack) / (room.size + *room.gap_to));
  if (!(wanted <= most_copies)) {
    (void)spend(scene.work, scene.work.budget.boards, std::numeric_limits<long>::max(),
                decl.name.at, "boards");
    return std::nullopt;
  }
  const int count = std::max(1, static_cast<int>(wanted));
  const double gap = count == 1 ? 0 : gap_of(room, count);
  const bool is_even =
      count == 1 ? std::abs(all - room.size) <= slack : gap >= *room.gap_from - slack;
  return is_even ? std::optional(count) : no_even_fill(scene, decl, room, count);
}

std::optional<Room> room_of(Scene& scene, const CopyDecl& decl, double size) {
  const auto& fill = std::get<FillDecl>(decl.how);
  Values& values = scene.work.values;
  const auto from = values.mm(fill.from, scene.site), to = values.mm(fill.to, scene.site);
  Room room{.size = size};
  if (fill.gap_from) room.gap_from = values.mm_from_zero(*fill.gap_from, scene.site);
  if (fill.gap_to) room.gap_to = values.mm_from_zero(*fill.gap_to, scene.site);
  if (fill.count) room.count = values.count(*fill.count, scene.site, 1, most_copies);
  if (!from || !to || (!room.count && (!room.gap_from || !room.gap_to))) return std::nullopt;
  room.from = *from;
  room.to = *to;
  if (room.to > room.from) return room;
  scene.work.faults.report(
      {.code = "piece.no-room",
       .at = fill.to.at,
       .message =
           fmt::format("the row would end at {}, before it starts at {}",
                       scene.work.faults.length(room.to), scene.work.faults.length(room.from)),
       .hint = "`from` and `to` are measured along `along`, from the origin"});
  return std::nullopt;
}

// Lays the sources themselves at the first place, unless another fill has done so: then they stay
// there.
bool are_laid(Scene& scene, const std::vector<int>& sources, Vec3 move) {
  if (std::any_of(sources.begin(), sources.end(), [&](int i) { return scene.part(i).is_in_fill; }))
    return false;
  for (const int index : sources) {
    Part& part = scene.part(index);
    part.is_in_fill = true;
    if (norm(move) > slack) part.board.frame = moved(part.board.frame, shifted_by(move));
  }
  return true;
}

Motions filled(Scene& scene, const CopyDecl& decl, const std::vector<int>& sources) {
  const auto along = direction_of(scene.work, scene.site, std::get<FillDecl>(decl.how).along);
  const bool is_whole =
      std::none_of(sources.begin(), sources.end(), [&](int i) { return scene.part(i).is_broken; });
  if (!along || sources.empty() || !is_whole) return std::nullopt;
  const Reach reach = reach_along(scene, sources, *along);
  const auto room = room_of(scene, decl, reach.to - reach.from);
  const auto count = room ? count_for(scene, decl, *room) : std::nullopt;
  if (!count) return std::nullopt;
  double to_first = room->from - reach.from;
  const bool is_first_laid = are_laid(scene, sources, *along * to_first);
  if (is_first_laid) to_first = 0;
  std::vector<Motion> motions;
  const double last = room->to - room->from - room->size;
  for (int k = is_first_laid ? 1 : 0; k < *count; ++k)
    motions.push_back(shifted_by(*along * (to_first + (k == 0 ? 0 : last * k / (*count - 1)))));
  return motions;
}

}  // namespace

std::optional<std::vector<Motion>> motions_of(Scene& scene, const CopyDecl& decl,
                                              const std::vector<int>& sources) {
  if (const auto* mirror = std::get_if<MirrorDecl>(&decl.how)) return mirrored(scene, *mirror);
  if (const auto* repeat = std::get_if<RepeatDecl>(&decl.how)) return repeated(scene, *repeat);
  if (const auto* turn = std::get_if<TurnDecl>(&decl.how)) return turned_copies(scene, *turn);
  return filled(scene, decl, sources);
}

}  // namespace kw::resolving
