// Corners of boards, rounded or cut off in the broad face.
#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>

#include "arc.h"
#include "making.h"
#include "place.h"

namespace kw::resolving {
namespace {

constexpr double slack = 1e-6;

// The corners of a board seen from +z, counter-clockwise.
enum Place : std::size_t { start_low, end_low, end_high, start_high };
using Chosen = std::array<bool, 4>;

// "start +y", "end", "both", "-y": what is not said is both.
std::optional<Chosen> corners_called(std::string_view words) {
  bool starts = false, ends = false, low = false, high = false;
  while (!words.empty()) {
    const std::string_view word = words.substr(0, words.find(' '));
    words.remove_prefix(std::min(word.size() + 1, words.size()));
    if (word == "start" || word == "both") starts = true;
    if (word == "end" || word == "both") ends = true;
    if (word == "+y") high = true;
    if (word == "-y") low = true;
    constexpr std::array known = {"start", "end", "both", "+y", "-y", ""};
    if (std::find(known.begin(), known.end(), word) == known.end()) return std::nullopt;
  }
  if (!starts && !ends) starts = ends = true;
  if (!low && !high) low = high = true;
  return Chosen{starts && low, ends && low, ends && high, starts && high};
}

std::optional<Chosen> corners_of(Scene& scene, const CornerDecl& decl) {
  Chosen chosen = {};
  for (const Name& word : decl.at) {
    const auto some = corners_called(word.text);
    if (!some) {
      scene.work.faults.report({.code = "piece.unknown-word",
                                .at = word.at,
                                .message = fmt::format("`{}` names no corner", word.text),
                                .hint = "say start or end with +y or -y, or start, end, both"});
      return std::nullopt;
    }
    for (std::size_t i = 0; i < chosen.size(); ++i) chosen[i] = chosen[i] || (*some)[i];
  }
  return chosen;
}

std::array<Vec2, 4> corners_on(const Part& part) {
  const double w = part.board.section.width.in_mm() / 2;
  const auto at = [&](Which which, double y) {
    const Plane& plane = part.ends[which].plane;
    return Vec2{(plane.offset - plane.normal.y * y) / plane.normal.x, y};
  };
  return {at(at_start, -w), at(at_end, -w), at(at_end, w), at(at_start, w)};
}

// Why a board's corners cannot be cut so, or nothing.
bool can_have_corners(Scene& scene, const CornerDecl& decl, const Chosen& chosen,
                      const Part& part) {
  const auto tell = [&](std::string_view code, std::string message, std::string hint) {
    scene.work.faults.report(
        {.code = code, .at = decl.name.at, .message = std::move(message), .hint = std::move(hint)});
    return false;
  };
  if (part.has_outline)
    return tell("piece.corner-of-outline",
                fmt::format("`{}` has an outline: its corners are in it", part.board.id),
                "round them in the outline, with arcs");
  const bool has[] = {chosen[start_low] || chosen[start_high], chosen[end_low] || chosen[end_high]};
  for (const Which which : {at_start, at_end})
    if (has[which] && std::abs(part.ends[which].plane.normal.z) > 1e-9)
      return tell(
          "piece.corner-on-bevel",
          fmt::format("the {} of `{}` is bevelled: its corners are not square to the broad face",
                      which == at_start ? "start" : "end", part.board.id),
          "cut them by a plane, [cut]");
  return true;
}

// A corner between its neighbours: unit directions to them, and half the angle between.
struct Angled {
  Vec2 corner = {}, to_before = {}, to_after = {};
  double half_angle = 0;
};

Angled angled(const std::array<Vec2, 4>& corners, std::size_t i) {
  const auto towards = [&](std::size_t j) {
    const Vec2 along = corners[j] - corners[i];
    return along * (1 / norm(along));
  };
  Angled at{corners[i], towards((i + 3) % 4), towards((i + 1) % 4)};
  at.half_angle = std::acos(std::clamp(dot(at.to_before, at.to_after), -1.0, 1.0)) / 2;
  return at;
}

PlaneCut side_through(Vec2 a, Vec2 b, int curve, const CornerDecl& decl) {
  const Vec2 along = (b - a) * (1 / norm(b - a));
  const Vec3 out = {along.y, -along.x, 0};
  return {.plane = plane_through({a.x, a.y, 0}, out),
          .source = CutSource::corner,
          .name = decl.name.text,
          .curve = curve,
          .at = decl.name.at};
}

void round_off(const Angled& at, double radius, double reach, const CornerDecl& decl,
               Features& into) {
  const Vec2 from = at.corner + at.to_before * reach, to = at.corner + at.to_after * reach;
  // The wood lies on the left from `to_before` to `to_after`: an arc to the left.
  const auto arc = arc_of_radius(from, to, radius, true);
  if (!arc) return;
  const int curve = static_cast<int>(into.curves.size());
  into.curves.push_back({arc->centre, radius, false});
  Vec2 last = from;
  for (const Vec2 corner : facets_of(*arc)) {
    into.cuts.push_back(side_through(last, corner, curve, decl));
    last = corner;
  }
  into.cuts.push_back(side_through(last, to, curve, decl));
}

// How far each cut reaches from its corner along both sides: of a rounding, to where it touches.
double reach_from(const Angled& at, const CornerDecl& decl, double size) {
  return decl.radius ? size / std::tan(at.half_angle) : size;
}

std::optional<Features> cut_off(Scene& scene, const CornerDecl& decl, const Chosen& chosen,
                                double size, const Part& part) {
  if (!can_have_corners(scene, decl, chosen, part)) return std::nullopt;
  const auto corners = corners_on(part);
  std::array<double, 4> reach = {};
  for (std::size_t i = 0; i < 4; ++i)
    if (chosen[i]) reach[i] = reach_from(angled(corners, i), decl, size);
  Features features;
  for (std::size_t i = 0; i < 4; ++i) {
    const double side = norm(corners[(i + 1) % 4] - corners[i]);
    if (reach[i] + reach[(i + 1) % 4] <= side + slack) continue;
    scene.work.faults.report(
        {.code = "piece.corner-too-big",
         .at = (decl.radius ? decl.radius : decl.clip)->at,
         .message = fmt::format("a side of `{}` is {} long: these corners take {} of it",
                                part.board.id, scene.work.faults.length(side),
                                scene.work.faults.length(reach[i] + reach[(i + 1) % 4])),
         .hint = "make it less"});
    return std::nullopt;
  }
  for (std::size_t i = 0; i < 4; ++i) {
    if (!chosen[i]) continue;
    const Angled at = angled(corners, i);
    if (decl.radius)
      round_off(at, size, reach[i], decl, features);
    else
      features.cuts.push_back(
          side_through(at.corner + at.to_before * size, at.corner + at.to_after * size, -1, decl));
  }
  return features;
}

void cut_corner(Scene& scene, const CornerDecl& decl) {
  const auto chosen = corners_of(scene, decl);
  const auto& formula = decl.radius ? decl.radius : decl.clip;
  const auto size = formula ? scene.work.values.positive_mm(*formula, scene.site) : std::nullopt;
  if (!chosen || !size) return;
  make_on(scene, decl.of, decl.name.at,
          [&](const Part& part) { return cut_off(scene, decl, *chosen, *size, part); });
}

}  // namespace

void cut_corners(Scene& scene) {
  for (const CornerDecl& decl : scene.scope().corners) cut_corner(scene, decl);
}

}  // namespace kw::resolving
