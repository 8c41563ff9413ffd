#include "bench.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "lie.h"

namespace kw {
namespace {

constexpr double on_plane = 1e-4;  // mm

// A typed size comes back from millimetres within 1e-9 mm: give it its exact ticks again.
Length exact_of(double mm) {
  const Length plain = Length::mm(mm);
  const Length slack = Length::mm(1e-6);
  for (const Length step : {Length::ticks(Length::ticks_per_inch / 256), Length::mm(0.001)}) {
    const Length snapped = round_to(plain, step);
    if (abs(snapped - plain) <= slack) return snapped;
  }
  return plain;
}

std::array<double, 3> as_array(Vec3 v) {
  return {v.x, v.y, v.z};
}
Vec3 as_vector(const std::array<double, 3>& a) {
  return {a[0], a[1], a[2]};
}

std::vector<Vec3> rectangle_of(const Bench& bench, Side side) {
  const SideFrame frame = frame_of(side);
  const auto size = as_array(bench.size);
  const auto u = static_cast<std::size_t>((frame.axis + 1) % 3);
  const auto v = static_cast<std::size_t>((frame.axis + 2) % 3);
  std::vector<Vec3> corners;
  for (const auto& [a, b] : {std::pair{0.0, 0.0}, {1.0, 0.0}, {1.0, 1.0}, {0.0, 1.0}}) {
    std::array<double, 3> corner = {};
    corner[static_cast<std::size_t>(frame.axis)] =
        frame.is_high ? size[static_cast<std::size_t>(frame.axis)] : 0.0;
    corner[u] = a * size[u];
    corner[v] = b * size[v];
    corners.push_back(as_vector(corner));
  }
  return corners;
}

std::vector<Vec3> clipped(const std::vector<Vec3>& polygon, const Plane& plane) {
  std::vector<Vec3> kept;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Vec3 a = polygon[i];
    const Vec3 b = polygon[(i + 1) % polygon.size()];
    const double da = plane.distance(a);
    const double db = plane.distance(b);
    if (da <= 0) kept.push_back(a);
    if ((da < 0 && db > 0) || (da > 0 && db < 0)) kept.push_back(a + (b - a) * (da / (da - db)));
  }
  return kept;
}

double area_of(const std::vector<Vec3>& polygon) {
  Vec3 sum = {};
  for (std::size_t i = 2; i < polygon.size(); ++i) {
    sum += cross(polygon[i - 1] - polygon[0], polygon[i] - polygon[0]);
  }
  return 0.5 * norm(sum);
}

// Points for one end as the hook end: square is best, else its tip must lie on the marked edge on
// top.
double hook_score(const Bench& bench, Side side) {
  const Face* face = end_face(*bench.shape, side);
  if (face == nullptr) return 0;
  const Plane plane = to_bench(bench.lie, face->plane);
  if (plane.normal.x > 0) return 0;
  if (plane.normal.x < -1 + 1e-9) return 4;
  return std::abs(x_on(plane, 0, bench.size.z)) < 1e-3 ? 3 : 0;
}

double marks_on_top(const Bench& bench) {
  double score = 0;
  for (const Feature& feature : bench.shape->features) {
    for (const auto& cutter : cutters_of(bench, feature)) {
      if (!opening_on(bench, cutter.planes, Side::front).empty()) score += 0.25;
    }
  }
  return std::min(score, 2.0);
}

}  // namespace

SideFrame frame_of(Side side) {
  switch (side) {
    case Side::start:
      return {0, false};
    case Side::end:
      return {0, true};
    case Side::low_edge:
      return {1, false};
    case Side::high_edge:
      return {1, true};
    case Side::back:
      return {2, false};
    case Side::front:
      return {2, true};
  }
  return {};
}

Vec3 outward(Side side) {
  const SideFrame frame = frame_of(side);
  std::array<double, 3> n = {};
  n[static_cast<std::size_t>(frame.axis)] = frame.is_high ? 1.0 : -1.0;
  return as_vector(n);
}

int figure_of(Bench& bench, Way way, double mm) {
  const Length exact = exact_of(mm);
  auto& figures = bench.part->figures;
  const Length slack = Length::mm(1e-5);
  for (std::size_t i = 0; i < figures.size(); ++i) {
    if (figures[i].way == way && abs(figures[i].exact - exact) <= slack) return static_cast<int>(i);
  }
  figures.push_back({way, exact, round_to(exact, bench.rule)});
  return static_cast<int>(figures.size()) - 1;
}

bool is_ripped(const Resolved& piece, const Part& part) {
  const auto& stock = piece.stocks[static_cast<std::size_t>(part.stock)];
  return stock.is_sheet || part.strips > 1 || stock.used.width != stock.bought.width;
}

Angle swing_of(Vec3 n) {
  return Angle::radians(std::atan2(n.y, std::abs(n.x)));
}
Angle tilt_of(Vec3 n) {
  return Angle::radians(std::asin(std::clamp(n.z, -1.0, 1.0)));
}
Angle as_printed(Angle angle) {
  return round_to(angle, Angle::degrees(0.1));
}

Vec3 printed_normal(Vec3 n) {
  const Angle swing = swing_of(n);
  const Angle tilt = tilt_of(n);
  const double s = as_printed(swing).in_radians();
  const double t = as_printed(tilt).in_radians();
  if (std::abs(s - swing.in_radians()) < 1e-10 && std::abs(t - tilt.in_radians()) < 1e-10) return n;
  const double way = n.x < 0 ? -1.0 : 1.0;
  return {way * std::cos(t) * std::cos(s), std::cos(t) * std::sin(s), std::sin(t)};
}

double x_on(const Plane& plane, double y, double z) {
  return (plane.offset - plane.normal.y * y - plane.normal.z * z) / plane.normal.x;
}

std::vector<BenchCutter> cutters_of(const Bench& bench, const Feature& feature) {
  std::vector<BenchCutter> cutters;
  for (std::size_t c = 0; c < feature.cutter_begin.size(); ++c) {
    const auto from = static_cast<std::size_t>(feature.cutter_begin[c]);
    const auto to = c + 1 < feature.cutter_begin.size()
                        ? static_cast<std::size_t>(feature.cutter_begin[c + 1])
                        : feature.planes.size();
    BenchCutter cutter{.first_side = static_cast<int>(from)};
    for (std::size_t i = from; i < to; ++i)
      cutter.planes.push_back(to_bench(bench.lie, feature.planes[i]));
    cutters.push_back(std::move(cutter));
  }
  return cutters;
}

std::vector<Vec3> opening_on(const Bench& bench, const std::vector<Plane>& cutter, Side side) {
  std::vector<Vec3> polygon = rectangle_of(bench, side);
  const Vec3 out = outward(side);
  for (const Plane& plane : cutter) {
    const double along = dot(plane.normal, out);
    if (std::abs(along) > 1 - 1e-12) {
      // Parallel to the side: the hollow opens here when it holds the wood just under the side.
      if (plane.distance(polygon.front() - out * on_plane) > 0) return {};
      continue;
    }
    polygon = clipped(polygon, plane);
    if (polygon.size() < 3) return {};
  }
  if (area_of(polygon) < 1e-2) return {};
  return polygon;
}

const Face* end_face(const Shape& shape, Side side) {
  const auto kind = side == Side::start ? FeatureKind::start : FeatureKind::end;
  const Face* of_stick = nullptr;
  for (const Face& face : shape.faces) {
    if (shape.features[static_cast<std::size_t>(face.feature)].kind == kind) return &face;
    if (face.feature == 0 && face.side == static_cast<int>(side)) of_stick = &face;
  }
  return of_stick;
}

Lie best_lie(const Resolved& piece, const Body& body) {
  const auto& board = piece.boards[static_cast<std::size_t>(body.board)];
  Bench bench{.piece = &piece, .shape = body.shape.get()};
  Lie best = {};
  double best_score = -1;
  for (const Lie& turn : turns_of_a_stick(false)) {
    if (turn.is_mirrored) continue;
    bench.lie = on_the_bench(*body.shape, turn);
    bench.size = body.shape->high - body.shape->low;
    double score =
        hook_score(bench, Side::start) + hook_score(bench, Side::end) + marks_on_top(bench);
    const bool shows_up = board.show.size() == 2 && board.show[1] == 'z' &&
                          turn.row_z.z * (board.show[0] == '-' ? -1.0 : 1.0) > 0;
    if (shows_up) score += 0.5;
    if (score > best_score + 1e-9) {
      best_score = score;
      best = bench.lie;
    }
  }
  return best;
}

}  // namespace kw
