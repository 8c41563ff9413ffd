#include "typeset.h"

#include "figures.h"

namespace kw {
namespace {

// A figure is never broken over two lines: 31 at the end of one and 1/2 on the next misleads.
void keep_figures_whole(PangoLayout* layout, const std::string& text) {
  PangoAttrList* attributes = pango_attr_list_new();
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (!is_within_figure(text, i)) continue;
    PangoAttribute* whole = pango_attr_allow_breaks_new(FALSE);
    whole->start_index = static_cast<guint>(i - 1);
    whole->end_index = static_cast<guint>(i + 2);
    pango_attr_list_insert(attributes, whole);
  }
  pango_layout_set_attributes(layout, attributes);
  pango_attr_list_unref(attributes);
}

}  // namespace

Layout set_text(cairo_t* cairo, const std::string& text, Type type, double width) {
  Layout layout(pango_cairo_create_layout(cairo));
  // Advances stay as the font has them: rounded to device units they would be far too wide in
  // millimetres.
  PangoContext* context = pango_layout_get_context(layout.get());
  cairo_font_options_t* options = cairo_font_options_create();
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  pango_cairo_context_set_font_options(context, options);
  pango_context_set_round_glyph_positions(context, FALSE);
  cairo_font_options_destroy(options);
  PangoFontDescription* font = pango_font_description_from_string("DejaVu Sans");
  pango_font_description_set_absolute_size(font, type.height * PANGO_SCALE);
  if (type.is_bold) pango_font_description_set_weight(font, PANGO_WEIGHT_BOLD);
  pango_layout_set_font_description(layout.get(), font);
  pango_font_description_free(font);
  if (width > 0) {
    pango_layout_set_width(layout.get(), static_cast<int>(width * PANGO_SCALE));
    pango_layout_set_wrap(layout.get(), PANGO_WRAP_WORD_CHAR);
  }
  pango_layout_set_text(layout.get(), text.c_str(), static_cast<int>(text.size()));
  if (width > 0) keep_figures_whole(layout.get(), text);
  return layout;
}

Vec2 size_of(PangoLayout* layout) {
  PangoRectangle logical;
  pango_layout_get_extents(layout, nullptr, &logical);
  return {static_cast<double>(logical.width) / PANGO_SCALE,
          static_cast<double>(logical.height) / PANGO_SCALE};
}

void show(cairo_t* cairo, PangoLayout* layout, Vec2 at) {
  cairo_move_to(cairo, at.x, at.y);
  pango_cairo_show_layout(cairo, layout);
}

void set_ink(cairo_t* cairo, double shade) {
  const double level = 1 - shade;
  cairo_set_source_rgb(cairo, level, level, level);
}

void rule(cairo_t* cairo, Vec2 from, Vec2 to, double width, double shade) {
  cairo_move_to(cairo, from.x, from.y);
  cairo_line_to(cairo, to.x, to.y);
  cairo_set_dash(cairo, nullptr, 0, 0);
  cairo_set_line_width(cairo, width);
  set_ink(cairo, shade);
  cairo_stroke(cairo);
}

}  // namespace kw
