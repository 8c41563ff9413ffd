#include "kerfwright/drawing/view.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <tuple>

#include "removal.h"

namespace kw {
namespace {

constexpr double tangent_within = 1e-3;  // mm
constexpr double facing = 1e-9;          // n . towards above this looks at the eye

// An edge of a mesh with the two faces beside it; -1 where there is none.
struct MeshEdge {
  Vec3 from = {}, to = {};
  int face_a = -1, face_b = -1;
};

// Whether a flat face runs into a curve without an edge: it touches the cylinder along a line.
bool is_tangent(const Shape& shape, const Face& flat, const Face& curved) {
  const Cylinder& c = shape.cylinders[static_cast<std::size_t>(curved.cylinder)];
  const bool is_along = std::abs(dot(flat.plane.normal, c.axis)) < 1e-6;
  const bool looks_alike = dot(flat.plane.normal, curved.plane.normal) > 0.5;
  return is_along && looks_alike &&
         std::abs(std::abs(flat.plane.distance(c.point)) - c.radius) < tangent_within;
}

// Two roundings that go on into one another: their circles touch where they meet.
bool is_tangent(const Cylinder& a, const Cylinder& b) {
  const Vec3 between = b.point - a.point;
  const double apart = norm(between - a.axis * dot(between, a.axis));
  const double touching =
      a.is_hollow == b.is_hollow ? std::abs(a.radius - b.radius) : a.radius + b.radius;
  return norm(cross(a.axis, b.axis)) < 1e-6 && std::abs(apart - touching) < tangent_within;
}

bool is_smooth(const Shape& shape, int a, int b) {
  const Face& fa = shape.faces[static_cast<std::size_t>(a)];
  const Face& fb = shape.faces[static_cast<std::size_t>(b)];
  if (fa.cylinder < 0 && fb.cylinder < 0) return false;
  if (fa.cylinder == fb.cylinder) return true;
  if (fa.cylinder < 0) return is_tangent(shape, fa, fb);
  if (fb.cylinder < 0) return is_tangent(shape, fb, fa);
  return is_tangent(shape.cylinders[static_cast<std::size_t>(fa.cylinder)],
                    shape.cylinders[static_cast<std::size_t>(fb.cylinder)]);
}

std::vector<MeshEdge> edges_of(const Mesh& mesh) {
  struct Half {
    std::uint32_t low, high;
    int face;
  };
  std::vector<Half> halves;
  halves.reserve(mesh.triangles.size() * 3);
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    for (std::size_t i = 0; i < 3; ++i) {
      const auto [low, high] = std::minmax(mesh.triangles[t][i], mesh.triangles[t][(i + 1) % 3]);
      halves.push_back({low, high, mesh.face_of[t]});
    }
  }
  std::sort(halves.begin(), halves.end(), [](const Half& a, const Half& b) {
    return std::tie(a.low, a.high, a.face) < std::tie(b.low, b.high, b.face);
  });
  std::vector<MeshEdge> edges;
  for (std::size_t i = 0; i < halves.size();) {
    std::size_t j = i + 1;
    while (j < halves.size() && halves[j].low == halves[i].low && halves[j].high == halves[i].high)
      ++j;
    const int a = halves[i].face;
    const int b = halves[j - 1].face;
    if (a != b) edges.push_back({mesh.points[halves[i].low], mesh.points[halves[i].high], a, b});
    i = j;
  }
  return edges;
}

bool looks_here(const Shown& s, const Axes& axes, int face) {
  const Vec3 n =
      s.frame.direction_to_world(s.shape->faces[static_cast<std::size_t>(face)].plane.normal);
  return dot(axes.towards, n) > facing;
}

// How an edge is drawn where nothing stands before it; no pen for one that is not drawn at all.
std::optional<Pen> pen_of(const Shown& s, const Axes& axes, const MeshEdge& edge) {
  const bool a = looks_here(s, axes, edge.face_a);
  const bool b = looks_here(s, axes, edge.face_b);
  if (a != b) return Pen::outline;
  if (is_smooth(*s.shape, edge.face_a, edge.face_b)) return std::nullopt;
  return a ? Pen::edge : Pen::hidden;
}

}  // namespace

Look front_look() {
  return {{0, -1, 0}, {0, 0, 1}};
}
Look side_look() {
  return {{1, 0, 0}, {0, 0, 1}};
}
Look top_look() {
  return {{0, 0, 1}, {0, 1, 0}};
}
Look isometric_look() {
  return {{1, -1, 1}, {0, 0, 1}};
}

Vec2 projected(const Look& look, Vec3 p) {
  const Vec3 turned = axes_of(look).turn(p);
  return {turned.x, turned.y};
}

std::vector<Screen> screens_of(const std::vector<Shown>& shown, const Axes& axes) {
  std::vector<Screen> screens;
  for (const Shown& s : shown) {
    for (const Face& face : s.shape->faces) {
      const Vec3 normal = axes.turn(s.frame.direction_to_world(face.plane.normal));
      if (normal.z <= facing) continue;
      Screen screen;
      for (const auto& loop : face.loops) {
        auto& points = screen.loops.emplace_back();
        for (const Vec3& p : loop) {
          points.push_back(axes.turn(s.frame.to_world(p)));
          screen.box.add(points.back());
        }
      }
      screen.plane = {normal, dot(normal, screen.loops.front().front())};
      screens.push_back(std::move(screen));
    }
  }
  return screens;
}

std::vector<Candidate> candidates_of(const std::vector<Shown>& shown, const Axes& axes,
                                     bool with_hidden) {
  std::vector<Candidate> candidates;
  std::map<const Mesh*, std::vector<MeshEdge>> edges;
  for (std::size_t i = 0; i < shown.size(); ++i) {
    const Shown& s = shown[i];
    auto [entry, is_new] = edges.try_emplace(s.mesh);
    if (is_new) entry->second = edges_of(*s.mesh);
    for (const MeshEdge& edge : entry->second) {
      const auto pen = pen_of(s, axes, edge);
      if (!pen || (*pen == Pen::hidden && !with_hidden)) continue;
      candidates.push_back({axes.turn(s.frame.to_world(edge.from)),
                            axes.turn(s.frame.to_world(edge.to)), *pen, static_cast<int>(i)});
    }
  }
  return candidates;
}

View view_of(const std::vector<Shown>& shown, const Look& look, bool with_hidden) {
  const Axes axes = axes_of(look);
  return boxed(
      lines_before(screens_of(shown, axes), candidates_of(shown, axes, with_hidden), with_hidden));
}

void draw(Sheet& sheet, const View& view, double scale, Vec2 at) {
  for (const ViewLine& line : view.lines) {
    sheet.strokes.push_back(
        {line.pen,
         {on_paper(view, scale, at, line.from), on_paper(view, scale, at, line.to)},
         false});
  }
}

Vec2 on_paper(const View& view, double scale, Vec2 at, Vec2 p) {
  return {at.x + (p.x - view.low.x) * scale, at.y - (p.y - view.low.y) * scale};
}

}  // namespace kw
