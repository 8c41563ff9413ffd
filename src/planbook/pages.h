// Private to planbook: blocks set on pages with Cairo and Pango.
#pragma once

#include <string>
#include <vector>

#include "kerfwright/planbook/book.h"

struct _cairo;
struct _cairo_surface;

namespace kw {

// Width and height of a page, mm.
[[nodiscard]] Vec2 paper_size(Paper paper);

// Draws a sheet at the current origin, paper millimetres.
void draw_sheet(_cairo* cairo, const Sheet& sheet);

// Sets blocks one below another, page after page.
class Pages {
 public:
  // `heading_pages`: the page of each heading, from an earlier setting; empty in the first.
  Pages(_cairo* cairo, _cairo_surface* surface, const Book& book,
        const std::vector<int>& heading_pages);
  void set();  // all blocks
  [[nodiscard]] const std::vector<int>& heading_pages() const { return pages_of_headings_; }

 private:
  void add(std::size_t block);
  void finish();
  void add_heading(const Heading& heading, double kept_with);
  void add_contents();
  [[nodiscard]] double height_of(const Sheet& sheet) const;
  [[nodiscard]] double height_of(const Paragraph& paragraph) const;
  [[nodiscard]] double kept_with(std::size_t heading);
  [[nodiscard]] double kept_below(std::size_t paragraph) const;
  void add_paragraph(const Paragraph& paragraph, double kept);
  void add_remark(const Remark& remark);
  void add_table(const Table& table);
  [[nodiscard]] double kept_under(std::size_t sheet) const;
  void add_sheet(const Sheet& sheet, double kept);
  void new_page();
  void need(double height);
  double add_row(const std::vector<std::string>& cells, const std::vector<double>& widths,
                 const Table& table, bool is_head, bool is_first = false);
  void grow(const Table& table);
  [[nodiscard]] double height_of(const Table& table);
  [[nodiscard]] double height_of(const Table& table, const std::vector<double>& widths) const;
  [[nodiscard]] double gap_of_cells() const;
  template <class Width>
  [[nodiscard]] std::vector<double> widest(const Table& table, const Width& width_of) const;
  [[nodiscard]] double room_of(const std::vector<double>& columns) const;
  [[nodiscard]] std::vector<double> natural_widths(const Table& table) const;
  [[nodiscard]] std::vector<double> least_widths(const Table& table) const;
  [[nodiscard]] std::vector<double> widths_of(const Table& table) const;

  _cairo* cairo_;
  _cairo_surface* surface_;
  const Book& book_;
  const std::vector<int>& known_pages_;
  std::vector<int> pages_of_headings_ = {};
  Vec2 area_ = {};
  double y_ = 0;
  double table_type_ = 0;  // em of the table that is set, mm
  int page_ = 1;
  bool wants_page_ = false;  // before what comes next, if anything does
  int last_outline_ = 0;
};

}  // namespace kw
