// Where things lie: points, directions, planes and the frames of boards, in the frame of their
// scope. Each is empty when it cannot be had; why not has been told then.
#pragma once

#include "work.h"

namespace kw::resolving {

// a / |a|: exactly an axis when a lies along one. `a` must not be zero.
[[nodiscard]] Vec3 unit_of(Vec3 a);

// A vector turned about a unit axis, right-handed. Quarter turns are exact.
[[nodiscard]] Vec3 turned(Vec3 v, Vec3 axis, Angle angle);

// "x" "y" "z", with or without a sign, and "up" "down" "left" "right" "front" "back".
[[nodiscard]] std::optional<Vec3> axis_called(std::string_view word);
// The same, or piece.unknown-word.
[[nodiscard]] std::optional<Vec3> axis_of(Work& work, const Name& word);

[[nodiscard]] std::optional<Vec3> point_of(Work& work, int site, const PointRef& point);
// A unit vector (piece.no-direction when it has no length).
[[nodiscard]] std::optional<Vec3> direction_of(Work& work, int site, const Direction& direction);
[[nodiscard]] std::optional<Plane> plane_of(Work& work, int site, const PlaneDecl& plane);
// By name; `floor` is z = 0, looking down, where no other is declared. A mirror may name an axis as
// well: the plane through the origin square to it.
[[nodiscard]] std::optional<Plane> plane_of(Work& work, int site, const Name& name);
[[nodiscard]] std::optional<Plane> glass_of(Work& work, int site, const Name& name);
[[nodiscard]] Plane plane_through(Vec3 point, Vec3 normal);

// A board's frame and the length of its line: x along the line, z the face, y = z x x.
struct Lie {
  Frame frame = {};
  double length = 0;
};
[[nodiscard]] std::optional<Lie> lie_of(Work& work, int site, const PlacementDecl& placement,
                                        const Section& section, Span at);

}  // namespace kw::resolving
