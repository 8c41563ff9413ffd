// Adding a key to a table, wherever and however the table is written.
#include <fmt/core.h>

#include "edit_tree.h"

namespace kw {
namespace reading {
namespace {

constexpr std::string_view bare_letters =
    "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-";

// A key as TOML writes it: bare, or in quotes with its odd characters escaped.
std::string key_text(std::string_view key) {
  if (!key.empty() && key.find_first_not_of(bare_letters) == std::string_view::npos) {
    return std::string(key);
  }
  std::string out = "\"";
  for (const char c : key) {
    if (c == '"' || c == '\\')
      out += fmt::format("\\{}", c);
    else if (static_cast<unsigned char>(c) < 0x20U || c == 0x7F)
      out += fmt::format("\\u{:04X}", c);
    else
      out += c;
  }
  return out + '"';
}

std::string_view line_break_of(std::string_view content) {
  const auto first = content.find('\n');
  const bool is_long = first != std::string_view::npos && first > 0 && content[first - 1] == '\r';
  return is_long ? "\r\n" : "\n";
}

// Adds keys to one text, whose tree is known.
class Adder {
 public:
  Adder(std::string_view content, std::string pair) : content_(content), pair_(std::move(pair)) {}

  [[nodiscard]] TextEdit to_table(const Branch& branch, const std::vector<std::string>& path) const;
  [[nodiscard]] TextEdit as_new_table(const std::vector<std::string>& path) const;

 private:
  [[nodiscard]] TextEdit in_braces(const TomlNode& table) const;
  [[nodiscard]] TextEdit behind_line(std::uint32_t offset, std::string_view line) const;
  [[nodiscard]] TextEdit at_start() const;
  [[nodiscard]] std::string prefix_of(const Branch& branch, std::size_t container) const;

  std::string_view content_;
  std::string pair_;  // "key = value"
};

TextEdit insertion(std::uint32_t offset, std::string text) {
  return {{offset, offset}, std::move(text)};
}

// A line of its own behind the one with `offset`.
TextEdit Adder::behind_line(std::uint32_t offset, std::string_view line) const {
  const std::uint32_t end = line_end(content_, offset);
  const std::string_view line_break = line_break_of(content_);
  const bool has_break = end > 0 && content_[end - 1] == '\n';
  return insertion(end, has_break ? fmt::format("{}{}", line, line_break)
                                  : fmt::format("{}{}", line_break, line));
}

TextEdit Adder::at_start() const {
  const std::uint32_t begin = line_begin(content_, 0);
  return insertion(begin, fmt::format("{}{}", pair_, line_break_of(content_)));
}

TextEdit Adder::in_braces(const TomlNode& table) const {
  const std::uint32_t last = end_of_own(table);
  if (last > 0) return insertion(last, fmt::format(", {}", pair_));
  return {{table.at.begin + 1, table.at.end - 1}, fmt::format(" {} ", pair_)};
}

// The dotted key of the implied tables behind branch[container], as it is written in the file.
std::string Adder::prefix_of(const Branch& branch, std::size_t container) const {
  std::string prefix;
  for (std::size_t i = container + 1; i < branch.size(); ++i) {
    const Span at = branch[i]->key_at;
    prefix += fmt::format("{}.", content_.substr(at.begin, at.end - at.begin));
  }
  return prefix;
}

TextEdit Adder::to_table(const Branch& branch, const std::vector<std::string>& path) const {
  const TomlNode& table = *branch.back();
  const std::uint32_t last = end_of_own(table);
  if (table.form == TableForm::inline_braces) return in_braces(table);
  if (table.form == TableForm::header) {
    if (last == 0 && branch.size() == 1) return at_start();
    return behind_line(std::max(last, table.at.end), pair_);
  }
  if (last == 0) return as_new_table(path);
  std::size_t container = branch.size() - 1;
  while (branch[container]->form == TableForm::implied) --container;
  const std::string line = prefix_of(branch, container) + pair_;
  if (branch[container]->form == TableForm::inline_braces) {
    return insertion(last, fmt::format(", {}", line));
  }
  return behind_line(last, line);
}

TextEdit Adder::as_new_table(const std::vector<std::string>& path) const {
  const std::string_view line_break = line_break_of(content_);
  std::string header;
  for (const std::string& part : path) header += (header.empty() ? "" : ".") + key_text(part);
  std::string lead;
  if (!content_.empty() && content_.back() != '\n') lead += line_break;
  if (skip_blanks(content_, line_begin(content_, 0)) < content_.size()) lead += line_break;
  return insertion(static_cast<std::uint32_t>(content_.size()),
                   fmt::format("{0}[{1}]{2}{3}{2}", lead, header, line_break, pair_));
}

}  // namespace
}  // namespace reading

using namespace reading;

Outcome<TextEdit> add_value(const Text& text, const std::vector<std::string>& table,
                            const std::string& key, const std::string& toml) {
  const auto tree = tree_of(text);
  if (!tree) return tree.diagnostics();
  const auto value = one_value(toml);
  if (!value) return value.diagnostics();
  const Branch branch = follow(**tree, table);
  const TomlNode& last = *branch.back();
  const bool is_whole = branch.size() == table.size() + 1;
  if (last.kind != NodeKind::table || (!is_whole && last.form == TableForm::inline_braces)) {
    return edit_fault("edit.not-a-table", last.at,
                      fmt::format("`{}` cannot take a key: it stands in a value that is no table",
                                  spoken_path(table)),
                      "set the whole value");
  }
  if (is_whole && last.find(key) != nullptr) {
    return edit_fault("edit.already-there", last.find(key)->key_at,
                      fmt::format("`{}` has a `{}` already", spoken_path(table), key),
                      "set the value that is there");
  }
  const Adder adder(text.content, fmt::format("{} = {}", key_text(key), *value));
  return checked(text, is_whole ? adder.to_table(branch, table) : adder.as_new_table(table));
}

}  // namespace kw
