#include <algorithm>
#include <cmath>
#include <numbers>
#include <tuple>

#include "kerfwright/drawing/view.h"

#include "removal.h"

namespace kw {
namespace {

constexpr double closes_within = 2e-3;  // mm between ends that are one corner of a cut face

struct Segment {
  Vec2 from = {}, to = {};
};

// Where an edge passes the height; the same bits whichever way the edge runs.
Vec3 crossing(Vec3 a, Vec3 b, double height) {
  if (std::tie(b.x, b.y, b.z) < std::tie(a.x, a.y, a.z)) std::swap(a, b);
  return a + (b - a) * ((height - a.z) / (b.z - a.z));
}

// What of a loop lies at or below the height (Sutherland and Hodgman 1974): where a loop comes out
// in pieces they hang together by a line along the cut, which counts for nothing by the even-odd
// rule.
std::vector<Vec3> below(const std::vector<Vec3>& loop, double height) {
  std::vector<Vec3> kept;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const Vec3& a = loop[i];
    const Vec3& b = loop[(i + 1) % loop.size()];
    if (a.z <= height) kept.push_back(a);
    if ((a.z <= height) != (b.z <= height)) kept.push_back(crossing(a, b, height));
  }
  return kept;
}

std::vector<Screen> below(const std::vector<Screen>& screens, double height) {
  std::vector<Screen> kept;
  for (const Screen& screen : screens) {
    Screen low{.plane = screen.plane};
    for (const auto& loop : screen.loops) {
      auto part = below(loop, height);
      if (part.size() < 3) continue;
      for (const Vec3& p : part) low.box.add(p);
      low.loops.push_back(std::move(part));
    }
    if (!low.loops.empty()) kept.push_back(std::move(low));
  }
  return kept;
}

std::vector<Candidate> below(const std::vector<Candidate>& edges, double height) {
  std::vector<Candidate> kept;
  for (Candidate edge : edges) {
    const bool from = edge.from.z <= height;
    const bool to = edge.to.z <= height;
    if (!from && !to) continue;
    if (from != to) (from ? edge.to : edge.from) = crossing(edge.from, edge.to, height);
    kept.push_back(edge);
  }
  return kept;
}

// Where one face meets the plane: stretches with the wood on their left.
void add_segments(const Shown& s, const Axes& axes, const Face& face, double height,
                  std::vector<Segment>& segments) {
  std::vector<Vec2> ends;
  for (const auto& loop : face.loops) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Vec3 a = axes.turn(s.frame.to_world(loop[i]));
      const Vec3 b = axes.turn(s.frame.to_world(loop[(i + 1) % loop.size()]));
      if ((a.z <= height) == (b.z <= height)) continue;
      const Vec3 p = crossing(a, b, height);
      ends.push_back({p.x, p.y});
    }
  }
  const Vec3 n = axes.turn(s.frame.direction_to_world(face.plane.normal));
  const Vec2 along = {-n.y, n.x};
  std::sort(ends.begin(), ends.end(),
            [&](Vec2 a, Vec2 b) { return dot(along, a) < dot(along, b); });
  for (std::size_t i = 0; i + 1 < ends.size(); i += 2) segments.push_back({ends[i], ends[i + 1]});
}

// Stretches strung together end to end.
std::vector<std::vector<Vec2>> loops_of(std::vector<Segment> segments) {
  std::erase_if(segments, [](const Segment& s) { return norm(s.to - s.from) < 1e-9; });
  std::vector<std::vector<Vec2>> loops;
  while (!segments.empty()) {
    std::vector<Vec2> loop = {segments.back().from};
    Vec2 at = segments.back().to;
    segments.pop_back();
    while (norm(at - loop.front()) > closes_within && !segments.empty()) {
      const auto next = std::min_element(segments.begin(), segments.end(),
                                         [&](const Segment& a, const Segment& b) {
                                           return norm(a.from - at) < norm(b.from - at);
                                         });
      if (norm(next->from - at) > closes_within) break;
      loop.push_back(next->from);
      at = next->to;
      segments.erase(next);
    }
    if (loop.size() > 2) loops.push_back(std::move(loop));
  }
  return loops;
}

CutFace cut_face_of(const Shown& s, const Axes& axes, double height, int body) {
  std::vector<Segment> segments;
  for (const Face& face : s.shape->faces) add_segments(s, axes, face, height, segments);
  CutFace cut{.body = body};
  for (const Segment& piece : segments) cut.area += cross(piece.from, piece.to) / 2;
  cut.loops = loops_of(std::move(segments));
  return cut;
}

void add_face(const CutFace& face, double height, std::vector<Screen>& screens,
              std::vector<Candidate>& edges) {
  Screen screen{.plane = {{0, 0, 1}, height}};
  for (const auto& loop : face.loops) {
    auto& points = screen.loops.emplace_back();
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Vec2 to = loop[(i + 1) % loop.size()];
      points.push_back({loop[i].x, loop[i].y, height});
      screen.box.add(points.back());
      edges.push_back({points.back(), {to.x, to.y, height}, Pen::outline, face.body});
    }
  }
  screens.push_back(std::move(screen));
}

}  // namespace

SectionView section_of(const std::vector<Shown>& shown, const Look& look, Vec3 through,
                       bool with_hidden) {
  const Axes axes = axes_of(look);
  const double height = axes.turn(through).z;
  auto screens = below(screens_of(shown, axes), height);
  auto edges = below(candidates_of(shown, axes, with_hidden), height);
  SectionView section;
  for (std::size_t i = 0; i < shown.size(); ++i) {
    CutFace face = cut_face_of(shown[i], axes, height, static_cast<int>(i));
    if (face.loops.empty()) continue;
    add_face(face, height, screens, edges);
    section.faces.push_back(std::move(face));
  }
  section.view = boxed(lines_before(screens, edges, with_hidden));
  return section;
}

std::vector<ViewLine> hatching_of(const CutFace& face, double apart, bool is_falling) {
  const double turn = std::numbers::sqrt2 / 2;
  const Vec2 along = {turn, is_falling ? -turn : turn};
  const Vec2 across = {-along.y, along.x};
  double low = 1e300, high = -1e300;
  for (const auto& loop : face.loops) {
    for (const Vec2 p : loop) {
      low = std::min(low, dot(across, p));
      high = std::max(high, dot(across, p));
    }
  }
  std::vector<ViewLine> lines;
  for (double at = (std::floor(low / apart) + 1) * apart; at < high; at += apart) {
    std::vector<double> ends;
    for (const auto& loop : face.loops) {
      for (std::size_t i = 0; i < loop.size(); ++i) {
        const Vec2 a = loop[i];
        const Vec2 b = loop[(i + 1) % loop.size()];
        const double from = dot(across, a) - at, to = dot(across, b) - at;
        if ((from <= 0) == (to <= 0)) continue;
        ends.push_back(dot(along, a + (b - a) * (from / (from - to))));
      }
    }
    std::sort(ends.begin(), ends.end());
    for (std::size_t i = 0; i + 1 < ends.size(); i += 2) {
      lines.push_back({across * at + along * ends[i], across * at + along * ends[i + 1], Pen::hatch,
                       face.body});
    }
  }
  return lines;
}

}  // namespace kw
