#include "painted.h"

#include <cmath>
#include <optional>

#include "removal.h"

namespace kw {
namespace {

constexpr double apart = 0.01;  // mm of depth that tells before from behind

struct FaceOnPaper {
  int body = 0;
  std::vector<Vec2> points = {};
  Plane plane = {};
  Box box = {};
  [[nodiscard]] double depth(Vec2 p) const {
    const Vec3& n = plane.normal;
    return (plane.offset - n.x * p.x - n.y * p.y) / n.z;
  }
  [[nodiscard]] bool has(Vec2 p) const {
    bool is_in = false;
    for (std::size_t i = 0; i < points.size(); ++i) {
      const Vec2 a = points[i] - p, b = points[(i + 1) % points.size()] - p;
      if ((a.y <= 0) != (b.y <= 0) && a.x + (b.x - a.x) * (a.y / (a.y - b.y)) > 0) is_in = !is_in;
    }
    return is_in;
  }
};

bool is_mirrored(const Frame& frame) {
  return dot(cross(frame.x, frame.y), frame.z) < 0;
}

double turned_area(const std::vector<Vec2>& points) {
  double sum = 0;
  for (std::size_t i = 0; i < points.size(); ++i)
    sum += cross(points[i], points[(i + 1) % points.size()]);
  return sum / 2;
}

std::vector<FaceOnPaper> areas_of(const std::vector<Shown>& shown, const Axes& axes) {
  std::vector<FaceOnPaper> areas;
  for (std::size_t i = 0; i < shown.size(); ++i) {
    for (const Screen& screen : screens_of({shown[i]}, axes)) {
      for (const auto& loop : screen.loops) {
        FaceOnPaper area{.body = static_cast<int>(i), .plane = screen.plane, .box = screen.box};
        for (const Vec3& p : loop) area.points.push_back({p.x, p.y});
        if (turned_area(area.points) * (is_mirrored(shown[i].frame) ? -1 : 1) > 0)
          areas.push_back(std::move(area));  // not an opening
      }
    }
  }
  return areas;
}

std::optional<Vec2> crossing(Vec2 a, Vec2 b, Vec2 c, Vec2 d) {
  const Vec2 u = b - a, v = d - c;
  const double turn = cross(u, v);
  if (std::abs(turn) < 1e-9) return std::nullopt;
  const double s = cross(c - a, v) / turn, t = cross(c - a, u) / turn;
  if (s <= 0 || s >= 1 || t <= 0 || t >= 1) return std::nullopt;
  return a + u * s;
}

// How far a lies before b where they cover one another and are furthest apart; 0: they do not.
double before_by(const FaceOnPaper& a, const FaceOnPaper& b) {
  double most = 0;
  const auto judge = [&](Vec2 p) {
    const double by = a.depth(p) - b.depth(p);
    if (std::abs(by) > std::abs(most)) most = by;
  };
  for (const Vec2 p : a.points)
    if (b.has(p)) judge(p);
  for (const Vec2 p : b.points)
    if (a.has(p)) judge(p);
  for (std::size_t i = 0; i < a.points.size(); ++i)
    for (std::size_t j = 0; j < b.points.size(); ++j)
      if (const auto p = crossing(a.points[i], a.points[(i + 1) % a.points.size()], b.points[j],
                                  b.points[(j + 1) % b.points.size()]))
        judge(*p);
  return std::abs(most) > apart ? most : 0;
}

bool meet(const Box& a, const Box& b) {
  return a.left < b.right && b.left < a.right && a.low < b.high && b.low < a.high;
}

}  // namespace

std::vector<PaintedFace> painted_faces(const std::vector<Shown>& shown, const Look& look) {
  const std::vector<FaceOnPaper> areas = areas_of(shown, axes_of(look));
  std::vector<std::vector<std::size_t>> behind(areas.size());  // of each what lies behind it
  for (std::size_t i = 0; i < areas.size(); ++i) {
    for (std::size_t j = i + 1; j < areas.size(); ++j) {
      if (!meet(areas[i].box, areas[j].box)) continue;
      const double by = before_by(areas[i], areas[j]);
      if (by > 0) behind[i].push_back(j);
      if (by < 0) behind[j].push_back(i);
    }
  }
  // Depth first: all that lies behind a face comes before it.
  std::vector<PaintedFace> painted;
  std::vector<bool> is_met(areas.size(), false);
  std::vector<std::pair<std::size_t, std::size_t>> path;  // face, next of those behind it
  for (std::size_t start = 0; start < areas.size(); ++start) {
    if (!is_met[start]) path.emplace_back(start, 0);
    is_met[start] = true;
    while (!path.empty()) {
      auto& [face, next] = path.back();
      if (next == behind[face].size()) {
        painted.push_back({areas[face].body, areas[face].points});
        path.pop_back();
        continue;
      }
      const std::size_t other = behind[face][next++];
      if (is_met[other]) continue;
      is_met[other] = true;
      path.emplace_back(other, 0);
    }
  }
  return painted;
}

}  // namespace kw
