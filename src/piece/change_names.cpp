// Renaming and taking away, with what names the thing.
#include <algorithm>
#include <fmt/format.h>

#include "change_text.h"
#include "references.h"
#include "resolving/scene.h"

namespace kw::changing {
namespace {

using resolving::is_pattern;
using resolving::matches;

// The words of a name such as "row/leg-a/2" between its slashes.
std::vector<std::string> parts_of(const std::string& word) {
  std::vector<std::string> parts = {""};
  for (const char c : word) {
    if (c == '/')
      parts.emplace_back();
    else
      parts.back() += c;
  }
  return parts;
}

template <class List>
bool declares(const List& list, const std::string& name) {
  return std::any_of(list.begin(), list.end(), [&](const auto& d) { return d.name.text == name; });
}

// What kind of thing a table of the piece itself is; nothing for those that nothing names.
std::optional<Kind> kind_of(const KeyPath& path) {
  if (path.size() != 2) return std::nullopt;
  const std::string& table = path[0];
  const auto is_one_of = [&](std::initializer_list<const char*> words) {
    return std::find(words.begin(), words.end(), table) != words.end();
  };
  if (is_one_of({"size", "derived"})) return Kind::value;
  if (table == "stock") return Kind::stock;
  if (table == "point") return Kind::point;
  if (table == "plane") return Kind::plane;
  if (table == "assembly") return Kind::assembly;
  if (is_one_of({"board", "panel", "mirror", "repeat", "turn", "fill", "use"})) return Kind::board;
  return std::nullopt;
}

bool stands_alone(const KeyPath& path) {
  constexpr std::array<const char*, 5> tables = {"joint", "cut", "hole", "corner", "load"};
  return path.size() == 2 && std::find(tables.begin(), tables.end(), path[0]) != tables.end();
}

// Whether an assembly has a name of its own that hides the piece's.
bool is_hidden(const Document& document, const Reference& reference, Kind kind) {
  if (reference.scope == 0) return false;
  const Scope& scope = document.assemblies[static_cast<std::size_t>(reference.scope - 1)].scope;
  if (kind == Kind::value) return declares(scope.derived, reference.word);
  if (kind == Kind::stock)
    return reference.is_dotted &&
           (declares(scope.boards, reference.word) || declares(scope.panels, reference.word));
  return kind != Kind::assembly;  // points, planes and boards of the piece are not seen from there
}

// The part of a board's word that is the name, or -1: of "other-side/leg-a" the part behind the
// copies' names.
int part_named(const Document& document, const std::string& word, const std::string& name) {
  const auto parts = parts_of(word);
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (parts[i] == name) return static_cast<int>(i);
    if (!declares(document.top.copies, parts[i])) return -1;
  }
  return -1;
}

bool is_named(const Document& document, const Reference& reference, Kind kind,
              const std::string& name) {
  if (is_hidden(document, reference, kind)) return false;
  if (kind == Kind::board && reference.kind == Kind::board)
    return part_named(document, reference.word, name) >= 0;
  // A dotted name is a stock's where there is such a stock, else a board's.
  if (kind == Kind::board && reference.is_dotted)
    return reference.word == name && !declares(document.stocks, name);
  return reference.kind == kind && reference.word == name;
}

std::string renamed_word(const Document& document, const std::string& word, const std::string& from,
                         const std::string& to) {
  auto parts = parts_of(word);
  parts[static_cast<std::size_t>(part_named(document, word, from))] = to;
  return fmt::format("{}", fmt::join(parts, "/"));
}

bool is_word_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_';
}

// Where `name` stands in a formula by itself or before a dot. A formula tells each name once, but
// may have it several times.
std::vector<std::uint32_t> mentions(const Text& text, const Reference& reference) {
  std::vector<std::uint32_t> all;
  const std::string& content = text.content;
  for (std::uint32_t at = reference.formula.begin; at < reference.formula.end;) {
    if (!is_word_letter(content[at])) {
      ++at;
      continue;
    }
    std::uint32_t end = at;
    const auto goes_on = [&] {
      const bool joins = content[end] == '-' && end + 1 < reference.formula.end &&
                         is_word_letter(content[end + 1]);
      return is_word_letter(content[end]) || content[end] == '.' || joins;
    };
    while (end < reference.formula.end && goes_on()) ++end;
    const std::string word = content.substr(at, end - at);
    if (word == reference.word || (reference.is_dotted && word.starts_with(reference.word + '.')))
      all.push_back(at);
    at = end;
  }
  return all;
}

struct Renaming {
  const Text& text;
  const Document& document;
  const RenameTable& wish;
  Kind kind = Kind::value;
  std::vector<TextEdit> edits = {};  // all in the old text
  Diagnostics faults = {};

  [[nodiscard]] const std::string& from() const { return wish.path[1]; }
  void put(Span at, std::string with) { edits.push_back({at, std::move(with)}); }
  void follow(const Reference& reference);
  void look_at_pattern(const Reference& reference);
};

void Renaming::look_at_pattern(const Reference& reference) {
  if (matches(reference.word, from()) == matches(reference.word, wish.to)) return;
  faults.push_back(
      fault("edit.pattern",
            fmt::format("`{}` in {} would {} stand for `{}`", reference.word,
                        fmt::join(reference.owner, "."),
                        matches(reference.word, from()) ? "no longer" : "also", wish.to),
            "name the boards one by one there, or choose a name that suits it"));
}

void Renaming::follow(const Reference& reference) {
  if (kind == Kind::board && reference.kind == Kind::board && reference.scope == 0 &&
      is_pattern(reference.word))
    return look_at_pattern(reference);
  if (!is_named(document, reference, kind, from())) return;
  const std::string there =
      text.content.substr(reference.at.begin, reference.at.end - reference.at.begin);
  const bool is_as_written = there.starts_with(reference.word);
  if (!is_as_written) {
    faults.push_back(fault("edit.cannot-rename",
                           fmt::format("`{}` stands in {} in a way that cannot be followed", from(),
                                       fmt::join(reference.owner, ".")),
                           "change the text itself"));
    return;
  }
  const auto length = static_cast<std::uint32_t>(reference.word.size());
  if (reference.formula.end > 0) {
    for (const std::uint32_t at : mentions(text, reference)) put({at, at + length}, wish.to);
    return;
  }
  const std::uint32_t end = reference.at.begin + length;
  const bool is_board_word = kind == Kind::board && reference.kind == Kind::board;
  put({reference.at.begin, end},
      is_board_word ? renamed_word(document, reference.word, from(), wish.to) : wish.to);
}

// The name in the table's own header, and in those of tables below it.
void rename_headers(Renaming& renaming, const Text& text) {
  for (std::size_t begin = 0; begin < text.content.size();) {
    const std::size_t end = std::min(text.content.find('\n', begin), text.content.size());
    const std::string line = text.content.substr(begin, end - begin);
    const std::string head = fmt::format("[{}.{}", renaming.wish.path[0], renaming.from());
    const std::size_t at = line.find_first_not_of(" \t");
    if (at != std::string::npos && line.compare(at, head.size(), head) == 0 &&
        (line[at + head.size()] == ']' || line[at + head.size()] == '.')) {
      const auto from =
          static_cast<std::uint32_t>(begin + at + head.size() - renaming.from().size());
      renaming.put({from, static_cast<std::uint32_t>(begin + at + head.size())}, renaming.wish.to);
    }
    begin = end + 1;
  }
}

// The name where its declaration has it: in a header, or as a key.
void rename_declaration(Renaming& renaming, const Text& text) {
  const std::size_t before = renaming.edits.size();
  rename_headers(renaming, text);
  if (renaming.edits.size() > before) return;
  const auto keyed = [&](const auto& list) {
    for (const auto& decl : list) {
      if (decl.name.text != renaming.from()) continue;
      const std::string there =
          text.content.substr(decl.name.at.begin, decl.name.at.end - decl.name.at.begin);
      if (there == renaming.from()) renaming.put(decl.name.at, renaming.wish.to);
    }
  };
  keyed(renaming.document.top.derived);
  keyed(renaming.document.top.points);
  if (renaming.edits.size() == before) {
    renaming.faults.push_back(fault("edit.cannot-rename",
                                    fmt::format("`{}` is not written as a table of its own",
                                                fmt::join(renaming.wish.path, ".")),
                                    "change the text itself"));
  }
}

bool is_taken(const Document& document, const Resolved& piece, Kind kind, const std::string& name) {
  switch (kind) {
    case Kind::value:
      return declares(document.sizes, name) || declares(document.top.derived, name);
    case Kind::stock:
      return declares(document.stocks, name);
    case Kind::point:
      return declares(document.top.points, name);
    case Kind::plane:
      return declares(document.top.planes, name) || name == "floor";
    case Kind::assembly:
      return declares(document.assemblies, name);
    case Kind::board: {
      const auto names = board_names(document, piece);
      return std::find(names.begin(), names.end(), name) != names.end();
    }
  }
  return false;
}

// Edits that are all in the old text, made one after the other from the back.
Outcome<Changed> made(const Text& text, std::vector<TextEdit> edits) {
  std::sort(edits.begin(), edits.end(),
            [](const TextEdit& a, const TextEdit& b) { return a.at.begin > b.at.begin; });
  Making making;
  making.changed.text = text;
  std::uint32_t last = UINT32_MAX;
  for (TextEdit& edit : edits) {
    if (edit.at.begin == last) continue;  // told of twice
    last = edit.at.begin;
    if (!making.apply(std::move(edit))) return std::move(making.faults);
  }
  return std::move(making.changed);
}

// What still names the table.
std::vector<Reference> needing(const Document& document, const KeyPath& path) {
  std::vector<Reference> all;
  const auto kind = kind_of(path);
  if (!kind) return all;
  for (Reference& reference : references_in(document))
    if (reference.owner != path && is_named(document, reference, *kind, path[1]))
      all.push_back(std::move(reference));
  return all;
}

// A table that names only what goes, goes too; from longer lists the word is struck out.
bool let_go(Making& making, const Reference& reference) {
  if (reference.key.empty() || reference.scope != 0) return false;
  KeyPath list = reference.owner;
  list.push_back(reference.key);
  const auto at = find_value(making.changed.text, list);
  if (!at) return false;
  const bool is_joint = reference.owner[0] == "joint";
  KeyPath second = list, first = list;
  first.emplace_back("0");
  second.emplace_back("1");
  const bool has_others =
      find_value(making.changed.text, second) && find_value(making.changed.text, first);
  if (is_joint || !has_others)
    return making.apply(remove_value(making.changed.text, reference.owner));
  for (int i = 0;; ++i) {
    KeyPath item = list;
    item.push_back(std::to_string(i));
    const auto word = find_value(making.changed.text, item);
    if (!word) return false;
    const std::string there =
        making.changed.text.content.substr(word->begin, word->end - word->begin);
    if (there.size() > 2 && there.substr(1, there.size() - 2) == reference.word)
      return making.apply(remove_value(making.changed.text, item));
  }
}

}  // namespace

Outcome<Changed> rename(const Text& text, const RenameTable& wish, const Resolved& piece) {
  const Document document = read_piece(text).value;
  const auto kind = kind_of(wish.path);
  if (!is_name(wish.to))
    return fault("edit.bad-id", fmt::format("`{}` cannot be a name", wish.to),
                 "use letters, digits and _, hyphens between them, and no digit first");
  if (!kind && !stands_alone(wish.path))
    return fault("edit.cannot-rename",
                 fmt::format("`{}` cannot be renamed here", fmt::join(wish.path, ".")),
                 "change the text itself");
  const auto there = find_value(text, wish.path);
  if (!there) return there.diagnostics();
  KeyPath to = wish.path;
  to.back() = wish.to;
  if (find_value(text, to) || (kind && is_taken(document, piece, *kind, wish.to)))
    return fault("edit.already-there", fmt::format("there is a `{}` already", wish.to),
                 "choose another name");
  Renaming renaming{text, document, wish, kind.value_or(Kind::value)};
  rename_declaration(renaming, text);
  if (kind)
    for (const Reference& reference : references_in(document)) renaming.follow(reference);
  if (!renaming.faults.empty()) return std::move(renaming.faults);
  auto changed = made(text, std::move(renaming.edits));
  if (changed) changed->words = fmt::format("renamed {} to {}", wish.path.back(), wish.to);
  return changed;
}

Outcome<Changed> remove(const Text& text, const RemoveTable& wish) {
  Making making;
  making.changed.text = text;
  while (true) {
    const auto references = needing(read_piece(making.changed.text).value, wish.path);
    if (references.empty()) break;
    const Reference& first = references.front();
    const std::size_t before = making.changed.edits.size();
    const bool is_let_go = wish.with_needing && let_go(making, first);
    if (!is_let_go || making.changed.edits.size() == before) {
      if (!making.faults.empty()) return std::move(making.faults);
      return fault("edit.still-needed",
                   fmt::format("`{}` is still named by `{}`", fmt::join(wish.path, "."),
                               fmt::join(first.owner, ".")),
                   "take that away first, or let it be taken away with it");
    }
  }
  if (!making.apply(remove_value(making.changed.text, wish.path))) return std::move(making.faults);
  making.changed.words = fmt::format("took {} away", fmt::join(wish.path, "."));
  return std::move(making.changed);
}

}  // namespace kw::changing
