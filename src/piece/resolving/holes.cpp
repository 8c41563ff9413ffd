// Holes in boards, one or a row of them.
#include <cmath>
#include <fmt/format.h>

#include "making.h"
#include "place.h"

namespace kw::resolving {
namespace {

constexpr int most_in_a_row = 1000;
constexpr double right_through = 1e6;  // mm
constexpr double slack = 1e-6;

// The figures of a [hole], in mm.
struct Bore {
  double along = 0, across = 0, diameter = 0, step = 0;
  std::optional<double> depth = {};
  Angle tilt = {};
  int count = 1;
};

std::optional<Bore> bore_of(Scene& scene, const HoleDecl& decl) {
  Values& values = scene.work.values;
  const auto along = values.mm(decl.along, scene.site), across = values.mm(decl.across, scene.site);
  const auto diameter = values.positive_mm(decl.diameter, scene.site);
  const auto depth = decl.depth ? values.positive_mm(*decl.depth, scene.site) : std::nullopt;
  const auto tilt = decl.tilt ? values.angle(*decl.tilt, scene.site) : std::optional(Angle());
  const auto count =
      decl.count ? values.count(*decl.count, scene.site, 1, most_in_a_row) : std::optional(1);
  const auto step = decl.step ? values.mm(*decl.step, scene.site) : std::optional(0.0);
  if (!along || !across || !diameter || (decl.depth && !depth) || !tilt || !count || !step)
    return std::nullopt;
  return Bore{*along, *across, *diameter, *step, depth, *tilt, *count};
}

// A side that is bored into: where its holes are measured from, the two ways across it, and how
// thick and wide the wood is.
struct Face {
  Vec3 origin = {}, u = {}, v = {}, into = {};
  double u_from = 0, u_to = 0, half_v = 0, through = 0;
  bool is_end = false;
};

Face long_face(const Part& part, const Plane& side) {
  const Box box = box_of(part);
  const double x = part.starts_at;
  const bool is_edge = std::abs(side.normal.y) > 0.5;
  Face face{.u = {1, 0, 0}, .into = -side.normal, .u_from = box.from_x - x, .u_to = box.to_x - x};
  face.origin = Vec3{x, 0, 0} + side.normal * side.offset;
  face.v = is_edge ? Vec3{0, 0, 1} : Vec3{0, 1, 0};
  face.half_v = is_edge ? box.half_thickness : box.half_width;
  face.through = 2 * side.offset;
  return face;
}

Face end_face(const Part& part, Which which) {
  const Box box = box_of(part);
  const Plane& plane = part.ends[which].plane;
  Face face{.u = {0, 1, 0}, .v = {0, 0, 1}, .u_from = -box.half_width, .u_to = box.half_width};
  // Across the board, in the plane of the end.
  face.u.x = -plane.normal.y / plane.normal.x + 0.0;
  face.v.x = -plane.normal.z / plane.normal.x + 0.0;
  face.origin = {end_on_line(part, which), 0, 0};
  face.into = {which == at_start ? 1.0 : -1.0, 0, 0};
  face.half_v = box.half_thickness;
  face.through = box.to_x - box.from_x;
  face.is_end = true;
  return face;
}

std::optional<Face> face_of(const Part& part, std::string_view word) {
  if (word == "start") return end_face(part, at_start);
  if (word == "end") return end_face(part, at_end);
  const auto side = long_side(word, part.board.section);
  return side ? std::optional(long_face(part, *side)) : std::nullopt;
}

void tell(Scene& scene, std::string_view code, Span at, std::string message, std::string hint) {
  scene.work.faults.report(
      {.code = code, .at = at, .message = std::move(message), .hint = std::move(hint)});
}

// What a row of holes takes up of a side, along and across.
struct Footprint {
  double from = 0, to = 0, half = 0;
};

Footprint footprint_of(const Bore& bore) {
  const double last = bore.along + bore.step * (bore.count - 1), radius = bore.diameter / 2;
  return {std::min(bore.along, last) - radius, std::max(bore.along, last) + radius,
          std::abs(bore.across) + radius};
}

bool is_on_face(Scene& scene, const HoleDecl& decl, const Bore& bore, const Face& face,
                const Part& part) {
  const Footprint print = footprint_of(bore);
  if (print.half <= face.half_v + slack && print.from >= face.u_from - slack &&
      print.to <= face.u_to + slack)
    return true;
  const auto written = [&](double mm) { return scene.work.faults.length(mm); };
  tell(scene, "piece.hole-off-board", decl.name.at,
       fmt::format("this takes from {} to {} along and {} to a side; that side of `{}` has from {} "
                   "to {} along and {} "
                   "to a side",
                   written(print.from), written(print.to), written(print.half), part.board.id,
                   written(face.u_from), written(face.u_to), written(face.half_v)),
       face.is_end ? "on an end, `along` is across the width and `across` through the thickness"
                   : "`along` is measured from the board's start, `across` from its middle line");
  return false;
}

bool stays_inside(Scene& scene, const HoleDecl& decl, const Bore& bore, const Face& face,
                  const Part& part) {
  if (!bore.depth || *bore.depth * cosine_of(bore.tilt) < face.through - slack) return true;
  tell(scene, "piece.hole-too-deep", decl.depth->at,
       fmt::format("a hole {} deep comes out of `{}`, which is {} here",
                   scene.work.faults.length(*bore.depth), part.board.id,
                   scene.work.faults.length(face.through)),
       "leave `depth` out for a hole right through");
  return false;
}

std::optional<Features> bored(Scene& scene, const HoleDecl& decl, const Bore& bore,
                              const Part& part) {
  const auto face = face_of(part, decl.face.text);
  if (!face || !is_on_face(scene, decl, bore, *face, part) ||
      !stays_inside(scene, decl, bore, *face, part))
    return std::nullopt;
  const Vec3 direction = face->into * cosine_of(bore.tilt) + Vec3{sine_of(bore.tilt), 0, 0};
  Features features;
  for (int i = 0; i < bore.count; ++i)
    features.holes.push_back(
        {.name = decl.name.text,
         .mouth = face->origin + face->u * (bore.along + bore.step * i) + face->v * bore.across,
         .direction = direction,
         .diameter = bore.diameter,
         .depth = bore.depth.value_or(right_through),
         .is_through = !bore.depth});
  return features;
}

bool is_sound(Scene& scene, const HoleDecl& decl, const Bore& bore) {
  const bool is_end = decl.face.text == "start" || decl.face.text == "end";
  if (!is_end && !long_side(decl.face.text, {})) {
    tell(scene, "piece.unknown-word", decl.face.at,
         fmt::format("`{}` is no side of a board", decl.face.text),
         "say one of +y, -y, +z, -z, start, end");
    return false;
  }
  const double tilt = std::abs(bore.tilt.in_degrees());
  if (tilt <= (is_end ? 0 : 75)) return true;
  tell(scene, "piece.bad-tilt", decl.tilt->at,
       is_end ? "a hole in an end is bored along the board"
              : "a hole cannot lean more than 75 degrees",
       is_end ? "leave `tilt` out" : "make the tilt less");
  return false;
}

}  // namespace

void bore_holes(Scene& scene) {
  for (const HoleDecl& decl : scene.scope().holes) {
    const auto bore = bore_of(scene, decl);
    if (!bore || decl.face.text.empty() || !is_sound(scene, decl, *bore)) continue;
    make_on(scene, decl.of, decl.name.at,
            [&](const Part& part) { return bored(scene, decl, *bore, part); });
  }
}

}  // namespace kw::resolving
