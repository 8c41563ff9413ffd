#include "joints/joining.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numbers>
#include <utility>

#include "kerfwright/measure/text.h"

namespace kw {
namespace {

constexpr double opposite = -0.9;         // cosine between walls that stand opposite one another
constexpr double flat_within = 1.523e-6;  // 1 - cos(0.1 degree)

// Noise of turning from frame to frame is taken off, so that copies come out equal to the bit.
Plane tidied(const Plane& plane) {
  const auto snapped = [](double value) { return std::abs(value) < 1e-12 ? 0.0 : value; };
  return {{snapped(plane.normal.x), snapped(plane.normal.y), snapped(plane.normal.z)},
          std::round(plane.offset * 1e9) / 1e9};
}

constexpr int first_wall = 1000;  // sources of a hollow's sides that are walls

bool passes_through(const Plane& plane, const Convex& wood) {
  return reach_of(wood, plane.normal).to - plane.offset > no_length;
}

// The planes that are walls of the hollow within the wood; nothing when no wood is met.
std::optional<Hollowing> walls_of(const Hollowing& planes, const Convex& wood) {
  Convex hollow = wood;
  Knife knife;
  for (std::size_t i = 0; i < planes.size() && !hollow.is_empty(); ++i) {
    if (!passes_through(planes[i], hollow)) continue;
    knife.cut(hollow, planes[i], first_wall + static_cast<int>(i));
    if (!hollow.is_empty() && reach_of(hollow, planes[i].normal).length() < no_length)
      return std::nullopt;
  }
  if (hollow.is_empty()) return std::nullopt;
  Hollowing walls;
  for (const Convex::Side& side : hollow.sides)
    if (side.source >= first_wall)
      walls.push_back(planes[static_cast<std::size_t>(side.source - first_wall)]);
  return walls;
}

Hollowing eased(const Hollowing& walls, double ease, const Convex& wood) {
  Hollowing out;
  for (const Plane& wall : walls) {
    const bool is_paired = std::any_of(walls.begin(), walls.end(), [&](const Plane& other) {
      return dot(other.normal, wall.normal) < opposite;
    });
    const Plane moved = {wall.normal, wall.offset + (is_paired ? ease / 2 : 0)};
    if (passes_through(moved, wood)) out.push_back(moved);
  }
  return out;
}

}  // namespace

bool take_away(Joining& joining, const JoinedBoard& board, FeatureKind kind,
               const std::vector<Hollowing>& hollowings) {
  Recipe& recipe = *board.recipe;
  const auto number = static_cast<int>(recipe.features.size());
  const int partner = board.board == joining.a.board ? joining.b.board : joining.a.board;
  Feature feature{
      .kind = kind, .name = joining.joint.id, .joint = joining.index, .partner = partner};
  for (const Hollowing& planes : hollowings) {
    const auto walls = walls_of(planes, board.stick->wood);
    if (!walls) continue;
    Cutter cutter{.feature = number, .first_side = static_cast<int>(feature.planes.size())};
    for (const Plane& wall : eased(*walls, joining.joint.ease, board.stick->wood))
      cutter.planes.push_back(tidied(board.stick->frame.to_local(wall)));
    feature.cutter_begin.push_back(cutter.first_side);
    feature.planes.insert(feature.planes.end(), cutter.planes.begin(), cutter.planes.end());
    recipe.cutters.push_back(std::move(cutter));
  }
  if (feature.cutter_begin.empty()) return false;
  recipe.features.push_back(std::move(feature));
  return true;
}

std::string names_of(const Joining& joining) {
  const auto name = [&](const JoinedBoard& of) {
    return joining.piece.boards[static_cast<std::size_t>(of.board)].id;
  };
  return fmt::format("\"{}\" and \"{}\"", name(joining.a), name(joining.b));
}

std::string written(const Joining& joining, double mm) {
  LengthStyle style{.unit = joining.piece.unit, .decimals = 1};
  style.finest = 64;
  return format_length(Length::mm(mm), style);
}

void tell(Joining& joining, std::string_view code, std::string message, std::string hint) {
  joining.diagnostics.push_back({.code = code,
                                 .at = joining.joint.at,
                                 .message = std::move(message),
                                 .hint = std::move(hint)});
}

void tell_no_overlap(Joining& joining) {
  const double gap = gap_between(joining.a.stick->wood, joining.b.stick->wood);
  const std::string how = gap > no_length ? fmt::format("they are {} apart", written(joining, gap))
                                          : std::string("they only touch");
  tell(joining, "solid.no-overlap",
       fmt::format("{} do not pass through one another, so there is nothing to cut: {}",
                   names_of(joining), how),
       "move or lengthen one of them, or make it a butt joint");
}

bool is_flat(Joining& joining) {
  const double cosine = std::abs(dot(joining.a.stick->frame.z, joining.b.stick->frame.z));
  if (1 - cosine < flat_within) return true;
  tell(joining, "solid.not-flat",
       fmt::format(
           "the broad faces of {} are not parallel: they lean {:.1f} degrees from one another",
           names_of(joining), std::acos(std::min(1.0, cosine)) * 180 / std::numbers::pi),
       "turn one of the boards with `face`, or use a notch");
  return false;
}

Vec3 axis_of(const Frame& frame, std::string_view word) {
  if (word == "start") return -frame.x;
  if (word == "end") return frame.x;
  const char axis = word.empty() ? 'z' : word.back();
  const Vec3 direction = axis == 'x' ? frame.x : axis == 'y' ? frame.y : frame.z;
  return !word.empty() && word.front() == '-' ? -direction : direction;
}

}  // namespace kw
