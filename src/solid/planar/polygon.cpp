#include "polygon.h"

#include <cmath>

namespace kw {
namespace {

// Distance of p from the line through a and b; from a when they are one point.
double distance_to_line(Vec3 p, Vec3 a, Vec3 b) {
  const Vec3 along = b - a;
  const double length = norm(along);
  return length <= on_line ? norm(p - a) : norm(cross(along, p - a)) / length;
}

}  // namespace

Loop loop_of(const Convex& solid, const Convex::Side& side) {
  Loop loop;
  for (std::uint32_t k = side.begin; k < side.end; ++k) {
    loop.push_back(solid.points[solid.corners[k]]);
  }
  return loop;
}

Vec3 area_vector_of(std::span<const Vec3> loop) {
  Vec3 sum;
  for (std::size_t i = 2; i < loop.size(); ++i) {
    sum += cross(loop[i - 1] - loop[0], loop[i] - loop[0]);
  }
  return sum * 0.5;
}

Cut clip(Loop& polygon, const Plane& plane, ClipMemory& memory) {
  memory.heights.clear();
  bool is_behind = false, is_before = false;
  for (const Vec3& p : polygon) {
    const double height = plane.distance(p);
    memory.heights.push_back(height);
    is_behind = is_behind || height < -on_plane;
    is_before = is_before || height > on_plane;
  }
  if (!is_behind) return is_before ? Cut::gone : Cut::flush;
  if (!is_before) return Cut::missed;
  memory.kept.clear();
  std::size_t before = polygon.size() - 1;
  for (std::size_t here = 0; here < polygon.size(); before = here++) {
    const double h = memory.heights[here], g = memory.heights[before];
    if ((g < -on_plane && h > on_plane) || (g > on_plane && h < -on_plane)) {
      const std::size_t in = g < 0 ? before : here, out = g < 0 ? here : before;
      const double t = memory.heights[in] / (memory.heights[in] - memory.heights[out]);
      memory.kept.push_back(polygon[in] + (polygon[out] - polygon[in]) * t);
    }
    if (h <= on_plane) memory.kept.push_back(polygon[here]);
  }
  std::swap(polygon, memory.kept);
  return Cut::through;
}

void tidy(Loop& loop) {
  std::size_t checked = 0;
  for (std::size_t i = 0; loop.size() >= 3 && checked < loop.size();) {
    const std::size_t n = loop.size();
    i %= n;
    if (distance_to_line(loop[i], loop[(i + n - 1) % n], loop[(i + 1) % n]) > on_line) {
      ++checked;
      ++i;
      continue;
    }
    loop.erase(loop.begin() + static_cast<std::ptrdiff_t>(i));
    checked = 0;
    i = (i + n - 2) % (n - 1);
  }
  if (loop.size() < 3) loop.clear();
}

FlatView::FlatView(Vec3 normal, Vec3 on) {
  const double x = std::abs(normal.x), y = std::abs(normal.y), z = std::abs(normal.z);
  axis_ = z >= x && z >= y ? 2 : y >= x ? 1 : 0;
  const double largest = axis_ == 2 ? normal.z : axis_ == 1 ? normal.y : normal.x;
  is_mirrored_ = largest < 0;
  slope_ = normal * (1 / largest);
  height_ = dot(slope_, on);
}

Vec2 FlatView::flat(Vec3 p) const {
  const Vec2 seen = axis_ == 2 ? Vec2{p.x, p.y} : axis_ == 1 ? Vec2{p.z, p.x} : Vec2{p.y, p.z};
  return is_mirrored_ ? Vec2{seen.y, seen.x} : seen;
}

Vec3 FlatView::raised(Vec2 p) const {
  if (is_mirrored_) p = {p.y, p.x};
  if (axis_ == 2) return {p.x, p.y, height_ - slope_.x * p.x - slope_.y * p.y};
  if (axis_ == 1) return {p.y, height_ - slope_.x * p.y - slope_.z * p.x, p.x};
  return {height_ - slope_.y * p.x - slope_.z * p.y, p.x, p.y};
}

}  // namespace kw
