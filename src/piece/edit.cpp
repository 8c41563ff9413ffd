#include "kerfwright/piece/edit.h"

#include <fmt/core.h>

#include "edit_tree.h"

namespace kw {

using namespace reading;

Outcome<Text> apply(const Text& text, const TextEdit& edit) {
  if (edit.at.begin > edit.at.end || edit.at.end > text.content.size()) {
    return edit_fault("edit.bad-span", {},
                      fmt::format("the change is to bytes {} to {}; the text has {}", edit.at.begin,
                                  edit.at.end, text.content.size()),
                      "the text was changed since: read it again");
  }
  Text after = text;
  after.content.replace(edit.at.begin, edit.at.end - edit.at.begin, edit.with);
  return after;
}

TextEdit inverse_of(const Text& before, const TextEdit& edit) {
  const auto end = static_cast<std::uint32_t>(edit.at.begin + edit.with.size());
  return {{edit.at.begin, end}, before.content.substr(edit.at.begin, edit.at.end - edit.at.begin)};
}

Outcome<Span> find_value(const Text& text, const std::vector<std::string>& path) {
  const auto tree = tree_of(text);
  if (!tree) return tree.diagnostics();
  if (path.empty()) return Span{0, static_cast<std::uint32_t>(text.content.size())};
  const auto branch = find_branch(**tree, path);
  if (!branch) return branch.diagnostics();
  return branch->back()->at;
}

Outcome<TextEdit> set_value(const Text& text, const std::vector<std::string>& path,
                            const std::string& toml) {
  const auto tree = tree_of(text);
  if (!tree) return tree.diagnostics();
  const auto branch = find_branch(**tree, path);
  if (!branch) return branch.diagnostics();
  const TomlNode& node = *branch->back();
  if (has_own_lines(node)) {
    return edit_fault("edit.not-a-value", node.at,
                      fmt::format("`{}` is a table with lines of its own", spoken_path(path)),
                      "set its values one at a time, or remove it");
  }
  auto value = one_value(toml);
  if (!value) return value.diagnostics();
  return checked(text, {node.at, *std::move(value)});
}

}  // namespace kw
