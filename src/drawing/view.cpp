#include "kerfwright/drawing/view.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <tuple>

#include "lines.h"

namespace kw {
namespace {

constexpr double behind = 2e-3;          // mm behind a face before an edge counts as hidden
constexpr double tangent_within = 1e-3;  // mm
constexpr double facing = 1e-9;          // n . towards above this looks at the eye

struct Axes {
  Vec3 right = {}, up = {}, towards = {};
  [[nodiscard]] Vec3 turn(Vec3 p) const { return {dot(right, p), dot(up, p), dot(towards, p)}; }
};

Axes axes_of(const Look& look) {
  Axes axes;
  axes.towards = unit(look.towards);
  axes.right = unit(cross(look.up, axes.towards));
  axes.up = cross(axes.towards, axes.right);
  return axes;
}

struct Box {
  double left = 1e300, right = -1e300, low = 1e300, high = -1e300, near = -1e300;
  void add(Vec3 p) {
    left = std::min(left, p.x);
    right = std::max(right, p.x);
    low = std::min(low, p.y);
    high = std::max(high, p.y);
    near = std::max(near, p.z);
  }
};

// A face that looks at the eye, in view coordinates.
struct Screen {
  std::vector<std::vector<Vec3>> loops = {};
  Plane plane = {};
  Box box = {};
};

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

// Which screens lie over a patch of the view: a coarse grid of lists.
class Grid {
 public:
  explicit Grid(const std::vector<Screen>& screens) {
    for (const Screen& s : screens) {
      all_.left = std::min(all_.left, s.box.left);
      all_.right = std::max(all_.right, s.box.right);
      all_.low = std::min(all_.low, s.box.low);
      all_.high = std::max(all_.high, s.box.high);
    }
    side_ = std::clamp(static_cast<int>(std::sqrt(static_cast<double>(screens.size()))), 1, 64);
    cells_.resize(static_cast<std::size_t>(side_) * static_cast<std::size_t>(side_));
    seen_.assign(screens.size(), 0);
    for (std::size_t i = 0; i < screens.size(); ++i) {
      each_cell(screens[i].box,
                [&](std::vector<int>& cell) { cell.push_back(static_cast<int>(i)); });
    }
  }

  template <class Use>
  void each_over(const Box& box, Use use) {
    ++stamp_;
    each_cell(box, [&](std::vector<int>& cell) {
      for (const int i : cell) {
        auto& seen = seen_[static_cast<std::size_t>(i)];
        if (seen == stamp_) continue;
        seen = stamp_;
        use(i);
      }
    });
  }

 private:
  [[nodiscard]] int column(double v, double low, double high) const {
    return high > low ? std::clamp(static_cast<int>((v - low) / (high - low) * side_), 0, side_ - 1)
                      : 0;
  }
  template <class Use>
  void each_cell(const Box& box, Use use) {
    const int x1 = column(box.right, all_.left, all_.right),
              y1 = column(box.high, all_.low, all_.high);
    for (int y = column(box.low, all_.low, all_.high); y <= y1; ++y) {
      for (int x = column(box.left, all_.left, all_.right); x <= x1; ++x) {
        use(cells_[static_cast<std::size_t>(y * side_ + x)]);
      }
    }
  }

  Box all_ = {};
  int side_ = 1;
  std::vector<std::vector<int>> cells_ = {};
  std::vector<int> seen_ = {};
  int stamp_ = 0;
};

using Interval = std::pair<double, double>;

// Where along from..to (0..1) the line passes over the face's loops: even-odd crossings.
std::vector<double> crossings(const Screen& screen, Vec3 from, Vec3 to) {
  const Vec2 along = {to.x - from.x, to.y - from.y};
  const double length2 = dot(along, along);
  std::vector<double> ts;
  for (const auto& loop : screen.loops) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Vec3& a = loop[i];
      const Vec3& b = loop[(i + 1) % loop.size()];
      const double side_a = cross(along, Vec2{a.x - from.x, a.y - from.y});
      const double side_b = cross(along, Vec2{b.x - from.x, b.y - from.y});
      if ((side_a <= 0) == (side_b <= 0)) continue;
      const double k = side_a / (side_a - side_b);
      const Vec2 at = {a.x + (b.x - a.x) * k - from.x, a.y + (b.y - a.y) * k - from.y};
      ts.push_back(dot(at, along) / length2);
    }
  }
  std::sort(ts.begin(), ts.end());
  return ts;
}

// The stretch of 0..1 in which from..to lies behind the face's plane.
Interval stretch_behind(const Screen& screen, Vec3 from, Vec3 to) {
  const double a = -screen.plane.distance(from) - behind;
  const double b = -screen.plane.distance(to) - behind;
  if (a <= 0 && b <= 0) return {1, 0};
  if (a > 0 && b > 0) return {0, 1};
  const double t = a / (a - b);
  return a > 0 ? Interval{0, t} : Interval{t, 1};
}

void add_hidden(const Screen& screen, Vec3 from, Vec3 to, std::vector<Interval>& hidden) {
  const Interval back = stretch_behind(screen, from, to);
  if (back.first >= back.second) return;
  const auto ts = crossings(screen, from, to);
  for (std::size_t i = 0; i + 1 < ts.size(); i += 2) {
    const double a = std::max({ts[i], back.first, 0.0});
    const double b = std::min({ts[i + 1], back.second, 1.0});
    if (b > a) hidden.emplace_back(a, b);
  }
}

void emit(std::vector<ViewLine>& lines, Vec3 from, Vec3 to, double a, double b, Pen pen, int body) {
  if (b - a < 1e-9) return;
  const Vec3 p = from + (to - from) * a;
  const Vec3 q = from + (to - from) * b;
  lines.push_back({{p.x, p.y}, {q.x, q.y}, pen, body});
}

void emit_stretches(std::vector<ViewLine>& lines, Vec3 from, Vec3 to, std::vector<Interval>& hidden,
                    Pen pen, int body, bool with_hidden) {
  std::sort(hidden.begin(), hidden.end());
  double at = 0;
  for (const auto& [a, b] : hidden) {
    if (b <= at) continue;
    if (a > at) emit(lines, from, to, at, a, pen, body);
    if (with_hidden) emit(lines, from, to, std::max(a, at), b, Pen::hidden, body);
    at = b;
  }
  emit(lines, from, to, at, 1, pen, body);
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

class Removal {
 public:
  Removal(const std::vector<Shown>& shown, const Axes& axes, bool with_hidden)
      : axes_(axes),
        with_hidden_(with_hidden),
        screens_(screens_of(shown, axes)),
        grid_(screens_) {}

  void add(const Shown& s, int body, const std::vector<MeshEdge>& edges) {
    for (const MeshEdge& edge : edges) {
      const auto pen = pen_of(s, axes_, edge);
      if (!pen || (*pen == Pen::hidden && !with_hidden_)) continue;
      const Vec3 from = axes_.turn(s.frame.to_world(edge.from));
      const Vec3 to = axes_.turn(s.frame.to_world(edge.to));
      if (norm(Vec2{to.x - from.x, to.y - from.y}) < 1e-6) continue;
      if (*pen == Pen::hidden) {
        emit(lines_, from, to, 0, 1, Pen::hidden, body);
        continue;
      }
      add_edge(from, to, *pen, body);
    }
  }

  std::vector<ViewLine> take() { return std::move(lines_); }

 private:
  void add_edge(Vec3 from, Vec3 to, Pen pen, int body) {
    Box box;
    box.add(from);
    box.add(to);
    const double far = std::min(from.z, to.z);
    hidden_.clear();
    grid_.each_over(box, [&](int i) {
      const Screen& screen = screens_[static_cast<std::size_t>(i)];
      if (screen.box.near <= far || screen.box.left >= box.right + behind ||
          screen.box.right <= box.left - behind || screen.box.low >= box.high + behind ||
          screen.box.high <= box.low - behind) {
        return;
      }
      add_hidden(screen, from, to, hidden_);
    });
    emit_stretches(lines_, from, to, hidden_, pen, body, with_hidden_);
  }

  Axes axes_;
  bool with_hidden_;
  std::vector<Screen> screens_;
  Grid grid_;
  std::vector<Interval> hidden_ = {};
  std::vector<ViewLine> lines_ = {};
};

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

View view_of(const std::vector<Shown>& shown, const Look& look, bool with_hidden) {
  Removal removal(shown, axes_of(look), with_hidden);
  std::map<const Mesh*, std::vector<MeshEdge>> edges;
  for (std::size_t i = 0; i < shown.size(); ++i) {
    auto [entry, is_new] = edges.try_emplace(shown[i].mesh);
    if (is_new) entry->second = edges_of(*shown[i].mesh);
    removal.add(shown[i], static_cast<int>(i), entry->second);
  }
  View view{.lines = without_shadowed(merged(removal.take()))};
  if (view.lines.empty()) return view;
  view.low = view.high = view.lines.front().from;
  for (const ViewLine& line : view.lines) {
    for (const Vec2 p : {line.from, line.to}) {
      view.low = {std::min(view.low.x, p.x), std::min(view.low.y, p.y)};
      view.high = {std::max(view.high.x, p.x), std::max(view.high.y, p.y)};
    }
  }
  return view;
}

void draw(Sheet& sheet, const View& view, double scale, Vec2 at) {
  const auto on_paper = [&](Vec2 p) {
    return Vec2{at.x + (p.x - view.low.x) * scale, at.y - (p.y - view.low.y) * scale};
  };
  for (const ViewLine& line : view.lines) {
    sheet.strokes.push_back({line.pen, {on_paper(line.from), on_paper(line.to)}, false});
  }
}

}  // namespace kw
