#include "row.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <fmt/core.h>
#include <fmt/ranges.h>

#include "kerfwright/measure/text.h"

namespace kw::lumber {
namespace {

constexpr std::size_t most_faults = 100;
const Length longest = Length::mm(100'000);

std::string_view name_of(CellKind kind) {
  switch (kind) {
    case CellKind::text:
      return "a text in quotes";
    case CellKind::number:
      return "a number";
    case CellKind::list:
      return "a list in square brackets";
    case CellKind::table:
      return "a table in braces";
    case CellKind::other:
      return "neither text nor number";
  }
  return "";
}

// Their own words may be as long as the file; a message is not.
std::string shortened(std::string message) {
  constexpr std::size_t most = 400;
  if (message.size() <= most) return message;
  std::size_t end = most;
  while (end > 0 && (static_cast<unsigned char>(message[end]) & 0xC0U) == 0x80U) --end;
  return message.substr(0, end) + "...";
}

// A full page keeps no hint, so that none is sought: a file of faults costs no more than its
// reading.
std::string hint_towards(const Page& page, std::string_view word,
                         const std::vector<std::string>& known) {
  if (page.is_full()) return {};
  const std::string near = nearest_name(word, known);
  if (!near.empty()) return fmt::format("did you mean `{}`?", near);
  if (known.empty()) return "the file defines none";
  const auto shown = static_cast<std::ptrdiff_t>(std::min<std::size_t>(known.size(), 12));
  return fmt::format("known here: {}", fmt::join(known.begin(), known.begin() + shown, ", "));
}

template <class Value>
std::string hint_towards(const Page& page, std::string_view word,
                         const std::map<std::string, Value, std::less<>>& known) {
  std::vector<std::string> names;
  if (page.is_full()) return {};
  for (const auto& [name, value] : known) names.push_back(name);
  return hint_towards(page, word, names);
}

// Where the content of a text cell begins: inside its quotes when nothing in it is escaped.
std::uint32_t content_begin(const Text& text, const Cell& cell) {
  const std::string_view written = std::string_view(text.content).substr(cell.at.begin);
  return written.substr(std::min<std::size_t>(1, written.size())).starts_with(cell.text)
             ? cell.at.begin + 1
             : cell.at.begin;
}

}  // namespace

bool Page::is_full() const {
  return count_ >= most_faults;
}

void Page::fault(std::string_view code, Span at, std::string_view message, std::string hint) {
  if (count_++ >= most_faults) return;
  const Position place = position_of(text_, at.begin);
  std::string said = fmt::format("{}, line {}: {}", text_.name, place.line, message);
  faults_.push_back({.code = code,
                     .at = at,
                     .message = shortened(std::move(said)),
                     .hint = shortened(std::move(hint))});
}

Row::Row(const Cell& cell, Page& page, const std::vector<std::string>& keys)
    : cell_(cell), page_(page), faults_before_(page.fault_count()) {
  if (cell.kind != CellKind::table) {
    page.fault("lumber.bad-value", cell.at, fmt::format("a row is {}", name_of(CellKind::table)),
               "write the row as {name = \"...\", ...}");
  }
  if (cell.kind != CellKind::table) return;
  const std::string owner = own_name();
  for (const Cell& item : cell.items) {
    if (std::find(keys.begin(), keys.end(), item.key) != keys.end()) continue;
    page.fault("lumber.unknown-key", item.key_at,
               fmt::format("{}has a key that means nothing here: `{}`", owner, item.key),
               hint_towards(page, item.key, keys));
  }
}

std::string Row::own_name() const {
  const Cell* name = find_cell(cell_, "name");
  const bool is_named = name != nullptr && name->kind == CellKind::text;
  return is_named ? fmt::format("`{}` ", name->text) : "this row ";
}

void Row::refuse(std::string_view key, std::string_view message, std::string hint) {
  const Cell* cell = find_cell(cell_, key);
  page_.fault("lumber.bad-value", cell == nullptr ? cell_.at : cell->at, message, std::move(hint));
}

bool Row::is_kind(const Cell& cell, std::string_view key, CellKind kind) {
  if (cell.kind == kind) return true;
  page_.fault("lumber.bad-value", cell.at,
              fmt::format("`{}` wants {}, and this is {}", key, name_of(kind), name_of(cell.kind)),
              fmt::format("write {}", name_of(kind)));
  return false;
}

const Cell* Row::find(std::string_view key, CellKind kind) {
  const Cell* cell = find_cell(cell_, key);
  return cell != nullptr && is_kind(*cell, key, kind) ? cell : nullptr;
}

const Cell* Row::require(std::string_view key, CellKind kind) {
  if (cell_.kind == CellKind::table && !has(key)) {
    page_.fault("lumber.missing", cell_.at, fmt::format("{}has no `{}`", own_name(), key),
                fmt::format("add `{}`: {}", key, name_of(kind)));
  }
  return find(key, kind);
}

std::string Row::text(std::string_view key) {
  const Cell* cell = require(key, CellKind::text);
  if (cell == nullptr) return {};
  const bool is_blank = cell->text.find_first_not_of(" \t\r\n") == std::string::npos;
  if (is_blank) refuse(key, fmt::format("`{}` is empty", key), "write it out");
  return cell->text;
}

Length Row::length_of(const Cell& cell, std::string_view key) {
  if (!is_kind(cell, key, CellKind::text)) return {};
  const auto length = parse_length(cell.text, LengthUnit::inch, content_begin(page_.text(), cell));
  for (const Diagnostic& why : length.diagnostics()) {
    page_.fault("lumber.bad-value", why.at, fmt::format("`{}`: {}", key, why.message), why.hint);
  }
  if (!length) return {};
  if (*length <= Length() || *length > longest) {
    page_.fault("lumber.bad-value", cell.at, fmt::format("`{}` is out of range", key),
                "a length here is above zero and at most 100 m");
  }
  return *length;
}

Length Row::length(std::string_view key) {
  const Cell* cell = require(key, CellKind::text);
  return cell == nullptr ? Length() : length_of(*cell, key);
}

Length Row::length_or_zero(std::string_view key) {
  return has(key) ? length(key) : Length();
}

std::vector<Length> Row::lengths(std::string_view key) {
  std::vector<Length> lengths;
  if (const Cell* list = require(key, CellKind::list)) {
    for (const Cell& item : list->items) lengths.push_back(length_of(item, key));
  }
  return lengths;
}

double Row::number_of(const Cell& cell, std::string_view key, Range range) {
  if (!is_kind(cell, key, CellKind::number)) return 0;
  if (cell.number >= range.least && cell.number <= range.most) return cell.number;  // not for NaN
  page_.fault("lumber.bad-value", cell.at, fmt::format("`{}` is out of range", key),
              fmt::format("it lies between {} and {}", range.least, range.most));
  return 0;
}

double Row::number(std::string_view key, Range range) {
  const Cell* cell = require(key, CellKind::number);
  return cell == nullptr ? 0 : number_of(*cell, key, range);
}

int Row::count(std::string_view key, int most) {
  const double figure = number(key, {1, static_cast<double>(most)});
  if (figure != std::floor(figure)) {
    refuse(key, fmt::format("`{}` is no whole number", key), "write it without a fraction");
  }
  return static_cast<int>(figure);
}

std::optional<double> Row::number_or_none(std::string_view key, Range range) {
  if (!has(key)) return std::nullopt;
  return number(key, range);
}

bool Row::has_count(const Cell& list, std::string_view key, std::size_t count) {
  if (list.items.size() == count) return true;
  page_.fault("lumber.bad-value", list.at,
              fmt::format("`{}` wants {} values, and here are {}", key, count, list.items.size()),
              fmt::format("write {} values", count));
  return false;
}

std::optional<Range> Row::bounds_or_none(std::string_view key, Range range) {
  const Cell* list = find(key, CellKind::list);
  if (list == nullptr || !has_count(*list, key, 2)) return std::nullopt;
  const Range bounds{number_of(list->items[0], key, range), number_of(list->items[1], key, range)};
  if (bounds.least > bounds.most) {
    refuse(key, fmt::format("`{}` runs backwards", key), "write the smaller figure first");
  }
  return bounds;
}

std::optional<Section> Row::section_or_none(std::string_view key) {
  const Cell* list = find(key, CellKind::list);
  if (list == nullptr || !has_count(*list, key, 2)) return std::nullopt;
  return Section{length_of(list->items[0], key), length_of(list->items[1], key)};
}

Section Row::section(std::string_view key) {
  const Cell* list = require(key, CellKind::list);
  return list == nullptr ? Section() : section_or_none(key).value_or(Section());
}

std::vector<std::string> Row::texts_or_none(std::string_view key) {
  std::vector<std::string> texts;
  const Cell* list = find(key, CellKind::list);
  if (list == nullptr) return texts;
  for (const Cell& item : list->items) {
    if (is_kind(item, key, CellKind::text)) texts.push_back(item.text);
  }
  return texts;
}

std::optional<Row> Row::table_or_none(std::string_view key, const std::vector<std::string>& keys) {
  const Cell* cell = find(key, CellKind::table);
  if (cell == nullptr) return std::nullopt;
  return Row(*cell, page_, keys);
}

std::string Row::source(std::string_view key) {
  if (!has(key)) {
    page_.fault("lumber.no-source", cell_.at, fmt::format("{}has no `{}`", own_name(), key),
                "say where the figures come from: name an entry of [source]");
  }
  const Cell* cell = find(key, CellKind::text);
  if (cell == nullptr) return {};
  const auto found = page_.sources.find(cell->text);
  if (found != page_.sources.end()) return found->second;
  page_.fault("lumber.no-source", cell->at, fmt::format("[source] has no entry `{}`", cell->text),
              hint_towards(page_, cell->text, page_.sources));
  return {};
}

std::vector<std::string> Row::cautions(std::string_view key) {
  std::vector<std::string> cautions;
  for (const std::string& name : texts_or_none(key)) {
    const auto found = page_.cautions.find(name);
    if (found != page_.cautions.end()) {
      cautions.push_back(found->second);
    } else {
      refuse(key, fmt::format("[caution] has no entry `{}`", name),
             hint_towards(page_, name, page_.cautions));
    }
  }
  return cautions;
}

const LengthList* Row::list_or_none(std::string_view key) {
  const Cell* cell = find(key, CellKind::text);
  if (cell == nullptr) return nullptr;
  const auto found = page_.lists.find(cell->text);
  if (found != page_.lists.end()) return &found->second;
  refuse(key, fmt::format("there is no [lengths.{}]", cell->text),
         hint_towards(page_, cell->text, page_.lists));
  return nullptr;
}

std::size_t Row::choice_among(std::string_view key, const std::vector<std::string>& words) {
  const Cell* cell = require(key, CellKind::text);
  if (cell == nullptr) return words.size();
  const auto found = std::find(words.begin(), words.end(), cell->text);
  if (found == words.end()) {
    refuse(key, fmt::format("`{}` is no {} that is known", cell->text, key),
           hint_towards(page_, cell->text, words));
  }
  return static_cast<std::size_t>(found - words.begin());
}

}  // namespace kw::lumber
