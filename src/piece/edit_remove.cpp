// Taking a value, a key, an item or a whole table out of the text.
#include <algorithm>

#include "edit_tree.h"

namespace kw {
namespace reading {
namespace {

bool is_blank_between(std::string_view content, std::uint32_t begin, std::uint32_t end) {
  return skip_blanks(content, begin) >= end;
}

bool ends_line(std::string_view content, std::uint32_t offset) {
  const std::uint32_t next = skip_blanks(content, offset);
  return next == content.size() || content[next] == '\n' || content[next] == '\r' ||
         content[next] == '#';
}

// The whole line of [at.begin, at.end) when nothing but blanks and a comment stands beside it.
Span widened(std::string_view content, Span at) {
  const std::uint32_t begin = line_begin(content, at.begin);
  if (!is_blank_between(content, begin, at.begin) || !ends_line(content, at.end)) return at;
  return {begin, line_end(content, at.end)};
}

// Where the comma behind an item stands, or `end`. Between lie only blanks, line breaks and
// comments.
std::uint32_t comma_before(std::string_view content, std::uint32_t offset, std::uint32_t end) {
  while (offset < end && content[offset] != ',') {
    offset = content[offset] == '#' ? line_end(content, offset) : offset + 1;
  }
  return std::min(offset, end);
}

Span item_cut(std::string_view content, const TomlNode& list, std::size_t i) {
  const Span item = list.items[i].at;
  const bool is_last = i + 1 == list.items.size();
  const std::uint32_t limit = is_last ? list.at.end - 1 : list.items[i + 1].at.begin;
  const std::uint32_t comma = comma_before(content, item.end, limit);
  if (comma == limit) {
    const std::uint32_t before = i == 0 ? item.begin : list.items[i - 1].at.end;
    const auto between = content.substr(before, item.begin - before);
    if (between.find_first_of("#\n") == std::string_view::npos) return {before, item.end};
    return widened(content, item);
  }
  const Span with_comma = {item.begin, comma + 1};
  const Span line = widened(content, with_comma);
  if (line != with_comma || ends_line(content, comma + 1)) return line;
  return {item.begin, skip_blanks(content, comma + 1)};
}

// The values that stand in a table in braces, each behind a key, dotted or not.
void gather_values(const TomlNode& table, std::vector<const TomlNode*>& into) {
  for (const TomlNode& item : table.items) {
    if (has_own_lines(item))
      gather_values(item, into);
    else
      into.push_back(&item);
  }
}

void add_brace_cuts(std::string_view content, const TomlNode& braces, const TomlNode& target,
                    std::vector<Span>& cuts) {
  std::vector<const TomlNode*> all, gone;
  gather_values(braces, all);
  if (has_own_lines(target))
    gather_values(target, gone);
  else
    gone.push_back(&target);
  std::sort(all.begin(), all.end(),
            [](const TomlNode* a, const TomlNode* b) { return a->at.begin < b->at.begin; });
  std::uint32_t begin = skip_blanks(content, braces.at.begin + 1);
  std::uint32_t kept_end = 0;
  for (const TomlNode* value : all) {
    const bool is_last = value == all.back();
    const std::uint32_t comma = comma_before(content, value->at.end, braces.at.end - 1);
    const std::uint32_t next = is_last ? value->at.end : skip_blanks(content, comma + 1);
    if (std::find(gone.begin(), gone.end(), value) == gone.end())
      kept_end = value->at.end;
    else if (kept_end == 0)
      cuts.push_back({begin, next});
    else
      cuts.push_back({kept_end, value->at.end});
    begin = next;
  }
  if (kept_end == 0) cuts.back().end = skip_blanks(content, cuts.back().end);
}

// Where the comment lines begin that stand right above the line of `offset`.
std::uint32_t own_comments_begin(std::string_view content, std::uint32_t offset) {
  std::uint32_t begin = line_begin(content, offset);
  while (begin > 0) {
    const std::uint32_t above = line_begin(content, begin - 1);
    const std::uint32_t first = skip_blanks(content, above);
    if (above == begin || first >= content.size() || content[first] != '#') break;
    begin = above;
  }
  return begin;
}

std::uint32_t past_blank_lines(std::string_view content, std::uint32_t offset) {
  for (std::uint32_t next = offset; next < content.size();) {
    const std::uint32_t end = line_end(content, next);
    const auto text = content.substr(next, end - next);
    if (text.find_first_not_of(" \t\r\n") != std::string_view::npos) break;
    offset = next = end;
  }
  return offset;
}

void add_line_cuts(std::string_view content, const TomlNode& node, std::vector<Span>& cuts) {
  if (!has_own_lines(node)) {
    cuts.push_back({line_begin(content, node.key_at.begin), line_end(content, node.at.end)});
    return;
  }
  if (node.kind == NodeKind::table && node.form == TableForm::header) {
    const std::uint32_t last = std::max(node.at.end, end_of_own(node));
    cuts.push_back({own_comments_begin(content, node.at.begin),
                    past_blank_lines(content, line_end(content, last))});
  }
  for (const TomlNode& item : node.items) add_line_cuts(content, item, cuts);
}

// The cuts as one change: what stands between them is put back.
TextEdit joined(std::string_view content, std::vector<Span> cuts) {
  KW_ASSERT(!cuts.empty());
  std::sort(cuts.begin(), cuts.end(), [](Span a, Span b) { return a.begin < b.begin; });
  TextEdit edit = {cuts.front(), {}};
  for (const Span cut : cuts) {
    if (cut.begin > edit.at.end) {
      edit.with += content.substr(edit.at.end, cut.begin - edit.at.end);
    }
    edit.at.end = std::max(edit.at.end, cut.end);
  }
  return edit;
}

std::vector<Span> cuts_for(std::string_view content, const Branch& branch) {
  const TomlNode& node = *branch.back();
  const TomlNode& parent = *branch[branch.size() - 2];
  std::vector<Span> cuts;
  if (parent.kind == NodeKind::list && !has_own_lines(parent)) {
    const auto i = static_cast<std::size_t>(&node - parent.items.data());
    return {item_cut(content, parent, i)};
  }
  std::size_t container = branch.size() - 2;
  while (branch[container]->kind == NodeKind::table &&
         branch[container]->form == TableForm::implied) {
    --container;
  }
  if (branch[container]->form == TableForm::inline_braces) {
    add_brace_cuts(content, *branch[container], node, cuts);
  } else {
    add_line_cuts(content, node, cuts);
  }
  return cuts;
}

}  // namespace
}  // namespace reading

using namespace reading;

Outcome<TextEdit> remove_value(const Text& text, const std::vector<std::string>& path) {
  const auto tree = tree_of(text);
  if (!tree) return tree.diagnostics();
  if (path.empty()) {
    return edit_fault("edit.not-a-value", {}, "the whole file cannot be taken out of itself");
  }
  const auto branch = find_branch(**tree, path);
  if (!branch) return branch.diagnostics();
  return checked(text, joined(text.content, cuts_for(text.content, *branch)));
}

}  // namespace kw
