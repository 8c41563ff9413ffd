#include "pages.h"

#include <algorithm>
#include <cairo-pdf.h>
#include <cmath>
#include <fmt/core.h>

#include "typeset.h"

namespace kw {
namespace {

constexpr double margin = 15;  // mm, all round; the foot stands inside it
constexpr double points_per_mm = 72 / 25.4;
constexpr double paragraph_gap = 2.5;
constexpr double sheet_gap = 3;

// Of the words of a caution from its frame.
double inset_of(const Paragraph& paragraph) {
  return paragraph.is_caution ? 3 : 0;
}

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
  constexpr double above = 3, below = 2;
  need(height + (heading.level == 0 ? 0 : above + below + kept));
  if (y_ > 0) y_ += above;
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
  y_ += height + below;
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
