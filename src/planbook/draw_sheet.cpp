// A sheet on a Cairo page.
#include <cmath>

#include "pages.h"
#include "typeset.h"

namespace kw {
namespace {

void trace(cairo_t* cairo, const std::vector<Vec2>& points, bool is_closed) {
  for (std::size_t i = 0; i < points.size(); ++i) {
    i == 0 ? cairo_move_to(cairo, points[i].x, points[i].y)
           : cairo_line_to(cairo, points[i].x, points[i].y);
  }
  if (is_closed) cairo_close_path(cairo);
}

void hatch(cairo_t* cairo, const std::vector<Vec2>& points) {
  cairo_save(cairo);
  trace(cairo, points, true);
  cairo_clip(cairo);
  double x0, y0, x1, y1;
  cairo_clip_extents(cairo, &x0, &y0, &x1, &y1);
  const double height = y1 - y0;
  for (double x = std::floor((x0 - height) / 2) * 2; x < x1; x += 2) {
    cairo_move_to(cairo, x, y1);
    cairo_line_to(cairo, x + height, y0);
  }
  set_ink(cairo, 0.55);
  cairo_set_line_width(cairo, 0.12);
  cairo_stroke(cairo);
  cairo_restore(cairo);
}

void draw_fill(cairo_t* cairo, const Fill& fill) {
  if (fill.is_hatched) return hatch(cairo, fill.points);
  trace(cairo, fill.points, true);
  if (fill.tint)
    cairo_set_source_rgb(cairo, fill.tint->red, fill.tint->green, fill.tint->blue);
  else
    set_ink(cairo, fill.shade);
  cairo_fill(cairo);
}

void stroke_with(cairo_t* cairo, Pen pen) {
  set_ink(cairo, 0.9);
  cairo_set_line_width(cairo, width_of(pen));
  const auto dashes = dashes_of(pen);
  cairo_set_dash(cairo, dashes.data(), static_cast<int>(dashes.size()), 0);
  cairo_set_line_cap(cairo, dashes.empty() ? CAIRO_LINE_CAP_ROUND : CAIRO_LINE_CAP_BUTT);
  cairo_set_line_join(cairo, CAIRO_LINE_JOIN_ROUND);
  cairo_stroke(cairo);
}

void draw_stroke(cairo_t* cairo, const Stroke& stroke) {
  trace(cairo, stroke.points, stroke.is_closed);
  stroke_with(cairo, stroke.pen);
}

void draw_arc(cairo_t* cairo, const Arc& arc) {
  bool is_first = true;
  for (const auto& [from, a, b, to] : beziers_of(arc)) {
    if (is_first) cairo_move_to(cairo, from.x, from.y);
    is_first = false;
    cairo_curve_to(cairo, a.x, a.y, b.x, b.y, to.x, to.y);
  }
  stroke_with(cairo, arc.pen);
}

void draw_label(cairo_t* cairo, const Label& label) {
  const Layout layout = set_text(cairo, label.text, {label.height, label.is_bold});
  const double width = size_of(layout.get()).x;
  const double base = static_cast<double>(pango_layout_get_baseline(layout.get())) / PANGO_SCALE;
  const double left = label.align == Align::left     ? 0
                      : label.align == Align::middle ? -width / 2
                                                     : -width;
  cairo_save(cairo);
  cairo_translate(cairo, label.at.x, label.at.y);
  cairo_rotate(cairo, -label.turn * G_PI / 180);
  set_ink(cairo, 0.9);
  show(cairo, layout.get(), {left, -base});
  cairo_restore(cairo);
}

}  // namespace

void draw_sheet(cairo_t* cairo, const Sheet& sheet) {
  for (const Fill& fill : sheet.fills) draw_fill(cairo, fill);
  for (const Stroke& stroke : sheet.strokes) draw_stroke(cairo, stroke);
  for (const Arc& arc : sheet.arcs) draw_arc(cairo, arc);
  for (const Label& label : sheet.labels) draw_label(cairo, label);
}

}  // namespace kw
