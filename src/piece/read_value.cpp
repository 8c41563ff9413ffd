// Words, texts and formulas, and lists of them.
#include <cmath>

#include "reader.h"

namespace kw::reading {
namespace {

constexpr std::string_view a_formula = "a formula in quotes, or a number";

bool is_blank(std::string_view s) {
  return s.find_first_not_of(" \t\r\n") == std::string_view::npos;
}

// The text of a formula and where it stands.
struct FormulaText {
  std::string text = {};
  Span at = {};
  bool is_exact = true;  // byte k of `text` stands at at.begin + k
};

// A text whose only escapes are \" is read with a blank behind each mark in place of the backslash
// before it, so that every byte keeps its place; a blank there changes no formula.
bool shift_marks(std::string& raw) {
  for (std::size_t i = 0; i < raw.size(); ++i) {
    if (raw[i] == '"') return false;
    if (raw[i] != '\\') continue;
    if (i + 1 == raw.size() || raw[i + 1] != '"') return false;
    raw[i] = '"';
    raw[++i] = ' ';
  }
  return true;
}

FormulaText formula_text(const TomlNode& node, std::string_view content) {
  const Inside inside = inside_of(node, content);
  if (inside.is_exact) return {node.text, inside.at, true};
  const Span within = {node.at.begin + 1, node.at.end - 1};
  std::string raw(content.substr(within.begin, within.end - within.begin));
  if (content[node.at.begin] == '"' && shift_marks(raw)) return {std::move(raw), within, true};
  return {node.text, node.at, false};
}

// A number as it is written where a formula can be written so, else in plain digits; "" when it has
// none (not finite, or so large or small that it needs an exponent).
FormulaText number_text(const TomlNode& node, std::string_view content) {
  std::string_view raw = content.substr(node.at.begin, node.at.end - node.at.begin);
  Span at = node.at;
  if (raw.starts_with('+')) {
    raw.remove_prefix(1);
    ++at.begin;
  }
  if (raw.find_first_not_of("-.0123456789") == std::string_view::npos) {
    return {std::string(raw), at, true};
  }
  if (node.kind == NodeKind::integer) return {std::to_string(node.integer), at, false};
  std::string digits = std::isfinite(node.real) ? fmt::format("{}", node.real) : "";
  if (digits.find('e') != std::string::npos) digits.clear();
  return {digits, at, false};
}

// The texts of a list, or of one text alone.
void take_list(Reader& reader, const TomlNode& node, std::string_view expected,
               const std::function<void(const TomlNode&)>& take_item) {
  if (node.kind == NodeKind::text) return take_item(node);
  if (node.kind != NodeKind::list) return reader.wrong_type(node, expected);
  if (node.items.empty()) return reader.empty_value(node);
  for (const TomlNode& item : node.items) take_item(item);
}

}  // namespace

const TomlNode* list_of(Reader& reader, const TomlNode& node, std::size_t count,
                        std::string_view expected) {
  if (node.kind != NodeKind::list) {
    reader.wrong_type(node, expected);
    return nullptr;
  }
  if (node.items.size() == count) return &node;
  reader.report({.code = "piece.wrong-count",
                 .at = node.at,
                 .message = fmt::format("{} takes {}; this list has {}", reader.label_of(node),
                                        expected, node.items.size())});
  return nullptr;
}

void take(Reader& reader, const TomlNode& node, std::string& into) {
  if (node.kind != NodeKind::text) return reader.wrong_type(node, "text in quotes");
  into = node.text;
}

void take(Reader& reader, const TomlNode& node, bool& into) {
  if (node.kind != NodeKind::truth) return reader.wrong_type(node, "true or false");
  into = node.is_true;
}

void take(Reader& reader, const TomlNode& node, Name& into) {
  if (node.kind != NodeKind::text) return reader.wrong_type(node, "a word in quotes");
  if (is_blank(node.text)) return reader.empty_value(node);
  into = {node.text, inside_of(node, reader.content()).at};
}

void take(Reader& reader, const TomlNode& node, Formula& into) {
  const bool is_number = node.kind == NodeKind::integer || node.kind == NodeKind::real;
  if (!is_number && node.kind != NodeKind::text) return reader.wrong_type(node, a_formula);
  const FormulaText formula =
      is_number ? number_text(node, reader.content()) : formula_text(node, reader.content());
  if (is_number && formula.text.empty()) {
    return reader.report({.code = "piece.bad-number",
                          .at = node.at,
                          .message = fmt::format("{} takes a number that can be written out in "
                                                 "digits",
                                                 reader.label_of(node))});
  }
  if (is_blank(formula.text)) return reader.empty_value(node);
  into.at = formula.at;
  const auto parsed = parse_expression(formula.text, reader.unit, formula.at.begin);
  for (Diagnostic fault : parsed.diagnostics()) {
    if (!formula.is_exact) {
      fault.at = node.at;
      for (Note& note : fault.notes) note.at = node.at;
    }
    reader.report(std::move(fault));
  }
  if (parsed) into.expression = *parsed;
}

void take(Reader& reader, const TomlNode& node, Formula2& into) {
  const TomlNode* list = list_of(reader, node, 2, "a list of two formulas");
  for (std::size_t i = 0; list != nullptr && i < 2; ++i) take(reader, list->items[i], into[i]);
}

void take(Reader& reader, const TomlNode& node, Formula3& into) {
  const TomlNode* list = list_of(reader, node, 3, "a list of three formulas");
  for (std::size_t i = 0; list != nullptr && i < 3; ++i) take(reader, list->items[i], into[i]);
}

void take(Reader& reader, const TomlNode& node, std::array<Name, 2>& into) {
  const TomlNode* list = list_of(reader, node, 2, "a list of two words");
  for (std::size_t i = 0; list != nullptr && i < 2; ++i) take(reader, list->items[i], into[i]);
}

void take(Reader& reader, const TomlNode& node, std::vector<Name>& into) {
  take_list(reader, node, "a list of words, or one word", [&](const TomlNode& item) {
    Name name;
    take(reader, item, name);
    if (!name.text.empty()) into.push_back(std::move(name));
  });
}

void take(Reader& reader, const TomlNode& node, std::vector<std::string>& into) {
  take_list(reader, node, "a list of texts, or one text", [&](const TomlNode& item) {
    std::string text;
    take(reader, item, text);
    if (!text.empty()) into.push_back(std::move(text));
  });
}

void take(Reader& reader, const TomlNode& node,
          std::variant<std::monostate, Name, Formula2>& into) {
  if (node.kind == NodeKind::text) return take(reader, node, into.emplace<Name>());
  if (node.kind != NodeKind::list) {
    return reader.wrong_type(node, "the name of a size, or [thickness, width]");
  }
  take(reader, node, into.emplace<Formula2>());
}

}  // namespace kw::reading
