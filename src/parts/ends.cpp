// Straight cuts of a part: its two ends, and tapers and free cuts.
#include <algorithm>
#include <cmath>
#include <fmt/core.h>
#include <limits>

#include "bench.h"
#include "lie.h"

namespace kw {
namespace {

constexpr double along_the_grain = 0.5;  // |n_x| below this: a rip or taper, not a crosscut

std::string other_way_of(Angle swing, Angle tilt) {
  const double s = std::abs(swing.in_degrees());
  const double t = std::abs(tilt.in_degrees());
  if (s <= furthest_swing_degrees && t <= furthest_tilt_degrees) return "";
  if (s > furthest_swing_degrees && t <= furthest_tilt_degrees) {
    return fmt::format(
        "past a mitre saw's swing: hold the part square out from the fence in a jig and "
        "swing to {:.1f} deg, or saw to the line on a band saw",
        90 - s);
  }
  if (s <= 0.05 && t <= furthest_swing_degrees) {
    return fmt::format(
        "past a mitre saw's tilt: stand the part on its edge and swing to {:.1f} deg", t);
  }
  if (t > furthest_tilt_degrees && s <= furthest_swing_degrees) {
    return fmt::format(
        "past a mitre saw's tilt: rest the part on a wedge of {:.1f} deg, or saw to the "
        "line on a band saw",
        t - 45);
  }
  return "past a mitre saw both ways: mark it from a template and saw to the line by hand or band "
         "saw";
}

SawCut cut_of(int feature, Vec3 normal, bool is_along) {
  SawCut cut{.feature = feature, .swing = swing_of(normal), .tilt = tilt_of(normal)};
  cut.printed_swing = as_printed(cut.swing);
  cut.printed_tilt = as_printed(cut.tilt);
  cut.is_along = is_along;
  if (!is_along) cut.other_way = other_way_of(cut.swing, cut.tilt);
  return cut;
}

// An end: measured where it meets the marked edge, on the upper face.
SawCut crosscut(Bench& bench, int feature, int side, const Plane& plane) {
  SawCut cut = cut_of(feature, plane.normal, false);
  const double near = x_on(plane, 0, bench.size.z);
  cut.on_edge = figure_of(bench, Way::along, near);
  cut.off_edge = figure_of(bench, Way::along, x_on(plane, bench.size.y, bench.size.z));
  bench.part->rules.push_back({.feature = feature,
                               .side = side,
                               .figure = cut.on_edge,
                               .axis = 0,
                               .at = {near, 0, bench.size.z},
                               .normal = printed_normal(plane.normal)});
  return cut;
}

// The line in which a plane meets the upper face (or, where it does not, the lower one).
struct Trace {
  Vec3 from = {}, to = {};
  bool is_found = false;
};

Trace trace_of(const Bench& bench, const Face& face) {
  Trace trace;
  for (const double z : {bench.size.z, 0.0}) {
    double low = std::numeric_limits<double>::infinity();
    double high = -low;
    for (const auto& loop : face.loops) {
      for (const Vec3& corner : loop) {
        const Vec3 p = bench.lie.to_bench(corner);
        if (std::abs(p.z - z) > 1e-3) continue;
        if (p.x < low) {
          low = p.x;
          trace.from = p;
        }
        if (p.x > high) {
          high = p.x;
          trace.to = p;
        }
      }
    }
    trace.is_found = high > low + 1e-3;
    if (trace.is_found) return trace;
  }
  return trace;
}

SawCut rip(Bench& bench, const Face& face, const Plane& plane) {
  SawCut cut = cut_of(face.feature, plane.normal, true);
  const Trace trace = trace_of(bench, face);
  if (!trace.is_found) return cut;
  cut.from_along = figure_of(bench, Way::along, trace.from.x);
  cut.to_along = figure_of(bench, Way::along, trace.to.x);
  const bool is_across = std::abs(plane.normal.y) >= std::abs(plane.normal.z);
  const int axis = is_across ? 1 : 2;
  const Way way = is_across ? Way::across : Way::through;
  cut.from_across = figure_of(bench, way, coordinate(trace.from, axis));
  cut.to_across = figure_of(bench, way, coordinate(trace.to, axis));
  bench.part->rules.push_back({.feature = face.feature,
                               .side = face.side,
                               .figure = cut.from_across,
                               .axis = axis,
                               .at = trace.from,
                               .normal = plane.normal,
                               .second = cut.to_across,
                               .second_at = trace.to});
  return cut;
}

// An end that other cuts have taken away whole: what is left is told by those cuts.
SawCut lost_end(Bench& bench, bool is_hook) {
  SawCut cut{.feature = -1};
  cut.on_edge = cut.off_edge = figure_of(bench, Way::along, is_hook ? 0.0 : bench.size.x);
  return cut;
}

bool is_straight_cut(FeatureKind kind) {
  return kind == FeatureKind::cut || kind == FeatureKind::taper || kind == FeatureKind::corner;
}

// The edges of the stick itself, where ripping puts them.
void add_ripped_edges(Bench& bench) {
  if (!is_ripped(*bench.piece, *bench.part)) return;
  for (const Face& face : bench.shape->faces) {
    const bool is_edge = face.side == static_cast<int>(Side::low_edge) ||
                         face.side == static_cast<int>(Side::high_edge);
    if (face.feature != 0 || !is_edge) continue;
    const Plane plane = to_bench(bench.lie, face.plane);
    if (plane.normal.y < 0.5 || std::abs(plane.offset - bench.size.y) > 1e-4) continue;
    bench.part->rules.push_back({.feature = 0,
                                 .side = face.side,
                                 .figure = bench.part->width,
                                 .axis = 1,
                                 .at = {0, bench.size.y, 0},
                                 .normal = plane.normal});
    return;
  }
}

}  // namespace

bool is_bevel(const Part& part, const SawCut& cut) {
  if (!cut.is_along || cut.from_across < 0) return false;
  const auto& f = part.figures;
  return f[static_cast<std::size_t>(cut.from_across)].exact ==
         f[static_cast<std::size_t>(cut.to_across)].exact;
}

void add_ends(Bench& bench) {
  const bool start_is_hook = bench.lie.row_x.x > 0;
  for (const bool is_hook : {true, false}) {
    const Side side = is_hook == start_is_hook ? Side::start : Side::end;
    const Face* face = end_face(*bench.shape, side);
    bench.part->ends.push_back(face == nullptr ? lost_end(bench, is_hook)
                                               : crosscut(bench, face->feature, face->side,
                                                          to_bench(bench.lie, face->plane)));
  }
  int last_feature = -1;
  for (const Face& face : bench.shape->faces) {
    const auto& feature = bench.shape->features[static_cast<std::size_t>(face.feature)];
    if (!is_straight_cut(feature.kind) || face.cylinder >= 0 || face.feature == last_feature)
      continue;
    last_feature = face.feature;
    const Plane plane = to_bench(bench.lie, face.plane);
    const bool is_along = std::abs(plane.normal.x) < along_the_grain;
    bench.part->cuts.push_back(is_along ? rip(bench, face, plane)
                                        : crosscut(bench, face.feature, face.side, plane));
  }
  add_ripped_edges(bench);
}

}  // namespace kw
