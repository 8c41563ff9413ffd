// Private to planbook: blocks set on pages with Cairo and Pango.
#pragma once

#include <string>
#include <vector>

#include "kerfwright/planbook/book.h"

struct _cairo;
struct _cairo_surface;

namespace kw {

// Draws a sheet at the current origin, paper millimetres.
void draw_sheet(_cairo* cairo, const Sheet& sheet);

// Sets blocks one below another, page after page.
class Pages {
 public:
  Pages(_cairo* cairo, _cairo_surface* surface, const Book& book);
  void add(const Block& block);
  void finish();

 private:
  void add_heading(const Heading& heading);
  void add_paragraph(const Paragraph& paragraph);
  void add_table(const Table& table);
  void add_sheet(const Sheet& sheet);
  void new_page();
  void need(double height);
  double add_row(const std::vector<std::string>& cells, const std::vector<double>& widths,
                 const Table& table, bool is_head);
  [[nodiscard]] std::vector<double> widths_of(const Table& table) const;

  _cairo* cairo_;
  _cairo_surface* surface_;
  const Book& book_;
  Vec2 area_ = {};
  double y_ = 0;
  int page_ = 1;
  int last_outline_ = 0;
};

}  // namespace kw
