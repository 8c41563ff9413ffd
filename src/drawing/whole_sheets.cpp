#include <algorithm>
#include <cmath>
#include <fmt/core.h>

#include "kerfwright/drawing/sheets.h"
#include "kerfwright/drawing/view.h"

#include "layout.h"
#include "whole.h"
#include "words.h"

namespace kw {
namespace {

constexpr double margin = 5;
constexpr double balloon_room = 16;

struct Extent {
  Vec3 low = {1e300, 1e300, 1e300}, high = {-1e300, -1e300, -1e300};
};

Extent extent_of(const std::vector<Body>& bodies) {
  Extent e;
  for (const Body& body : bodies) {
    for (const Face& face : body.shape->faces) {
      for (const Vec3& corner : face.loops.front()) {
        const Vec3 p = body.frame.to_world(corner);
        e.low = {std::min(e.low.x, p.x), std::min(e.low.y, p.y), std::min(e.low.z, p.z)};
        e.high = {std::max(e.high.x, p.x), std::max(e.high.y, p.y), std::max(e.high.z, p.z)};
      }
    }
  }
  return e;
}

std::string over_all(double mm, const Resolved& piece, const SheetStyle& style) {
  return written(round_to(Length::mm(mm), piece.rule), style);
}

struct OnPaper {
  View view = {};
  Vec2 at = {};  // paper, low left corner
};

}  // namespace

ShownBodies shown_bodies(const std::vector<Body>& bodies) {
  ShownBodies all{.meshes = meshes_of(bodies)};
  for (std::size_t i = 0; i < bodies.size(); ++i)
    all.shown.push_back({bodies[i].shape.get(), all.meshes[i].get(), bodies[i].frame});
  return all;
}

View view_of_bodies(const std::vector<Body>& bodies, const Look& look, bool with_hidden) {
  return view_of(shown_bodies(bodies).shown, look, with_hidden);
}

std::vector<Pointer> pointers_of(const View& view, const CutList& list,
                                 const std::vector<int>& shown, double scale, Vec2 origin) {
  std::vector<double> longest(list.parts.size(), -1);
  std::vector<Pointer> pointers(list.parts.size());
  for (const ViewLine& line : view.lines) {
    if (line.pen == Pen::hidden) continue;
    const auto index = static_cast<std::size_t>(line.body);
    const auto body = shown.empty() ? index : static_cast<std::size_t>(shown[index]);
    const auto part = static_cast<std::size_t>(list.part_of_body[body]);
    const double length = norm(line.to - line.from);
    if (length <= longest[part]) continue;
    longest[part] = length;
    const Vec2 middle = (line.from + line.to) * 0.5;
    pointers[part] = {on_paper(view, scale, origin, middle), list.parts[part].letter,
                      static_cast<int>(part)};
  }
  std::erase_if(pointers, [](const Pointer& p) { return p.letter.empty(); });
  return pointers;
}

double add_balloons(Sheet& sheet, std::vector<Pointer> pointers, double top, double bottom) {
  std::stable_sort(pointers.begin(), pointers.end(),
                   [](const Pointer& a, const Pointer& b) { return a.at.y < b.at.y; });
  const double centre = sheet.width / 2;
  double lowest = 0;
  for (const bool is_left : {true, false}) {
    std::vector<Pointer> column;
    for (const Pointer& p : pointers) {
      if ((p.at.x < centre) == is_left) column.push_back(p);
    }
    std::vector<double> wanted;
    for (const Pointer& p : column) wanted.push_back(p.at.y);
    const auto ys =
        spread(wanted, 7.5, top + 4,
               std::max(bottom - 4, top + 4 + 7.5 * static_cast<double>(column.size())));
    const double x = is_left ? margin + 4 : sheet.width - margin - 4;
    for (std::size_t i = 0; i < column.size(); ++i) {
      const Vec2 from = {x + (is_left ? balloon_radius : -balloon_radius), ys[i]};
      sheet.strokes.push_back({Pen::dimension, {from, column[i].at}, false});
      sheet.fills.push_back({{{column[i].at.x - 0.5, column[i].at.y - 0.5},
                              {column[i].at.x + 0.5, column[i].at.y - 0.5},
                              {column[i].at.x + 0.5, column[i].at.y + 0.5},
                              {column[i].at.x - 0.5, column[i].at.y + 0.5}},
                             0.9,
                             false});
      add_balloon(sheet, {x, ys[i]}, column[i].letter);
      lowest = std::max(lowest, ys[i] + balloon_radius);
    }
  }
  return lowest;
}

Sheet overall_sheet(const Resolved& piece, const std::vector<Body>& bodies, const CutList& cut_list,
                    const SheetStyle& style) {
  Sheet sheet{.name = "overall", .title = piece.title, .width = style.width};
  const View view = view_of_bodies(bodies, isometric_look(), false);
  const double w = std::max(view.high.x - view.low.x, 1.0);
  const double h = std::max(view.high.y - view.low.y, 1.0);
  const double room = style.width - 2 * (margin + balloon_room);
  const double scale = std::min(room / w, (style.tallest - 2 * margin - 10) / h);
  const double column = 7.5 * std::ceil(static_cast<double>(cut_list.parts.size()) / 2 + 1);
  double height = std::max(h * scale, std::min(column, style.tallest - 2 * margin - 10));
  const Vec2 origin = {(style.width - w * scale) / 2, margin + (height + h * scale) / 2};
  draw(sheet, view, scale, origin);
  const double lowest =
      add_balloons(sheet, pointers_of(view, cut_list, {}, scale, origin), margin, margin + height);
  height = std::max(height, lowest - margin);
  const Extent e = extent_of(bodies);
  sheet.labels.push_back({.at = {style.width / 2, margin + height + 7},
                          .text = fmt::format("over all: {} wide, {} deep, {} high",
                                              over_all(e.high.x - e.low.x, piece, style),
                                              over_all(e.high.y - e.low.y, piece, style),
                                              over_all(e.high.z - e.low.z, piece, style)),
                          .height = 2.8,
                          .align = Align::middle});
  sheet.height = margin + height + 7 + margin;
  return sheet;
}

Sheet elevations_sheet(const Resolved& piece, const std::vector<Body>& bodies,
                       const CutList& cut_list, const SheetStyle& style) {
  static_cast<void>(cut_list);
  Sheet sheet{
      .name = "elevations", .title = piece.title + ": front, side, top", .width = style.width};
  const Extent e = extent_of(bodies);
  const Vec3 size = e.high - e.low;
  constexpr double gap = 22;
  const double scale =
      std::min((style.width - 2 * margin - 2 * gap - 14) / std::max(size.x + size.y, 1.0),
               (style.tallest - 2 * margin - 2 * gap) / std::max(size.z + size.y, 1.0));
  const double x0 = margin + gap;
  const double front_bottom = margin + 8 + size.z * scale;
  const double side_x = x0 + size.x * scale + gap;
  const double top_bottom = front_bottom + gap + size.y * scale;
  const std::vector<OnPaper> views = {
      {view_of_bodies(bodies, front_look(), true), {x0, front_bottom}},
      {view_of_bodies(bodies, side_look(), true), {side_x, front_bottom}},
      {view_of_bodies(bodies, top_look(), true), {x0, top_bottom}}};
  for (const OnPaper& p : views) draw(sheet, p.view, scale, p.at);
  add_dimension(sheet, {x0, front_bottom}, {x0 + size.x * scale, front_bottom}, 9,
                over_all(size.x, piece, style));
  add_dimension(sheet, {side_x, front_bottom}, {side_x + size.y * scale, front_bottom}, 9,
                over_all(size.y, piece, style));
  add_dimension(sheet, {x0, front_bottom - size.z * scale}, {x0, front_bottom}, 9,
                over_all(size.z, piece, style));
  for (const auto& [text, at] : {std::pair{"front", Vec2{x0, margin + 4}},
                                 {"side", Vec2{side_x, margin + 4}},
                                 {"top", Vec2{x0, front_bottom + gap - 3}}}) {
    sheet.labels.push_back({.at = at, .text = text, .height = 2.8, .is_bold = true});
  }
  sheet.height = top_bottom + margin;
  return sheet;
}

}  // namespace kw
