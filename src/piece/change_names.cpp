// Renaming, with all that names the thing.
#include <algorithm>
#include <fmt/format.h>

#include "naming.h"
#include "resolving/names.h"
#include "resolving/scene.h"

namespace kw::changing {
namespace {

using resolving::is_pattern;
using resolving::matches;
using resolving::scope_of;

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
  const Target& target;
  std::vector<TextEdit> edits = {};  // all in the old text
  Diagnostics faults = {};

  [[nodiscard]] const std::string& from() const { return target.name; }
  void put(Span at, std::string with) { edits.push_back({at, std::move(with)}); }
  void follow(const Reference& reference);
  void look_at_pattern(const Reference& reference);
};

void Renaming::look_at_pattern(const Reference& reference) {
  if (matches(reference.word, from()) == matches(reference.word, wish.to)) return;
  faults.push_back(
      fault("edit.pattern",
            fmt::format("`{}` in {} would {} stand for `{}`", reference.word,
                        fmt::join(owner_of(document, reference), "."),
                        matches(reference.word, from()) ? "no longer" : "also", wish.to),
            "name the boards one by one there, or choose a name that suits it"));
}

void Renaming::follow(const Reference& reference) {
  const bool is_board_word = target.kind == Kind::board && reference.kind == Kind::board;
  if (is_board_word && reference.scope == target.scope && is_pattern(reference.word))
    return look_at_pattern(reference);
  if (!is_named(document, reference, target)) return;
  const std::string there =
      text.content.substr(reference.at.begin, reference.at.end - reference.at.begin);
  const bool is_as_written = there.starts_with(reference.word);
  if (!is_as_written) {
    faults.push_back(fault("edit.cannot-rename",
                           fmt::format("`{}` stands in {} in a way that cannot be followed", from(),
                                       fmt::join(owner_of(document, reference), ".")),
                           "change the text itself"));
    return;
  }
  const auto length = static_cast<std::uint32_t>(reference.word.size());
  if (reference.formula.end > 0) {
    for (const std::uint32_t at : mentions(text, reference)) put({at, at + length}, wish.to);
    return;
  }
  put({reference.at.begin, reference.at.begin + length},
      is_board_word ? renamed_word(document, reference, target, wish.to) : wish.to);
}

// The name in the table's own header, and in those of tables below it.
void rename_headers(Renaming& renaming, const Text& text) {
  for (std::size_t begin = 0; begin < text.content.size();) {
    const std::size_t end = std::min(text.content.find('\n', begin), text.content.size());
    const std::string line = text.content.substr(begin, end - begin);
    const std::string head = fmt::format("[{}", fmt::join(renaming.wish.path, "."));
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
  const Scope& scope = scope_of(renaming.document, renaming.target.scope);
  if (renaming.target.table == "derived") keyed(scope.derived);
  if (renaming.target.table == "point") keyed(scope.points);
  if (renaming.edits.size() == before) {
    renaming.faults.push_back(fault("edit.cannot-rename",
                                    fmt::format("`{}` is not written as a table of its own",
                                                fmt::join(renaming.wish.path, ".")),
                                    "change the text itself"));
  }
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

bool is_same_board(const ResolvedBoard& a, const ResolvedBoard& b) {
  return a.stock == b.stock && a.frame.origin == b.frame.origin && a.frame.x == b.frame.x &&
         a.frame.y == b.frame.y && a.from_x == b.from_x && a.to_x == b.to_x &&
         a.cuts.size() == b.cuts.size() && a.hollows.size() == b.hollows.size() &&
         a.holes.size() == b.holes.size();
}

// Whether two texts make the same piece, but for what its things are called.
bool is_same_piece(const Text& before, const Text& after) {
  const auto made_of = [](const Text& text) {
    return resolve(read_piece(text).value, built_in_catalogue());
  };
  const Reading<Resolved> a = made_of(before), b = made_of(after);
  const auto is_same_joint = [](const ResolvedJoint& x, const ResolvedJoint& y) {
    return x.kind == y.kind && x.a == y.a && x.b == y.b;
  };
  const auto is_same_load = [](const ResolvedLoad& x, const ResolvedLoad& y) {
    return x.on == y.on;
  };
  const auto agree = [](const auto& x, const auto& y, const auto& is_same) {
    return std::equal(x.begin(), x.end(), y.begin(), y.end(), is_same);
  };
  return a.diagnostics.size() == b.diagnostics.size() &&
         agree(a.value.boards, b.value.boards, is_same_board) &&
         agree(a.value.joints, b.value.joints, is_same_joint) &&
         agree(a.value.loads, b.value.loads, is_same_load);
}

Diagnostics faults_before(const Text& text, const Document& document, const RenameTable& wish,
                          const std::optional<Target>& target, const Resolved& piece) {
  if (!is_name(wish.to))
    return {fault("edit.bad-id", fmt::format("`{}` cannot be a name", wish.to),
                  "use letters, digits and _, hyphens between them, and no digit first")};
  if (!target)
    return {fault("edit.cannot-rename",
                  fmt::format("`{}` cannot be renamed here", fmt::join(wish.path, ".")),
                  "change the text itself")};
  const auto there = find_value(text, wish.path);
  if (!there) return there.diagnostics();
  KeyPath to = wish.path;
  to.back() = wish.to;
  if (find_value(text, to) || (target->kind && is_taken(document, piece, *target, wish.to)))
    return {fault("edit.already-there", fmt::format("there is a `{}` already", wish.to),
                  "choose another name")};
  return {};
}

}  // namespace

Outcome<Changed> rename(const Text& text, const RenameTable& wish, const Resolved& piece) {
  const Document document = read_piece(text).value;
  const auto target = target_of(document, wish.path);
  if (auto faults = faults_before(text, document, wish, target, piece); !faults.empty())
    return faults;
  Renaming renaming{text, document, wish, *target};
  rename_declaration(renaming, text);
  for (const Reference& reference : references_in(document)) renaming.follow(reference);
  if (!renaming.faults.empty()) return std::move(renaming.faults);
  auto changed = made(text, std::move(renaming.edits));
  if (!changed) return changed;
  if (!is_same_piece(text, changed->text))
    return fault("edit.pattern",
                 fmt::format("called `{}`, it would be taken for another by a pattern or a formula",
                             wish.to),
                 "choose another name, or name the boards one by one where a `*` stands");
  changed->words = fmt::format("renamed {} to {}", target->name, wish.to);
  return changed;
}

}  // namespace kw::changing
