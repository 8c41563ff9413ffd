#include <algorithm>
#include <fmt/core.h>

#include "kerfwright/drawing/sheets.h"

#include "layout.h"
#include "part_views.h"
#include "words.h"

namespace kw {
namespace {

constexpr double margin = 5;  // mm, all round
constexpr double view_gap = 5;
constexpr double tallest_face = 100;

double add_heading(Sheet& sheet, const Resolved& piece, const Part& part, const SheetStyle& style) {
  add_balloon(sheet, {margin + 3.5, margin + 3.5}, part.letter);
  const double room = style.width - 2 * margin - 9;
  const double y = add_wrapped(sheet, {margin + 9, margin + 4.6}, room,
                               {.text = fmt::format("{} - {}", part.name, count_text(part)),
                                .height = 3.6,
                                .is_bold = true});
  return add_wrapped(sheet, {margin + 9, y}, room,
                     {.text = size_text(piece, part, style), .height = 2.8}) +
         1;
}

constexpr int most_steps_smaller = 2;

// The sheet with its views at the scale of `drawing`.
Sheet drawn(const PartDrawing& drawing) {
  const Part& part = *drawing.part;
  const SheetStyle& style = *drawing.style;
  Sheet sheet{.name = "part-" + part.letter,
              .title = fmt::format("Part {}: {}", part.letter, part.name),
              .width = style.width};
  double y = add_heading(sheet, *drawing.piece, part, style) + view_gap;
  y = add_face_view(sheet, drawing, y) + view_gap;
  y = add_edge_view(sheet, drawing, y) + view_gap;
  y = add_end_views(sheet, drawing, y) + 2;
  sheet.labels.push_back({.at = {style.width - margin, y},
                          .text = fmt::format("scale 1:{:g}", 1 / drawing.scale),
                          .height = 2.2,
                          .align = Align::right});
  y += 3.5;
  for (const std::string& note :
       notes_of(*drawing.piece, *drawing.bodies, *drawing.list, part, style)) {
    y = add_wrapped(sheet, {margin, y}, style.width - 2 * margin, {.text = note, .height = 2.6}) +
        0.4;
  }
  sheet.height = y + margin;
  return sheet;
}

}  // namespace

Sheet part_sheet(const Resolved& piece, const std::vector<Body>& bodies, const CutList& cut_list,
                 int part, const SheetStyle& style) {
  const Part& p = cut_list.parts[static_cast<std::size_t>(part)];
  PartDrawing drawing{
      .bodies = &bodies, .list = &cut_list, .part = &p, .style = &style, .piece = &piece};
  const double left = room_left(drawing);
  const double room = style.width - 2 * margin - left - room_right(drawing);
  drawing.scale =
      nice_scale(std::min(room / std::max(p.size.x, 1.0), tallest_face / std::max(p.size.y, 1.0)));
  drawing.x0 = margin + left;
  Sheet sheet = drawn(drawing);
  for (int i = 0; i < most_steps_smaller && sheet.height > style.tallest; ++i) {
    drawing.scale = nice_scale(drawing.scale * 0.99);
    drawing.end_share *= 0.75;
    sheet = drawn(drawing);
  }
  return sheet;
}

}  // namespace kw
