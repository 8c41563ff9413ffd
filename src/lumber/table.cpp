#include "table.h"

#include <algorithm>
#include <fmt/core.h>
#include <iterator>
#include <toml++/toml.h>

namespace kw::lumber {
namespace {

constexpr std::size_t most_bytes = 1'000'000;
constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

// Turns toml++'s lines and columns, which count code points, into offsets of bytes.
class Places {
 public:
  explicit Places(std::string_view content) {
    std::size_t at = content.starts_with(byte_order_mark) ? byte_order_mark.size() : 0;
    lines_.push_back(0);
    for (; at < content.size(); ++at) {
      if ((static_cast<unsigned char>(content[at]) & 0xC0U) == 0x80U) continue;
      points_.push_back(static_cast<std::uint32_t>(at));
      if (content[at] == '\n') lines_.push_back(points_.size());
    }
    points_.push_back(static_cast<std::uint32_t>(content.size()));
  }

  [[nodiscard]] Span span_of(const toml::source_region& region) const {
    const std::uint32_t begin = offset_of(region.begin);
    return {begin, std::max(begin, offset_of(region.end))};
  }

 private:
  [[nodiscard]] std::uint32_t offset_of(toml::source_position at) const {
    if (at.line == 0 || at.column == 0) return 0;
    const std::size_t line = std::min<std::size_t>(at.line, lines_.size()) - 1;
    return points_[std::min(lines_[line] + at.column - 1, points_.size() - 1)];
  }

  std::vector<std::uint32_t> points_ = {};  // where each code point begins, and the end
  std::vector<std::size_t> lines_ = {};     // which code point begins each line
};

Cell cell_of(const toml::node& node, const Places& places);

std::vector<Cell> items_of(const toml::array& array, const Places& places) {
  std::vector<Cell> items;
  items.reserve(array.size());
  for (const toml::node& item : array) items.push_back(cell_of(item, places));
  return items;
}

std::vector<Cell> items_of(const toml::table& table, const Places& places) {
  std::vector<Cell> items;
  items.reserve(table.size());
  for (const auto& [key, node] : table) {
    items.push_back(cell_of(node, places));
    items.back().key = key.str();
    items.back().key_at = places.span_of(key.source());
  }
  return items;
}

Cell cell_of(const toml::node& node, const Places& places) {
  Cell cell{.at = places.span_of(node.source())};
  if (const auto* text = node.as_string()) {
    cell.kind = CellKind::text;
    cell.text = text->get();
  } else if (node.is_number()) {
    cell.kind = CellKind::number;
    cell.number = node.value<double>().value_or(0);
  } else if (const auto* array = node.as_array()) {
    cell.kind = CellKind::list;
    cell.items = items_of(*array, places);
  } else if (const auto* table = node.as_table()) {
    cell.kind = CellKind::table;
    cell.items = items_of(*table, places);
  }
  return cell;
}

Diagnostic syntax_fault(std::string message, Span at, std::string hint) {
  return {
      .code = "lumber.syntax", .at = at, .message = std::move(message), .hint = std::move(hint)};
}

}  // namespace

const Cell* find_cell(const Cell& table, std::string_view key) {
  if (table.kind != CellKind::table) return nullptr;
  const auto found = std::find_if(table.items.begin(), table.items.end(),
                                  [&](const Cell& item) { return item.key == key; });
  return found == table.items.end() ? nullptr : &*found;
}

Outcome<Cell> parse_table(const Text& text) {
  if (text.content.size() > most_bytes) {
    return syntax_fault(fmt::format("{} holds more than {} bytes", text.name, most_bytes), {},
                        "split the table into several files");
  }
  const Places places(text.content);
  try {
    return cell_of(toml::parse(std::string_view(text.content)), places);
  } catch (const toml::parse_error& error) {
    const Span at = places.span_of(error.source());
    return syntax_fault(
        fmt::format("{}, line {}: {}", text.name, error.source().begin.line, error.description()),
        at, "the text is not TOML 1.0: mend what stands here or just before");
  }
}

}  // namespace kw::lumber
