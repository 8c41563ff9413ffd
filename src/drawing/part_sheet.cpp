#include <algorithm>
#include <cmath>
#include <fmt/core.h>

#include "kerfwright/drawing/sheets.h"

#include "bench_view.h"
#include "layout.h"
#include "words.h"

namespace kw {
namespace {

constexpr double margin = 5;      // mm, all round
constexpr double side_room = 22;  // left and right of the views, for angles and widths
constexpr double view_gap = 5;

struct Placing {
  const Part* part = nullptr;
  const SheetStyle* style = nullptr;
  double scale = 1;
  double x0 = 0;
};

double figure_mm(const Part& part, int figure) {
  return part.figures[static_cast<std::size_t>(figure)].exact.in_mm();
}

// The ticks of the figures along x that belong to one edge of the upper face.
std::vector<Tick> ticks_of(const Placing& placing, bool is_marked_edge, double edge_y) {
  const Part& part = *placing.part;
  std::vector<Tick> ticks;
  const auto add = [&](int figure) {
    if (figure < 0 || figure_mm(part, figure) < -1e-6) return;
    ticks.push_back({placing.x0 + figure_mm(part, figure) * placing.scale, edge_y,
                     figure_text(part, figure, *placing.style)});
  };
  for (const SawCut& cut : part.ends) add(is_marked_edge ? cut.on_edge : cut.off_edge);
  for (const SawCut& cut : part.cuts) {
    if (!cut.is_along) add(is_marked_edge ? cut.on_edge : cut.off_edge);
  }
  for (const Mark& mark : part.marks) {
    for (const Opening& o : mark.openings) {
      if (o.side == Side::front || o.side == Side::back) {
        add(is_marked_edge ? o.near_from : o.far_from);
        add(is_marked_edge ? o.near_to : o.far_to);
      } else if (o.side == (is_marked_edge ? Side::low_edge : Side::high_edge)) {
        add(o.near_from);
        add(o.near_to);
      }
    }
  }
  if (is_marked_edge) add(part.length);
  return ticks;
}

bool says_more(const std::vector<Tick>& far, const std::vector<Tick>& near) {
  return std::any_of(far.begin(), far.end(), [&](const Tick& f) {
    return std::none_of(near.begin(), near.end(), [&](const Tick& n) { return n.text == f.text; });
  });
}

double nice_scale(double most) {
  for (const double one_to :
       {1.0, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0}) {
    if (1 / one_to <= most) return 1 / one_to;
  }
  return most;
}

void add_angle(Sheet& sheet, Angle angle, std::string_view what, Vec2 at, Align align) {
  const double degrees = std::abs(angle.in_degrees());
  if (degrees < 0.05) return;
  sheet.labels.push_back({.at = at,
                          .text = std::string(what) + format_angle(Angle::degrees(degrees)),
                          .height = 2.6,
                          .align = align});
}

double add_heading(Sheet& sheet, const Resolved& piece, const Part& part, const SheetStyle& style) {
  add_balloon(sheet, {margin + 3.5, margin + 3.5}, part.letter);
  sheet.labels.push_back({.at = {margin + 9, margin + 4.6},
                          .text = fmt::format("{} - {}", part.name, count_text(part)),
                          .height = 3.6,
                          .is_bold = true});
  return add_wrapped(sheet, {margin + 9, margin + 9.6}, style.width - 2 * margin - 9,
                     {.text = size_text(piece, part, style), .height = 2.8}) +
         1;
}

// Face view with its running dimensions, angles and width; gives the y below it.
double add_face(Sheet& sheet, const Placing& placing, const View& view, double top) {
  const Part& part = *placing.part;
  const double height = part.size.y * placing.scale;
  const auto near_probe = ticks_of(placing, true, 0);
  const bool has_far = says_more(ticks_of(placing, false, 0), near_probe);
  double y = top;
  if (has_far) {
    double reach = 0;
    for (const Tick& tick : ticks_of(placing, false, 0))
      reach = std::max(reach, text_width({.text = tick.text, .height = 2.6}));
    y += reach + 12;
    add_running(sheet, placing.x0, ticks_of(placing, false, y), y - 4, false);
  }
  const double bottom = y + height;
  draw(sheet, view, placing.scale,
       {placing.x0 + view.low.x * placing.scale, bottom - view.low.y * placing.scale});
  const double right = placing.x0 + part.size.x * placing.scale;
  add_angle(sheet, part.ends[0].printed_swing, "", {placing.x0 - 3, (y + bottom) / 2 + 1},
            Align::right);
  add_dimension(sheet, {right, y}, {right, bottom}, -5,
                figure_text(part, part.width, *placing.style));
  add_angle(sheet, part.ends[1].printed_swing, "", {right + 2, y - 1.5}, Align::left);
  return add_running(sheet, placing.x0, ticks_of(placing, true, bottom), bottom + 4, true);
}

double add_edge(Sheet& sheet, const Placing& placing, const View& view, double top) {
  const Part& part = *placing.part;
  const double bottom = top + part.size.z * placing.scale;
  draw(sheet, view, placing.scale,
       {placing.x0 + view.low.x * placing.scale, bottom - view.low.y * placing.scale});
  const double right = placing.x0 + part.size.x * placing.scale;
  add_angle(sheet, part.ends[0].printed_tilt, "tilt ", {placing.x0 - 3, (top + bottom) / 2 + 1},
            Align::right);
  add_dimension(sheet, {right, top}, {right, bottom}, -5,
                figure_text(part, part.thickness, *placing.style));
  add_angle(sheet, part.ends[1].printed_tilt, "tilt ", {right + 2, top - 6}, Align::left);
  return bottom + 3;
}

}  // namespace

Sheet part_sheet(const Resolved& piece, const std::vector<Body>& bodies, const CutList& cut_list,
                 int part, const SheetStyle& style) {
  const Part& p = cut_list.parts[static_cast<std::size_t>(part)];
  Sheet sheet{.name = "part-" + p.letter,
              .title = fmt::format("Part {}: {}", p.letter, p.name),
              .width = style.width};
  const double room = style.width - 2 * margin - 2 * side_room;
  Placing placing{.part = &p, .style = &style};
  placing.scale = nice_scale(
      std::min(room / std::max(p.size.x, 1.0), 0.4 * style.tallest / std::max(p.size.y, 1.0)));
  placing.x0 = margin + side_room;
  double y = add_heading(sheet, piece, p, style) + view_gap;
  y = add_face(sheet, placing, bench_view(bodies, p, look_at(Side::front)), y) + view_gap;
  y = add_edge(sheet, placing, bench_view(bodies, p, look_at(Side::low_edge)), y) + view_gap;
  sheet.labels.push_back({.at = {style.width - margin, y},
                          .text = fmt::format("scale 1:{:g}", 1 / placing.scale),
                          .height = 2.2,
                          .align = Align::right});
  y += 3.5;
  for (const std::string& note : notes_of(piece, bodies, cut_list, p, style)) {
    y = add_wrapped(sheet, {margin, y}, style.width - 2 * margin, {.text = note, .height = 2.6}) +
        0.4;
  }
  sheet.height = y + margin;
  return sheet;
}

}  // namespace kw
