#include "edit_tree.h"

#include <algorithm>
#include <charconv>
#include <fmt/format.h>

namespace kw::reading {
namespace {

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

const TomlNode* item_at(const TomlNode& list, std::string_view number) {
  std::size_t i = 0;
  const auto [end, fault] = std::from_chars(number.data(), number.data() + number.size(), i);
  const bool is_number = fault == std::errc() && end == number.data() + number.size();
  return is_number && i < list.items.size() ? &list.items[i] : nullptr;
}

const TomlNode* child_of(const TomlNode& node, const std::string& part) {
  return node.kind == NodeKind::list ? item_at(node, part) : node.find(part);
}

Diagnostic no_such_value(const Branch& branch, const std::vector<std::string>& path) {
  const TomlNode& last = *branch.back();
  const auto depth = static_cast<std::ptrdiff_t>(branch.size()) - 1;
  const std::vector<std::string> there(path.begin(), path.begin() + depth);
  std::vector<std::string> known;
  for (const TomlNode& item : last.items) known.push_back(item.key);
  std::string hint;
  if (last.kind == NodeKind::list) {
    hint = fmt::format("`{}` has {} items, counted from 0", spoken_path(there), last.items.size());
  } else if (const auto near = nearest_name(path[there.size()], known); !near.empty()) {
    std::vector<std::string> nearest = there;
    nearest.push_back(near);
    hint = fmt::format("did you mean `{}`?", spoken_path(nearest));
  }
  return edit_fault("edit.no-such-value", last.at,
                    fmt::format("there is no `{}` in the file", spoken_path(path)), hint);
}

}  // namespace

Branch follow(const TomlNode& root, const std::vector<std::string>& path) {
  Branch branch = {&root};
  for (const std::string& part : path) {
    const TomlNode* next = child_of(*branch.back(), part);
    if (next == nullptr) break;
    branch.push_back(next);
  }
  return branch;
}

Outcome<Branch> find_branch(const TomlNode& root, const std::vector<std::string>& path) {
  Branch branch = follow(root, path);
  if (branch.size() <= path.size()) return no_such_value(branch, path);
  return branch;
}

std::string spoken_path(const std::vector<std::string>& path) {
  return path.empty() ? "the file" : fmt::format("{}", fmt::join(path, "."));
}

Diagnostic edit_fault(std::string_view code, Span at, std::string message, std::string hint) {
  return {.code = code, .at = at, .message = std::move(message), .hint = std::move(hint)};
}

bool has_own_lines(const TomlNode& node) {
  if (node.kind == NodeKind::list) {
    return std::any_of(node.items.begin(), node.items.end(),
                       [](const TomlNode& item) { return item.form == TableForm::header; });
  }
  return node.kind == NodeKind::table && node.form != TableForm::inline_braces;
}

Outcome<std::string> one_value(const std::string& toml) {
  constexpr std::string_view blanks = " \t\r\n";
  const auto begin = toml.find_first_not_of(blanks);
  if (begin == std::string::npos) {
    return edit_fault("edit.bad-toml", {}, "the new value is empty", "words stand in quotes: \"\"");
  }
  std::string value = toml.substr(begin, toml.find_last_not_of(blanks) - begin + 1);
  constexpr std::string_view lead = "v = ";
  const auto tree = parse_toml({"value", fmt::format("{}{}\n", lead, value)});
  const Span whole = {lead.size(), static_cast<std::uint32_t>(lead.size() + value.size())};
  if (!tree || tree->items.size() != 1 || tree->items[0].at != whole) {
    return edit_fault("edit.bad-toml", {},
                      fmt::format("`{}` is not one TOML value", value.substr(0, 60)),
                      "text and formulas stand in quotes, lists in brackets");
  }
  return value;
}

Outcome<TextEdit> checked(const Text& text, TextEdit edit) {
  const auto after = apply(text, edit);
  if (!after) return after.diagnostics();
  const auto tree = tree_of(*after);
  if (tree) return edit;
  return edit_fault("edit.bad-toml", edit.at,
                    fmt::format("the file would not be read with this change: {}",
                                tree.diagnostics().front().message));
}

std::uint32_t line_begin(std::string_view content, std::uint32_t offset) {
  const auto before = offset == 0 ? std::string_view::npos : content.rfind('\n', offset - 1);
  if (before != std::string_view::npos) return static_cast<std::uint32_t>(before + 1);
  return content.starts_with(byte_order_mark) ? byte_order_mark.size() : 0;
}

std::uint32_t line_end(std::string_view content, std::uint32_t offset) {
  return static_cast<std::uint32_t>(std::min(content.find('\n', offset), content.size() - 1) + 1);
}

std::uint32_t skip_blanks(std::string_view content, std::uint32_t offset) {
  return static_cast<std::uint32_t>(
      std::min(content.find_first_not_of(" \t", offset), content.size()));
}

std::uint32_t end_of_own(const TomlNode& table) {
  std::uint32_t end = 0;
  for (const TomlNode& item : table.items) {
    if (!has_own_lines(item))
      end = std::max(end, item.at.end);
    else if (item.form == TableForm::implied && item.kind == NodeKind::table)
      end = std::max(end, end_of_own(item));
  }
  return end;
}

}  // namespace kw::reading
