#include <algorithm>
#include <cmath>
#include <fmt/core.h>
#include <map>

#include "kerfwright/drawing/sheets.h"
#include "kerfwright/drawing/view.h"

#include "boxes.h"
#include "layout.h"
#include "section_plane.h"
#include "whole.h"

namespace kw {
namespace {

constexpr double margin = 5;
constexpr double balloon_room = 12;
constexpr double title_room = 9;
constexpr double past = 7;   // mm of paper that the cutting plane reaches past the parent view
constexpr double thick = 3;  // length of its thick ends

struct Hatching {
  double apart = 0;  // mm of paper
  bool is_falling = false;
};
constexpr std::array<Hatching, 4> hatchings = {
    {{1.3, false}, {1.3, true}, {0.8, false}, {0.8, true}}};

Rect rect_of(const CutFace& face) {
  Rect rect;
  for (const auto& loop : face.loops) {
    for (const Vec2 p : loop) rect.add(p);
  }
  return rect;
}

// Boards beside one another are hatched differently.
std::vector<std::size_t> hatching_by_face(const std::vector<CutFace>& faces) {
  std::vector<std::size_t> kinds;
  for (std::size_t i = 0; i < faces.size(); ++i) {
    std::array<bool, hatchings.size()> is_taken = {};
    for (std::size_t j = 0; j < i; ++j) {
      if (rect_of(faces[i]).is_near(rect_of(faces[j]), 1)) is_taken[kinds[j]] = true;
    }
    const auto free = std::find(is_taken.begin(), is_taken.end(), false);
    kinds.push_back(free == is_taken.end() ? i % hatchings.size()
                                           : static_cast<std::size_t>(free - is_taken.begin()));
  }
  return kinds;
}

bool is_in(const std::vector<CutFace>& faces, Vec2 p) {
  return std::any_of(faces.begin(), faces.end(), [&](const CutFace& face) {
    bool is_in = false;
    for (const auto& loop : face.loops) {
      for (std::size_t i = 0; i < loop.size(); ++i) {
        const Vec2 a = loop[i] - p, b = loop[(i + 1) % loop.size()] - p;
        if ((a.y <= 0) != (b.y <= 0) && a.x + (b.x - a.x) * (a.y / (a.y - b.y)) > 0) is_in = !is_in;
      }
    }
    return is_in;
  });
}

// Where a line passes from one cut face to the next or to none, 0 .. 1.
std::vector<double> stops_of(const std::vector<CutFace>& faces, const ViewLine& line) {
  std::vector<double> stops = {0, 1};
  const Vec2 d = line.to - line.from;
  for (const CutFace& face : faces) {
    for (const auto& loop : face.loops) {
      for (std::size_t i = 0; i < loop.size(); ++i) {
        const Vec2 a = loop[i];
        const Vec2 e = loop[(i + 1) % loop.size()] - a;
        const double turn = cross(d, e);
        if (std::abs(turn) < 1e-12) continue;
        const double t = cross(a - line.from, e) / turn;
        const double u = cross(a - line.from, d) / turn;
        if (t > 0 && t < 1 && u >= 0 && u <= 1) stops.push_back(t);
      }
    }
  }
  std::sort(stops.begin(), stops.end());
  return stops;
}

// Hidden lines behind a cut face would spoil its hatching (ISO 128-40 leaves them out).
void drop_hidden_behind_faces(SectionView& section) {
  std::vector<ViewLine> kept;
  for (const ViewLine& line : section.view.lines) {
    if (line.pen != Pen::hidden) {
      kept.push_back(line);
      continue;
    }
    const auto stops = stops_of(section.faces, line);
    for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
      const Vec2 from = line.from + (line.to - line.from) * stops[i];
      const Vec2 to = line.from + (line.to - line.from) * stops[i + 1];
      if (norm(to - from) < 1e-3 || is_in(section.faces, (from + to) * 0.5)) continue;
      kept.push_back({from, to, line.pen, line.body});
    }
  }
  section.view.lines = std::move(kept);
}

Vec2 size_of(const View& view) {
  return {std::max(view.high.x - view.low.x, 1.0), std::max(view.high.y - view.low.y, 1.0)};
}

// The section itself on a sheet of its own, `width` wide.
Sheet drawn_section(const SectionView& section, const CutList& list, double width, double scale) {
  Sheet sheet{.width = width};
  const Vec2 size = size_of(section.view);
  const Vec2 at = {(width - size.x * scale) / 2, title_room + size.y * scale};
  draw(sheet, section.view, scale, at);
  const auto kinds = hatching_by_face(section.faces);
  std::map<int, std::pair<double, Vec2>> longest;  // of the lines of hatching, by part
  for (std::size_t i = 0; i < section.faces.size(); ++i) {
    const Hatching& kind = hatchings[kinds[i]];
    const int part = list.part_of_body[static_cast<std::size_t>(section.faces[i].body)];
    for (const ViewLine& line :
         hatching_of(section.faces[i], kind.apart / scale, kind.is_falling)) {
      const Vec2 from = on_paper(section.view, scale, at, line.from),
                 to = on_paper(section.view, scale, at, line.to);
      sheet.strokes.push_back({Pen::hatch, {from, to}, false});
      auto& best = longest[part];
      if (norm(to - from) > best.first) best = {norm(to - from), (from + to) * 0.5};
    }
  }
  std::vector<Pointer> pointers;
  for (const auto& [part, line] : longest)
    pointers.push_back({line.second, list.parts[static_cast<std::size_t>(part)].letter, part});
  const double column = 7.5 * std::ceil(static_cast<double>(pointers.size()) / 2 + 1);
  const double bottom = std::max(at.y, title_room + column);
  const double lowest = add_balloons(sheet, std::move(pointers), title_room, bottom);
  sheet.labels.push_back({.at = {width / 2, 4},
                          .text = "section A-A",
                          .height = 2.8,
                          .align = Align::middle,
                          .is_bold = true});
  sheet.height = std::max(bottom, lowest) + 2;
  return sheet;
}

// The mark of the plane where it stands on the parent view: chain line, thick ends, arrows the way
// one looks, a letter at each (ISO 128-40).
void add_plane_mark(Sheet& sheet, Vec2 from, Vec2 to, Vec2 looking) {
  const Vec2 along = (to - from) * (1 / norm(to - from));
  sheet.strokes.push_back({Pen::centre, {from, to}, false});
  for (const auto& [end, inward] : {std::pair{from, along}, {to, along * -1}}) {
    sheet.strokes.push_back({Pen::outline, {end, end + inward * thick}, false});
    const Vec2 tail = end - looking * 5;
    sheet.strokes.push_back({Pen::dimension, {tail, end}, false});
    const Vec2 side = {-looking.y, looking.x};
    const Vec2 back = end - looking * 1.8;
    sheet.fills.push_back({{end, back + side * 0.6, back - side * 0.6}, 0.9, false});
    sheet.labels.push_back({.at = tail - looking * 2.2 + Vec2{0, 1.1},
                            .text = "A",
                            .height = 3.2,
                            .align = Align::middle,
                            .is_bold = true});
  }
}

// The view on which the plane stands as a line: the front for one across x or z, the side for one
// across y.
bool has_side_as_parent(const CutPlane& plane) {
  return std::abs(plane.look.towards.y) > 0.5;
}
Look parent_look(const CutPlane& plane) {
  return has_side_as_parent(plane) ? side_look() : front_look();
}

Sheet drawn_parent(const View& view, const CutPlane& plane, double width, double scale) {
  const bool is_across_z = std::abs(plane.look.towards.z) > 0.5;
  const Vec2 size = size_of(view);
  Sheet sheet{.width = width};
  const Vec2 at = {(width - size.x * scale) / 2, title_room + past + size.y * scale};
  draw(sheet, view, scale, at);
  const Look look = parent_look(plane);
  const Vec2 on = on_paper(view, scale, at, projected(look, plane.through));
  const Vec2 towards = projected(look, plane.look.towards);
  const Vec2 looking = {-towards.x, towards.y};  // paper, y down
  if (is_across_z) {
    add_plane_mark(sheet, {at.x - past, on.y}, {at.x + size.x * scale + past, on.y}, looking);
  } else {
    add_plane_mark(sheet, {on.x, at.y - size.y * scale - past}, {on.x, at.y + past}, looking);
  }
  sheet.labels.push_back({.at = {0, 4},
                          .text = has_side_as_parent(plane) ? "side" : "front",
                          .height = 2.8,
                          .is_bold = true});
  sheet.height = at.y + past + 3;
  return sheet;
}

}  // namespace

std::optional<Sheet> section_sheet(const Resolved& piece, const std::vector<Body>& bodies,
                                   const CutList& cut_list, const SheetStyle& style) {
  const auto plane = cut_plane_of(bodies);
  if (!plane) return std::nullopt;
  const ShownBodies scene = shown_bodies(bodies);
  SectionView section = section_of(scene.shown, plane->look, plane->through, true);
  drop_hidden_behind_faces(section);
  const View parent_view = view_of(scene.shown, parent_look(*plane), true);
  const Vec2 parent = size_of(parent_view), own = size_of(section.view);
  const double parent_room = (style.width - 2 * margin) * 0.36;
  const double room = style.width - 2 * margin - parent_room;
  const double tall = style.tallest - 2 * margin - title_room - 4;
  const double scale = std::min((room - 2 * balloon_room - 8) / own.x, tall / own.y);
  const double parent_scale =
      std::min({(parent_room - 2 * past - 12) / parent.x, (tall - 2 * past - 3) / parent.y, scale});
  const Sheet left = drawn_parent(parent_view, *plane, parent_room, parent_scale);
  const Sheet right = drawn_section(section, cut_list, room, scale);
  Sheet sheet{.name = "section", .title = piece.title + ": section A-A", .width = style.width};
  place(sheet, left, {margin, margin});
  place(sheet, right, {margin + parent_room, margin});
  sheet.height = std::max(left.height, right.height) + 2 * margin;
  return sheet;
}

}  // namespace kw
