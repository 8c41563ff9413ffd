// Tables on pages: how wide each column is, how large the type, where a table breaks.
#include <algorithm>
#include <numeric>

#include "pages.h"
#include "typeset.h"

namespace kw {
namespace {

constexpr double most_growth = 2;  // of a table that fills its page
constexpr double cell_gap = 2.5, row_padding = 1.6;

}  // namespace

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

}  // namespace kw
