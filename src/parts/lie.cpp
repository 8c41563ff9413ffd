#include "lie.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace kw {
namespace {

constexpr double same_place = 2e-3;  // mm
constexpr double same_way = 1e-5;    // of a unit normal
constexpr double same_area = 1e-6;   // relative

bool is_near(Vec3 a, Vec3 b, double tolerance) {
  return std::abs(a.x - b.x) <= tolerance && std::abs(a.y - b.y) <= tolerance &&
         std::abs(a.z - b.z) <= tolerance;
}

// Twice the area vector of a loop, and its sum for the centroid by fan triangles.
FaceSign sign_of(const Face& face, Vec3 middle_of_box) {
  FaceSign sign{.normal = face.plane.normal};
  Vec3 weighted = {};
  for (const auto& loop : face.loops) {
    for (std::size_t i = 2; i < loop.size(); ++i) {
      const double area = 0.5 * dot(cross(loop[i - 1] - loop[0], loop[i] - loop[0]), sign.normal);
      sign.area += area;
      weighted += (loop[0] + loop[i - 1] + loop[i]) * (area / 3.0);
    }
  }
  sign.middle = weighted * (1.0 / sign.area) - middle_of_box;
  return sign;
}

double determinant(const Lie& lie) {
  return dot(lie.row_x, cross(lie.row_y, lie.row_z));
}

bool matches(const FaceSign& a, const FaceSign& b, const Lie& turn) {
  return is_near(turn.turn(a.middle), b.middle, same_place) &&
         is_near(turn.turn(a.normal), b.normal, same_way);
}

}  // namespace

std::vector<Lie> turns_of_a_stick(bool is_square) {
  std::vector<Lie> turns;
  const std::array<std::array<Vec3, 2>, 2> across = {
      {{Vec3{0, 1, 0}, Vec3{0, 0, 1}}, {Vec3{0, 0, 1}, Vec3{0, 1, 0}}}};
  for (int swap = 0; swap < (is_square ? 2 : 1); ++swap) {
    for (const double sx : {1.0, -1.0}) {
      for (const double sy : {1.0, -1.0}) {
        for (const double sz : {1.0, -1.0}) {
          const auto& pair = across[static_cast<std::size_t>(swap)];
          Lie lie{.row_x = {sx, 0, 0}, .row_y = pair[0] * sy, .row_z = pair[1] * sz};
          lie.is_mirrored = determinant(lie) < 0;
          turns.push_back(lie);
        }
      }
    }
  }
  std::stable_sort(turns.begin(), turns.end(),
                   [](const Lie& a, const Lie& b) { return !a.is_mirrored && b.is_mirrored; });
  return turns;
}

Lie on_the_bench(const Shape& shape, Lie turn) {
  const Vec3 a = turn.turn(shape.low);
  const Vec3 b = turn.turn(shape.high);
  turn.move = -Vec3{std::min(a.x, b.x), std::min(a.y, b.y), std::min(a.z, b.z)};
  return turn;
}

Plane to_bench(const Lie& lie, const Plane& plane) {
  const Vec3 normal = lie.turn(plane.normal);
  return {normal, plane.offset + dot(normal, lie.move)};
}

Signature signature_of(const Shape& shape) {
  Signature signature{.size = shape.high - shape.low, .volume = shape.volume.value};
  const Vec3 middle = (shape.low + shape.high) * 0.5;
  for (const Face& face : shape.faces) signature.faces.push_back(sign_of(face, middle));
  std::sort(signature.faces.begin(), signature.faces.end(),
            [](const FaceSign& a, const FaceSign& b) { return a.area > b.area; });
  return signature;
}

bool carries(const Lie& turn, const Signature& a, const Signature& b) {
  const Vec3 turned = turn.turn(a.size);
  const Vec3 size = {std::abs(turned.x), std::abs(turned.y), std::abs(turned.z)};
  if (a.faces.size() != b.faces.size() || !is_near(size, b.size, same_place)) return false;
  std::vector<bool> taken(b.faces.size(), false);
  std::size_t window = 0;  // faces are ordered by area: look only among those as large
  for (const FaceSign& face : a.faces) {
    const double slack = same_area * face.area + same_place * std::sqrt(face.area);
    while (window < b.faces.size() && b.faces[window].area > face.area + slack) ++window;
    bool found = false;
    for (std::size_t i = window; i < b.faces.size() && b.faces[i].area >= face.area - slack; ++i) {
      if (taken[i] || !matches(face, b.faces[i], turn)) continue;
      taken[i] = found = true;
      break;
    }
    if (!found) return false;
  }
  return true;
}

Lie compose(const Lie& first, const Lie& second) {
  Lie both;
  const auto row = [&](Vec3 r) { return first.turn_back(r); };
  both.row_x = row(second.row_x);
  both.row_y = row(second.row_y);
  both.row_z = row(second.row_z);
  both.move = second.turn(first.move) + second.move;
  both.is_mirrored = first.is_mirrored != second.is_mirrored;
  return both;
}

Lie inverse_of(const Lie& lie) {
  Lie back;
  back.row_x = {lie.row_x.x, lie.row_y.x, lie.row_z.x};
  back.row_y = {lie.row_x.y, lie.row_y.y, lie.row_z.y};
  back.row_z = {lie.row_x.z, lie.row_y.z, lie.row_z.z};
  back.move = -lie.turn_back(lie.move);
  back.is_mirrored = lie.is_mirrored;
  return back;
}

}  // namespace kw
