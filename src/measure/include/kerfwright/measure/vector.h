// Points, directions, planes and frames of three-dimensional geometry. Coordinates are millimetres
// as double; directions are pure numbers. World axes: x to the right, y away from you, z up.
#pragma once

#include <cmath>

namespace kw {

struct Vec3 {
  double x = 0, y = 0, z = 0;
  friend constexpr bool operator==(const Vec3&, const Vec3&) = default;
  friend constexpr Vec3 operator+(Vec3 a, Vec3 b) { return {a.x + b.x, a.y + b.y, a.z + b.z}; }
  friend constexpr Vec3 operator-(Vec3 a, Vec3 b) { return {a.x - b.x, a.y - b.y, a.z - b.z}; }
  friend constexpr Vec3 operator-(Vec3 a) { return {-a.x, -a.y, -a.z}; }
  friend constexpr Vec3 operator*(Vec3 a, double k) { return {a.x * k, a.y * k, a.z * k}; }
  friend constexpr Vec3 operator*(double k, Vec3 a) { return a * k; }
  Vec3& operator+=(Vec3 b) { return *this = *this + b; }
};

// Along an axis: 0 is x, 1 is y, 2 is z.
[[nodiscard]] constexpr double coordinate(const Vec3& v, int axis) {
  return axis == 0 ? v.x : axis == 1 ? v.y : v.z;
}
[[nodiscard]] constexpr double& coordinate(Vec3& v, int axis) {
  return axis == 0 ? v.x : axis == 1 ? v.y : v.z;
}

[[nodiscard]] constexpr double dot(Vec3 a, Vec3 b) {
  return a.x * b.x + a.y * b.y + a.z * b.z;
}
[[nodiscard]] constexpr Vec3 cross(Vec3 a, Vec3 b) {
  return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
[[nodiscard]] inline double norm(Vec3 a) {
  return std::sqrt(dot(a, a));
}
// The unit vector along a; a itself when its length is below 1e-12.
[[nodiscard]] inline Vec3 unit(Vec3 a) {
  const double n = norm(a);
  return n < 1e-12 ? a : a * (1.0 / n);
}

struct Vec2 {
  double x = 0, y = 0;
  friend constexpr bool operator==(const Vec2&, const Vec2&) = default;
  friend constexpr Vec2 operator+(Vec2 a, Vec2 b) { return {a.x + b.x, a.y + b.y}; }
  friend constexpr Vec2 operator-(Vec2 a, Vec2 b) { return {a.x - b.x, a.y - b.y}; }
  friend constexpr Vec2 operator*(Vec2 a, double k) { return {a.x * k, a.y * k}; }
};
[[nodiscard]] constexpr double dot(Vec2 a, Vec2 b) {
  return a.x * b.x + a.y * b.y;
}
[[nodiscard]] constexpr double cross(Vec2 a, Vec2 b) {
  return a.x * b.y - a.y * b.x;
}
[[nodiscard]] inline double norm(Vec2 a) {
  return std::sqrt(dot(a, a));
}

// The points p with dot(normal, p) == offset; `normal` is a unit vector. As the boundary of a solid
// the normal looks out of the wood: the wood is where dot(normal, p) <= offset.
struct Plane {
  Vec3 normal = {0, 0, 1};
  double offset = 0;
  [[nodiscard]] constexpr double distance(Vec3 p) const { return dot(normal, p) - offset; }
};

// A right-handed frame of unit axes: world = origin + x*local.x + y*local.y + z*local.z.
struct Frame {
  Vec3 origin = {};
  Vec3 x = {1, 0, 0}, y = {0, 1, 0}, z = {0, 0, 1};
  [[nodiscard]] constexpr Vec3 to_world(Vec3 p) const { return origin + direction_to_world(p); }
  [[nodiscard]] constexpr Vec3 direction_to_world(Vec3 d) const {
    return x * d.x + y * d.y + z * d.z;
  }
  [[nodiscard]] constexpr Vec3 to_local(Vec3 p) const { return direction_to_local(p - origin); }
  [[nodiscard]] constexpr Vec3 direction_to_local(Vec3 d) const {
    return {dot(d, x), dot(d, y), dot(d, z)};
  }
  [[nodiscard]] constexpr Plane to_world(Plane p) const {
    const Vec3 n = direction_to_world(p.normal);
    return {n, p.offset + dot(n, origin)};
  }
  [[nodiscard]] constexpr Plane to_local(Plane p) const {
    return {direction_to_local(p.normal), p.offset - dot(p.normal, origin)};
  }
};

}  // namespace kw
