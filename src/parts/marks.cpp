// What joints take out of a part, and its holes, as marks on the bench.
#include <algorithm>
#include <array>
#include <cmath>

#include "bench.h"
#include "lie.h"

namespace kw {
namespace {

constexpr std::array all_sides = {Side::front,     Side::back,  Side::low_edge,
                                  Side::high_edge, Side::start, Side::end};
constexpr double at_edge = 1e-3;  // mm

bool is_hole(FeatureKind kind) {
  return kind == FeatureKind::hole || kind == FeatureKind::dowel_hole ||
         kind == FeatureKind::pilot_hole || kind == FeatureKind::clearance_hole ||
         kind == FeatureKind::pocket_hole;
}

bool is_marked(FeatureKind kind) {
  switch (kind) {
    case FeatureKind::half_lap:
    case FeatureKind::notch:
    case FeatureKind::housing:
    case FeatureKind::rabbet:
    case FeatureKind::groove:
    case FeatureKind::bridle:
    case FeatureKind::tenon:
    case FeatureKind::mortise:
      return true;
    default:
      return false;
  }
}

struct Range {
  double low = 1e300, high = -1e300;
  void add(double v) {
    low = std::min(low, v);
    high = std::max(high, v);
  }
  [[nodiscard]] bool is_found() const { return high >= low; }
};

// On a broad face the edges run at y = 0 and y = width; on a narrow one at z = thickness and z = 0.
int across_axis(Side side) {
  if (side == Side::front || side == Side::back) return 1;
  return side == Side::low_edge || side == Side::high_edge ? 2 : 1;
}

Opening opening_of(Bench& bench, Side side, std::vector<Vec3> outline) {
  Opening opening{.side = side};
  const int axis = across_axis(side);
  const Way way = axis == 1 ? Way::across : Way::through;
  const double size = coordinate(bench.size, axis);
  const double near_edge = axis == 1 ? 0.0 : size;
  Range near, far, across;
  for (const Vec3& p : outline) {
    const double c = coordinate(p, axis);
    across.add(c);
    if (std::abs(c - near_edge) < at_edge) near.add(p.x);
    if (std::abs(c - (size - near_edge)) < at_edge) far.add(p.x);
  }
  const auto along = [&](double x) { return figure_of(bench, Way::along, x); };
  if (near.is_found()) {
    opening.near_from = along(near.low);
    opening.near_to = along(near.high);
  }
  if (far.is_found()) {
    opening.far_from = along(far.low);
    opening.far_to = along(far.high);
  }
  if (!near.is_found() && !far.is_found()) {
    Range x;
    for (const Vec3& p : outline) x.add(p.x);
    opening.near_from = along(x.low);
    opening.near_to = along(x.high);
  }
  if (across.low > at_edge || across.high < size - at_edge) {
    opening.across_from = figure_of(bench, way, across.low);
    opening.across_to = figure_of(bench, way, across.high);
  }
  opening.outline = std::move(outline);
  return opening;
}

// How deep the cutter goes in from a side: to its plane that faces that side from below.
void set_depth(Bench& bench, Mark& mark, const BenchCutter& cutter) {
  for (const Opening& opening : mark.openings) {
    const Vec3 out = outward(opening.side);
    const SideFrame frame = frame_of(opening.side);
    if (frame.axis == 0) continue;
    double deepest = -1;
    for (const Plane& plane : cutter.planes) {
      const double facing = -dot(plane.normal, out);
      if (facing < 0.7) continue;
      for (const Vec3& p : opening.outline)
        deepest = std::max(deepest, -plane.distance(p) / facing);
    }
    if (deepest <= at_edge || deepest >= coordinate(bench.size, frame.axis) - at_edge) continue;
    mark.depth = figure_of(bench, frame.axis == 1 ? Way::across : Way::through, deepest);
    mark.depth_from = opening.side;
    return;
  }
}

// The corner of the openings that a plane passes through, nearest the marked edge and the upper
// face.
const Vec3* corner_on(const Mark& mark, const Plane& plane) {
  const Vec3* best = nullptr;
  for (const Opening& opening : mark.openings) {
    for (const Vec3& p : opening.outline) {
      if (std::abs(plane.distance(p)) > at_edge) continue;
      if (best == nullptr || p.y < best->y - at_edge ||
          (p.y < best->y + at_edge && p.z > best->z + at_edge)) {
        best = &p;
      }
    }
  }
  return best;
}

void add_rule(Bench& bench, const Mark& mark, const Plane& plane, int side) {
  PlaneRule rule{.feature = mark.feature, .side = side};
  const Vec3 n = plane.normal;
  const double ax = std::abs(n.x), ay = std::abs(n.y), az = std::abs(n.z);
  const SideFrame deep = frame_of(mark.depth_from);
  const bool is_floor = mark.depth >= 0 && dot(n, outward(mark.depth_from)) < -0.7;
  if (is_floor) {
    rule.figure = mark.depth;
    rule.axis = deep.axis;
    rule.counts_down = deep.is_high;
    rule.normal = -n;
  } else if (const Vec3* corner = corner_on(mark, plane)) {
    rule.axis = ax >= 0.5 ? 0 : ay >= az ? 1 : 2;
    const std::array ways = {Way::along, Way::across, Way::through};
    rule.figure =
        figure_of(bench, ways[static_cast<std::size_t>(rule.axis)], coordinate(*corner, rule.axis));
    rule.at = *corner;
    rule.normal = rule.axis == 0 ? -printed_normal(n) : -n;
  } else {
    return;
  }
  bench.part->rules.push_back(rule);
}

void set_walls(Mark& mark, const BenchCutter& cutter) {
  for (const Plane& plane : cutter.planes) {
    if (std::abs(plane.normal.x) < 0.5) continue;
    const Vec3 n = plane.normal.x < 0 ? -plane.normal : plane.normal;
    mark.swing = swing_of(n);
    mark.tilt = tilt_of(n);
    mark.printed_swing = as_printed(mark.swing);
    mark.printed_tilt = as_printed(mark.tilt);
    return;
  }
}

std::string partner_of(const Bench& bench, const Feature& feature) {
  if (feature.partner < 0) return "";
  return bench.piece->boards[static_cast<std::size_t>(feature.partner)].id;
}

void add_mark(Bench& bench, int number, const Feature& feature, const BenchCutter& cutter) {
  Mark mark{.feature = number,
            .kind = feature.kind,
            .joint = feature.joint,
            .partner = partner_of(bench, feature)};
  for (const Side side : all_sides) {
    auto outline = opening_on(bench, cutter.planes, side);
    if (!outline.empty()) mark.openings.push_back(opening_of(bench, side, std::move(outline)));
  }
  if (mark.openings.empty()) return;
  set_depth(bench, mark, cutter);
  set_walls(mark, cutter);
  for (std::size_t i = 0; i < cutter.planes.size(); ++i) {
    add_rule(bench, mark, cutter.planes[i], cutter.first_side + static_cast<int>(i));
  }
  bench.part->marks.push_back(std::move(mark));
}

Side side_entered(Vec3 direction) {
  const double ax = std::abs(direction.x), ay = std::abs(direction.y), az = std::abs(direction.z);
  if (az >= ax && az >= ay) return direction.z < 0 ? Side::front : Side::back;
  if (ay >= ax) return direction.y < 0 ? Side::high_edge : Side::low_edge;
  return direction.x < 0 ? Side::end : Side::start;
}

}  // namespace

void add_marks(Bench& bench) {
  const auto& features = bench.shape->features;
  for (std::size_t i = 0; i < features.size(); ++i) {
    if (!is_marked(features[i].kind)) continue;
    for (const BenchCutter& cutter : cutters_of(bench, features[i])) {
      add_mark(bench, static_cast<int>(i), features[i], cutter);
    }
  }
}

void add_holes(Bench& bench) {
  const auto& features = bench.shape->features;
  for (std::size_t i = 0; i < features.size(); ++i) {
    const Feature& feature = features[i];
    if (!is_hole(feature.kind)) continue;
    const Vec3 mouth = bench.lie.to_bench(feature.mouth);
    const Vec3 direction = bench.lie.turn(feature.direction);
    HoleMark hole{
        .feature = static_cast<int>(i), .kind = feature.kind, .side = side_entered(direction)};
    const int constant = frame_of(hole.side).axis;
    const bool is_end = constant == 0;
    hole.along = figure_of(bench, is_end ? Way::across : Way::along, is_end ? mouth.y : mouth.x);
    hole.across = constant == 2 ? figure_of(bench, Way::across, mouth.y)
                                : figure_of(bench, Way::through, mouth.z);
    if (feature.depth < 1e5) hole.depth = figure_of(bench, Way::through, feature.depth);
    hole.diameter = Length::mm(feature.diameter);
    hole.lean =
        Angle::radians(std::acos(std::min(1.0, std::abs(dot(direction, outward(hole.side))))));
    bench.part->holes.push_back(hole);
  }
}

}  // namespace kw
