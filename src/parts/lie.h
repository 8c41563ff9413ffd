// Private to parts: the ways a stick can lie on the bench, and telling shapes alike.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kerfwright/parts/cut_list.h"

namespace kw {

// Ways to turn a stick that keep its grain along x: 4 turns and 4 reflections, and for a square
// section as many again with the faces exchanged. The identity comes first, turns before
// reflections.
[[nodiscard]] std::vector<Lie> turns_of_a_stick(bool is_square);

// `turn` moved so that the shape's box has its low corner at the origin.
[[nodiscard]] Lie on_the_bench(const Shape& shape, Lie turn);

// The plane of a shape as it lies: normal and offset in the bench frame.
[[nodiscard]] Plane to_bench(const Lie& lie, const Plane& plane);

// What tells shapes apart: each face by its middle (from the middle of the box), normal and area.
struct FaceSign {
  Vec3 middle = {}, normal = {};
  double area = 0;
};
struct Signature {
  Vec3 size = {};
  double volume = 0;
  std::vector<FaceSign> faces = {};  // ordered by area, largest first
};
[[nodiscard]] Signature signature_of(const Shape& shape);

// Does `turn` carry `a` onto `b`, face by face?
[[nodiscard]] bool carries(const Lie& turn, const Signature& a, const Signature& b);

// first, then second.
[[nodiscard]] Lie compose(const Lie& first, const Lie& second);
[[nodiscard]] Lie inverse_of(const Lie& lie);

}  // namespace kw
