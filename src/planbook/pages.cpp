#include "pages.h"

#include <algorithm>
#include <cairo-pdf.h>
#include <cmath>
#include <fmt/core.h>
#include <memory>
#include <numeric>
#include <pango/pangocairo.h>

namespace kw {
namespace {

constexpr double margin = 15;  // mm, all round; the foot stands inside it
constexpr double points_per_mm = 72 / 25.4;
constexpr double body_type = 3.1;  // em, mm
constexpr double table_type = 2.7;
constexpr double most_growth = 2;  // of a table that fills its page
constexpr double small_type = 2.2;
constexpr double cell_gap = 2.5, row_padding = 1.6;
constexpr double paragraph_gap = 2.5;
constexpr double sheet_gap = 3;

// Of the words of a caution from its frame.
double inset_of(const Paragraph& paragraph) {
  return paragraph.is_caution ? 3 : 0;
}

struct Unref {
  void operator()(PangoLayout* layout) const { g_object_unref(layout); }
};
using Layout = std::unique_ptr<PangoLayout, Unref>;

struct Type {
  double height = body_type;
  bool is_bold = false;
};

// Text set in the plan's type; wraps at `width` mm when that is positive.
bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

// Whether the space at `at` stands within one figure: 31 1/2, 12.7 mm.
bool is_within_figure(const std::string& text, std::size_t at) {
  if (text[at] != ' ' || at == 0 || !is_digit(text[at - 1])) return false;
  if (text.compare(at + 1, 2, "mm") == 0) return true;
  std::size_t end = at + 1;
  while (end < text.size() && is_digit(text[end])) ++end;
  return end > at + 1 && end < text.size() && text[end] == '/';
}

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

Layout set_text(cairo_t* cairo, const std::string& text, Type type, double width = 0) {
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

// While it lives, what is drawn is marked as part of the document's structure.
class Tag {
 public:
  Tag(cairo_t* cairo, const char* name, const std::string& attributes = "")
      : cairo_(cairo), name_(name) {
    cairo_tag_begin(cairo_, name_, attributes.c_str());
  }
  ~Tag() { cairo_tag_end(cairo_, name_); }
  Tag(const Tag&) = delete;
  Tag& operator=(const Tag&) = delete;

 private:
  cairo_t* cairo_;
  const char* name_;
};

// A place on a page, as links and bookmarks name it.
std::string place_of(int page, double y) {
  return fmt::format("page={} pos=[{:.1f} {:.1f}]", page, margin * points_per_mm,
                     (margin + y) * points_per_mm);
}

}  // namespace

Vec2 paper_size(Paper paper) {
  return paper == Paper::a4 ? Vec2{210, 297} : Vec2{215.9, 279.4};
}

Vec2 text_area(Paper paper) {
  return paper_size(paper) - Vec2{2 * margin, 2 * margin};
}

void draw_sheet(cairo_t* cairo, const Sheet& sheet) {
  for (const Fill& fill : sheet.fills) draw_fill(cairo, fill);
  for (const Stroke& stroke : sheet.strokes) draw_stroke(cairo, stroke);
  for (const Arc& arc : sheet.arcs) draw_arc(cairo, arc);
  for (const Label& label : sheet.labels) draw_label(cairo, label);
}

Pages::Pages(cairo_t* cairo, cairo_surface_t* surface, const Book& book,
             const std::vector<int>& heading_pages)
    : cairo_(cairo),
      surface_(surface),
      book_(book),
      known_pages_(heading_pages),
      area_(text_area(book.paper)) {
  cairo_scale(cairo_, points_per_mm, points_per_mm);
  cairo_translate(cairo_, margin, margin);
}

void Pages::set() {
  for (std::size_t i = 0; i < book_.blocks.size(); ++i) add(i);
  finish();
}

void Pages::add(std::size_t block) {
  struct Adder {
    Pages& pages;
    std::size_t at;
    void operator()(const Heading& b) const { pages.add_heading(b, pages.kept_with(at)); }
    void operator()(const Paragraph& b) const { pages.add_paragraph(b, pages.kept_below(at)); }
    void operator()(const Remark& b) const { pages.add_remark(b); }
    void operator()(const Table& b) const { pages.add_table(b); }
    void operator()(const Sheet& b) const { pages.add_sheet(b, pages.kept_under(at)); }
    void operator()(const Contents&) const { pages.add_contents(); }
    void operator()(const NewPage&) const { pages.wants_page_ = true; }
  };
  const bool is_break = std::holds_alternative<NewPage>(book_.blocks[block]);
  if (!is_break && wants_page_) {
    wants_page_ = false;
    if (y_ > 0) new_page();
  }
  std::visit(Adder{*this, block}, book_.blocks[block]);
}

// How much of what follows a heading must stand on its page: a picture with the words before and
// after it, all of it where a page has room for that; a table that is not long.
double Pages::kept_with(std::size_t heading) {
  constexpr double some_lines = 25, some_heading = 10;
  double all = 0;
  std::size_t i = heading + 1;
  const auto add_words = [&] {
    for (; i < book_.blocks.size(); ++i) {
      const Paragraph* words = std::get_if<Paragraph>(&book_.blocks[i]);
      if (words == nullptr) return;
      all += height_of(*words) + paragraph_gap;
    }
  };
  add_words();
  if (i == book_.blocks.size()) return some_lines;
  if (std::holds_alternative<Heading>(book_.blocks[i])) return all + some_heading + kept_with(i);
  if (const Table* table = std::get_if<Table>(&book_.blocks[i]))
    return std::max(some_lines, std::min(all + height_of(*table), area_.y * 0.35));
  const Sheet* sheet = std::get_if<Sheet>(&book_.blocks[i]);
  if (sheet == nullptr) return some_lines;
  all += height_of(*sheet) + sheet_gap;
  const double least = all + some_lines;
  ++i;
  add_words();
  return all < area_.y * 0.9 ? all : std::min(least, area_.y * 0.8);
}

void Pages::finish() {
  const auto behind = [](std::string_view before, const std::string& text) {
    return text.empty() ? "" : fmt::format("{}{}", before, text);
  };
  const auto foot =
      fmt::format("{}{}{}{}    page {}", book_.title, behind(", ", book_.author),
                  behind(", ", book_.licence), behind("    this copy is for ", book_.buyer), page_);
  const Layout layout = set_text(cairo_, foot, {2.3, false}, area_.x);
  pango_layout_set_alignment(layout.get(), PANGO_ALIGN_CENTER);
  set_ink(cairo_, 0.6);
  show(cairo_, layout.get(), {0, area_.y + 4});
  cairo_show_page(cairo_);
}

void Pages::new_page() {
  finish();
  ++page_;
  y_ = 0;
}

void Pages::need(double height) {
  if (y_ > 0 && y_ + height > area_.y) new_page();
}

void Pages::add_heading(const Heading& heading, double kept) {
  const double type = heading.level == 0 ? 8 : heading.level == 1 ? 5 : 3.8;
  const Layout layout = set_text(cairo_, heading.text, {type, true}, area_.x);
  const double height = size_of(layout.get()).y;
  need(height + (heading.level == 0 ? 0 : kept));
  if (y_ > 0) y_ += 3;
  const auto place = place_of(page_, y_);
  const int parent =
      heading.level > 1 && last_outline_ > 0 ? last_outline_ : CAIRO_PDF_OUTLINE_ROOT;
  const int id = cairo_pdf_surface_add_outline(surface_, parent, heading.text.c_str(),
                                               place.c_str(), CAIRO_PDF_OUTLINE_FLAG_OPEN);
  if (heading.level <= 1) last_outline_ = id;
  pages_of_headings_.push_back(page_);
  const Tag tag(cairo_, heading.level == 0 ? "H1" : heading.level == 1 ? "H2" : "H3");
  set_ink(cairo_, 0.9);
  show(cairo_, layout.get(), {0, y_});
  y_ += height + 2;
}

void Pages::add_contents() {
  std::size_t index = 0;
  for (const Block& block : book_.blocks) {
    const Heading* heading = std::get_if<Heading>(&block);
    if (heading == nullptr) continue;
    const int page = index < known_pages_.size() ? known_pages_[index] : 0;
    ++index;
    if (heading->level != 1) continue;
    const Layout words = set_text(cairo_, heading->text, {});
    const Layout number = set_text(cairo_, fmt::format("{}", page), {});
    const Vec2 size = size_of(words.get());
    need(size.y + 0.8);
    // Until the pages are known there is nothing to point at.
    const Tag link(cairo_, page > 0 ? CAIRO_TAG_LINK : "P", page > 0 ? place_of(page, 0) : "");
    set_ink(cairo_, 0.9);
    show(cairo_, words.get(), {0, y_});
    const double right = std::min(area_.x, 100.0);
    const double width = size_of(number.get()).x;
    show(cairo_, number.get(), {right - width, y_});
    cairo_move_to(cairo_, size.x + 2, y_ + size.y * 0.78);
    cairo_line_to(cairo_, right - width - 2, y_ + size.y * 0.78);
    const double dots[] = {0.3, 1.2};
    cairo_set_dash(cairo_, dots, 2, 0);
    cairo_set_line_width(cairo_, 0.3);
    cairo_stroke(cairo_);
    y_ += size.y + 0.8;
  }
  y_ += 3;
}

// How much of a table must stand on the page of the words that lead to it: its head and a row.
double Pages::kept_below(std::size_t paragraph) const {
  const bool is_last = paragraph + 1 >= book_.blocks.size();
  return !is_last && std::holds_alternative<Table>(book_.blocks[paragraph + 1]) ? 16 : 0;
}

void Pages::add_paragraph(const Paragraph& paragraph, double kept) {
  const double inset = inset_of(paragraph);
  const Layout layout =
      set_text(cairo_, paragraph.text, {body_type * book_.type * paragraph.type, false},
               area_.x - 2 * inset);
  const double height = size_of(layout.get()).y + 2 * inset;
  need(height + kept);
  const Tag tag(cairo_, "P");
  set_ink(cairo_, 0.9);
  show(cairo_, layout.get(), {inset, y_ + inset});
  if (paragraph.is_caution) {
    cairo_rectangle(cairo_, 0, y_, area_.x, height);
    cairo_set_line_width(cairo_, 0.5);
    cairo_set_dash(cairo_, nullptr, 0, 0);
    cairo_stroke(cairo_);
  }
  y_ += height + paragraph_gap;
}

void Pages::add_remark(const Remark& remark) {
  constexpr double inset = 4;
  const double width = area_.x - inset;
  const Layout lead = set_text(cairo_, remark.lead, {table_type, true}, width);
  const Layout text = set_text(cairo_, remark.text, {table_type, false}, width);
  const Layout basis = set_text(cairo_, remark.basis, {small_type, false}, width);
  const double top = size_of(lead.get()).y + 0.4, middle = size_of(text.get()).y + 0.4;
  const double height = top + middle + size_of(basis.get()).y;
  need(height);
  const Tag tag(cairo_, "P");
  set_ink(cairo_, 0.9);
  show(cairo_, lead.get(), {inset, y_});
  show(cairo_, text.get(), {inset, y_ + top});
  set_ink(cairo_, 0.65);
  show(cairo_, basis.get(), {inset, y_ + top + middle});
  rule(cairo_, {0.6, y_ + 0.4}, {0.6, y_ + height}, 0.6, 0.9);
  y_ += height + 3;
}

// Sets the type of a table as large as columns and rows have room for, words below it reckoned
// with. One column may break its lines, between words.
void Pages::grow(const Table& table) {
  constexpr double words_below = 25, step = 0.1;
  const double usual = table_type_;
  for (double growth = most_growth; growth > 1; growth -= step) {
    table_type_ = usual * growth;
    const std::vector<double> widths = widths_of(table), natural = natural_widths(table);
    int broken = 0;
    for (std::size_t i = 0; i < widths.size(); ++i) broken += widths[i] < natural[i] - 0.1;
    const bool is_whole =
        std::accumulate(widths.begin(), widths.end(), 0.0) <= room_of(widths) + 0.1;
    if (broken <= 1 && is_whole && y_ + height_of(table, widths) + words_below <= area_.y) return;
  }
  table_type_ = usual;
}

double Pages::height_of(const Table& table) {
  table_type_ = table_type * book_.type;
  return height_of(table, widths_of(table));
}

double Pages::height_of(const Table& table, const std::vector<double>& widths) const {
  double height = 0;
  const auto add = [&](const std::vector<std::string>& cells, bool is_head) {
    double row = 0;
    for (std::size_t i = 0; i < cells.size(); ++i) {
      row = std::max(
          row, size_of(set_text(cairo_, cells[i], {table_type_, is_head}, widths[i]).get()).y);
    }
    height += row + row_padding;
  };
  add(table.heads, true);
  for (const auto& row : table.rows) add(row, false);
  return height;
}

double Pages::gap_of_cells() const {
  return cell_gap * table_type_ / table_type;
}

double Pages::room_of(const std::vector<double>& columns) const {
  return area_.x - gap_of_cells() * static_cast<double>(columns.size() - 1);
}

// The widest cell of each column.
template <class Width>
std::vector<double> Pages::widest(const Table& table, const Width& width_of) const {
  std::vector<double> widths;
  for (std::size_t i = 0; i < table.heads.size(); ++i) {
    double width = width_of(table.heads[i], true);
    for (const auto& row : table.rows) width = std::max(width, width_of(row[i], false));
    widths.push_back(width + 0.2);
  }
  return widths;
}

std::vector<double> Pages::natural_widths(const Table& table) const {
  return widest(table, [&](const std::string& cell, bool is_head) {
    return size_of(set_text(cairo_, cell, {table_type_, is_head}).get()).x;
  });
}

// That of the longest word.
std::vector<double> Pages::least_widths(const Table& table) const {
  return widest(table, [&](const std::string& cell, bool is_head) {
    const Layout layout = set_text(cairo_, cell, {table_type_, is_head}, 1);
    pango_layout_set_wrap(layout.get(), PANGO_WRAP_WORD);
    return size_of(layout.get()).x;
  });
}

// The widest column that can break its lines between words gives way, down to the next widest.
std::vector<double> Pages::widths_of(const Table& table) const {
  std::vector<double> widths = natural_widths(table);
  const std::vector<double> least = least_widths(table);
  double over = std::accumulate(widths.begin(), widths.end(), 0.0) - room_of(widths);
  while (over > 1e-6) {
    std::size_t widest = widths.size();
    for (std::size_t i = 0; i < widths.size(); ++i) {
      if (widths[i] > least[i] + 1e-6 && (widest == widths.size() || widths[i] > widths[widest]))
        widest = i;
    }
    if (widest == widths.size()) break;
    double next = least[widest];
    for (const double width : widths) {
      if (width < widths[widest]) next = std::max(next, width);
    }
    const double cut = std::min(over, std::max(0.5, widths[widest] - next));
    widths[widest] = std::max(least[widest], widths[widest] - cut);
    over = std::accumulate(widths.begin(), widths.end(), 0.0) - room_of(widths);
  }
  if (over > 1e-6) {  // words too long for the page are broken
    for (double& width : widths) width *= room_of(widths) / (room_of(widths) + over);
  }
  return widths;
}

double Pages::add_row(const std::vector<std::string>& cells, const std::vector<double>& widths,
                      const Table& table, bool is_head, bool is_first) {
  std::vector<Layout> layouts;
  double height = 0;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    layouts.push_back(set_text(cairo_, cells[i], {table_type_, is_head}, widths[i]));
    if (i < table.aligns.size() && table.aligns[i] == Align::right)
      pango_layout_set_alignment(layouts.back().get(), PANGO_ALIGN_RIGHT);
    height = std::max(height, size_of(layouts.back().get()).y);
  }
  const bool is_next_of_a_group = cells.front().empty();
  if (y_ + height + row_padding > area_.y && y_ > 0) {
    new_page();
    if (!is_head) add_row(table.heads, widths, table, true);
  } else if (!is_head && !is_next_of_a_group && !is_first) {
    rule(cairo_, {0, y_}, {area_.x, y_}, 0.1, 0.4);
  }
  double x = 0;
  set_ink(cairo_, 0.9);
  const Tag row(cairo_, "TR");
  for (std::size_t i = 0; i < layouts.size(); ++i) {
    const Tag cell(cairo_, is_head ? "TH" : "TD");
    show(cairo_, layouts[i].get(), {x, y_ + row_padding / 2});
    x += widths[i] + gap_of_cells();
  }
  y_ += height + row_padding;
  if (is_head) rule(cairo_, {0, y_}, {area_.x, y_}, 0.35, 0.9);
  return height;
}

void Pages::add_table(const Table& table) {
  if (table.heads.empty()) return;
  need(14);
  table_type_ = table_type * book_.type;
  if (book_.fills) grow(table);
  const auto widths = widths_of(table);
  const Tag tag(cairo_, "Table");
  add_row(table.heads, widths, table, true);
  for (std::size_t i = 0; i < table.rows.size(); ++i)
    add_row(table.rows[i], widths, table, false, i == 0);
  rule(cairo_, {0, y_}, {area_.x, y_}, 0.2, 0.9);
  y_ += 3;
}

double Pages::height_of(const Paragraph& paragraph) const {
  const double inset = inset_of(paragraph);
  const Layout layout =
      set_text(cairo_, paragraph.text, {body_type * book_.type * paragraph.type, false},
               area_.x - 2 * inset);
  return size_of(layout.get()).y + 2 * inset;
}

double Pages::height_of(const Sheet& sheet) const {
  if (sheet.width <= 0 || sheet.height <= 0) return 0;
  const double across = area_.x / sheet.width, down = area_.y / sheet.height;
  return sheet.height * std::min({book_.fills ? across : 1.0, across, down});
}

// A diagram keeps the words under it and the first rows of the table that they lead to.
double Pages::kept_under(std::size_t sheet) const {
  constexpr double some_rows = 24;
  const bool has_both = sheet + 2 < book_.blocks.size();
  const Paragraph* words = has_both ? std::get_if<Paragraph>(&book_.blocks[sheet + 1]) : nullptr;
  if (words == nullptr || !std::holds_alternative<Table>(book_.blocks[sheet + 2])) return 0;
  return sheet_gap + height_of(*words) + paragraph_gap + some_rows;
}

void Pages::add_sheet(const Sheet& sheet, double kept) {
  const double height = height_of(sheet);
  if (height <= 0) return;
  const double scale = height / sheet.height;
  need(height + kept < area_.y ? height + kept : height);
  const Tag tag(cairo_, "Figure");
  cairo_save(cairo_);
  cairo_translate(cairo_, (area_.x - sheet.width * scale) / 2, y_);
  cairo_scale(cairo_, scale, scale);
  draw_sheet(cairo_, sheet);
  cairo_restore(cairo_);
  y_ += height + sheet_gap;
}

}  // namespace kw
