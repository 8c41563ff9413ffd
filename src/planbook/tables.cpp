// Tables as text and as CSV.
#include <algorithm>

#include "kerfwright/planbook/lists.h"

namespace kw {
namespace {

std::size_t code_points(const std::string& s) {
  return static_cast<std::size_t>(std::count_if(
      s.begin(), s.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

std::vector<std::size_t> widths_of(const Table& table) {
  std::vector<std::size_t> widths;
  for (const auto& head : table.heads) widths.push_back(code_points(head));
  for (const auto& row : table.rows) {
    for (std::size_t i = 0; i < row.size(); ++i)
      widths[i] = std::max(widths[i], code_points(row[i]));
  }
  return widths;
}

std::string line_of(const std::vector<std::string>& cells, const Table& table,
                    const std::vector<std::size_t>& widths) {
  std::string line;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const std::string pad(widths[i] - code_points(cells[i]), ' ');
    const bool is_right = i < table.aligns.size() && table.aligns[i] == Align::right;
    line += is_right ? pad + cells[i] : cells[i] + pad;
    line += "  ";
  }
  line.erase(line.find_last_not_of(' ') + 1);
  return line + "\n";
}

std::string csv_cell(const std::string& cell) {
  if (cell.find_first_of(",\"\r\n") == std::string::npos) return cell;
  std::string quoted = "\"";
  for (const char c : cell) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
  return quoted + "\"";
}

std::string csv_line(const std::vector<std::string>& cells) {
  std::string line;
  for (std::size_t i = 0; i < cells.size(); ++i) line += (i == 0 ? "" : ",") + csv_cell(cells[i]);
  return line + "\r\n";
}

}  // namespace

Table without_empty_columns(Table table, std::size_t from) {
  for (std::size_t c = table.heads.size(); c-- > from;) {
    const auto says = [c](const auto& row) { return !row[c].empty(); };
    if (std::any_of(table.rows.begin(), table.rows.end(), says)) continue;
    const auto at = static_cast<std::ptrdiff_t>(c);
    table.heads.erase(table.heads.begin() + at);
    if (c < table.aligns.size()) table.aligns.erase(table.aligns.begin() + at);
    for (auto& row : table.rows) row.erase(row.begin() + at);
  }
  return table;
}

std::string to_text(const Table& table) {
  const auto widths = widths_of(table);
  std::string text = line_of(table.heads, table, widths);
  std::vector<std::string> rule;
  for (const std::size_t w : widths) rule.emplace_back(w, '-');
  text += line_of(rule, table, widths);
  for (const auto& row : table.rows) text += line_of(row, table, widths);
  return text;
}

std::string to_csv(const Table& table) {
  std::string text = csv_line(table.heads);
  for (const auto& row : table.rows) text += csv_line(row);
  return text;
}

}  // namespace kw
