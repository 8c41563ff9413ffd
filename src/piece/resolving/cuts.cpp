// Free plane cuts and tapers.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "making.h"
#include "place.h"

namespace kw::resolving {
namespace {

constexpr double no_cut =
    1e-6;  // mm: what a plane reaches into a board less than this it does not cut

Features one_cut(const Plane& plane, CutSource source, const CutDecl& decl) {
  return {
      .cuts = {
          {.plane = tidied(plane), .source = source, .name = decl.name.text, .at = decl.name.at}}};
}

std::optional<Plane> plane_of_cut(Scene& scene, const CutDecl& decl) {
  if (decl.plane) return plane_of(scene.work, scene.site, *decl.plane);
  if (!decl.at || !decl.faces) return std::nullopt;
  return plane_of(scene.work, scene.site, PlaneDecl{.at = *decl.at, .faces = *decl.faces});
}

void tell_missed(Scene& scene, const Part& part, const CutDecl& decl) {
  scene.work.faults.report({.code = "piece.cut-misses",
                            .severity = Severity::warning,
                            .at = decl.name.at,
                            .message = fmt::format("this plane does not touch `{}`", part.board.id),
                            .hint = "move the plane, or take the board out of `of`"});
}

std::nullopt_t tell_nothing_left(Scene& scene, const Part& part, const CutDecl& decl) {
  scene.work.faults.report(
      {.code = "piece.cut-takes-all",
       .at = decl.name.at,
       .message = fmt::format("nothing of `{}` is left by this cut", part.board.id),
       .hint = "the wood on the side that the plane faces is sawn away: turn `faces` round"});
  return std::nullopt;
}

void cut_by_plane(Scene& scene, const CutDecl& decl) {
  const auto plane = plane_of_cut(scene, decl);
  if (!plane) return;
  const bool must_meet = are_single(scene, decl.of);
  make_where_it_stands(scene, decl.of, decl.name.at,
                       [&](const Part& part) -> std::optional<Features> {
                         const Reach reach = reach_of(body_of(part), plane->normal);
                         if (reach.from >= plane->offset - no_cut)
                           return tell_nothing_left(scene, part, decl);
                         if (reach.to > plane->offset + no_cut)
                           return one_cut(part.board.frame.to_local(*plane), CutSource::free, decl);
                         if (must_meet) tell_missed(scene, part, decl);
                         return std::nullopt;
                       });
}

// What is said of a taper; lengths in mm, along from where the middle line starts.
struct Taper {
  double left_at_start = 0, left_at_end = 0;
  std::optional<double> starts = {}, ends = {};
};

std::optional<Taper> taper_of(Scene& scene, const CutDecl& decl) {
  Values& values = scene.work.values;
  if (!decl.from || !decl.to) return std::nullopt;
  const auto from = values.positive_mm(*decl.from, scene.site),
             to = values.positive_mm(*decl.to, scene.site);
  Taper taper;
  if (decl.starts) taper.starts = values.mm(*decl.starts, scene.site);
  if (decl.ends) taper.ends = values.mm(*decl.ends, scene.site);
  if (!from || !to || (decl.starts && !taper.starts) || (decl.ends && !taper.ends))
    return std::nullopt;
  taper.left_at_start = *from;
  taper.left_at_end = *to;
  return taper;
}

// From where to where the taper goes on a board, along its middle line, and how much wood is left
// there.
struct Run {
  double from = 0, to = 0, full = 0;
};

Run run_on(const Part& part, const Taper& taper, double full) {
  const double end = end_on_line(part, at_end);
  return {part.starts_at + taper.starts.value_or(0),
          taper.ends ? part.starts_at + *taper.ends : end, full};
}

// A saw cut is straight and cannot stop in the wood: where the taper begins or ends within the
// board, the whole width must be left.
bool runs_out(Scene& scene, const CutDecl& decl, const Taper& taper, const Run& run,
              const Part& part) {
  const auto tell = [&](const Formula& at, double left) {
    scene.work.faults.report(
        {.code = "piece.taper-stops",
         .at = at.at,
         .message = fmt::format(
             "the taper leaves {} of {} where it stops: a straight cut cannot stop there",
             scene.work.faults.length(left), scene.work.faults.length(run.full)),
         .hint = "leave the full size where a taper starts or ends within the board"});
    return false;
  };
  const bool starts_within = run.from > part.starts_at + no_cut;
  const bool ends_within = run.to < end_on_line(part, at_end) - no_cut;
  if (starts_within && std::abs(taper.left_at_start - run.full) > no_cut)
    return tell(*decl.from, taper.left_at_start);
  if (ends_within && std::abs(taper.left_at_end - run.full) > no_cut)
    return tell(*decl.to, taper.left_at_end);
  return true;
}

bool is_within(Scene& scene, const CutDecl& decl, const Taper& taper, double full) {
  for (const auto& [left, formula] :
       {std::pair{taper.left_at_start, &*decl.from}, std::pair{taper.left_at_end, &*decl.to}}) {
    if (left <= full + 1e-6) continue;
    scene.work.faults.report(
        {.code = "piece.taper-too-wide",
         .at = formula->at,
         .message = fmt::format("the board is {} here: a taper cannot leave {}",
                                scene.work.faults.length(full), scene.work.faults.length(left)),
         .hint = "say what is left of the board at each end of the taper"});
    return false;
  }
  return true;
}

std::optional<Features> tapered(Scene& scene, const CutDecl& decl, const Taper& taper,
                                const Part& part) {
  const Plane side = *long_side(decl.edge->text, part.board.section);
  const Run run = run_on(part, taper, 2 * side.offset);
  if (!is_within(scene, decl, taper, run.full) || !runs_out(scene, decl, taper, run, part))
    return std::nullopt;
  if (run.to - run.from < 1) {
    scene.work.faults.report({.code = "piece.taper-too-short",
                              .at = decl.name.at,
                              .message = fmt::format("the taper is {} long",
                                                     scene.work.faults.length(run.to - run.from)),
                              .hint = "`starts` and `ends` are measured from the board's start"});
    return std::nullopt;
  }
  const bool is_none = std::min(taper.left_at_start, taper.left_at_end) > run.full - no_cut;
  if (is_none) return std::nullopt;
  // Through (from, left at start) and (to, left at end), measured from the opposite side.
  const double rise = taper.left_at_end - taper.left_at_start, along = run.to - run.from;
  const double slope = std::hypot(rise, along);
  const Vec3 normal = side.normal * (along / slope) + Vec3{-rise / slope, 0, 0};
  const Vec3 point = Vec3{run.from, 0, 0} + side.normal * (taper.left_at_start - side.offset);
  return one_cut(plane_through(point, normal), CutSource::taper, decl);
}

void cut_taper(Scene& scene, const CutDecl& decl) {
  const auto taper = taper_of(scene, decl);
  if (decl.edge->text.empty()) return;
  if (!long_side(decl.edge->text, {})) {
    scene.work.faults.report(
        {.code = "piece.unknown-word",
         .at = decl.edge->at,
         .message = fmt::format("`{}` is no side that can be tapered", decl.edge->text),
         .hint = hint_for(decl.edge->text, {"+y", "-y", "+z", "-z"}, "sides")});
    return;
  }
  if (!taper) return;
  make_on(scene, decl.of, decl.name.at,
          [&](const Part& part) { return tapered(scene, decl, *taper, part); });
}

}  // namespace

void cut_planes(Scene& scene) {
  for (const CutDecl& decl : scene.scope().cuts)
    if (decl.edge)
      cut_taper(scene, decl);
    else
      cut_by_plane(scene, decl);
}

}  // namespace kw::resolving
