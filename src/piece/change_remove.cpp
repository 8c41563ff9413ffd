// Taking away, with what names the thing.
#include <fmt/format.h>

#include "naming.h"
#include "resolving/names.h"

namespace kw::changing {
namespace {

bool stands_under(const KeyPath& path, const KeyPath& table) {
  return path.size() >= table.size() && std::equal(table.begin(), table.end(), path.begin());
}

// What still names the table, from elsewhere.
std::vector<Reference> needing(const Document& document, const KeyPath& path) {
  std::vector<Reference> all;
  const auto target = target_of(document, path);
  if (!target) return all;
  for (Reference& reference : references_in(document))
    if (!stands_under(owner_of(document, reference), path) &&
        is_named(document, reference, *target))
      all.push_back(std::move(reference));
  return all;
}

// A change that takes more away than this is no slip of the hand; each step reads the text again.
constexpr int most_steps = 300;

struct TakingAway {
  Making making = {};
  bool with_needing = false;
  int steps_left = most_steps;

  // False, and the faults kept, when something cannot do without it.
  bool take(const KeyPath& path);
  bool let_go(const Document& document, const Reference& reference);
  bool strike_out(const KeyPath& list, const std::string& word);
};

Diagnostic still_needed(const KeyPath& path, const KeyPath& owner, bool with_needing) {
  const std::string user = fmt::format("{}", fmt::join(owner, "."));
  return fault(
      "edit.still-needed", fmt::format("`{}` is still named by `{}`", fmt::join(path, "."), user),
      with_needing ? fmt::format("change or take away `{}` first: it is made with it", user)
                   : "take that away first, or let it be taken away with it");
}

bool TakingAway::take(const KeyPath& path) {
  while (true) {
    const Document document = read_piece(making.changed.text).value;
    const auto references = needing(document, path);
    if (references.empty()) return making.apply(remove_value(making.changed.text, path));
    const Reference& first = references.front();
    const std::size_t before = making.changed.edits.size();
    const bool may_go = with_needing && steps_left-- > 0;
    if (may_go && let_go(document, first) && making.changed.edits.size() > before) continue;
    if (making.faults.empty())
      making.faults.push_back(still_needed(path, owner_of(document, first), with_needing));
    return false;
  }
}

// A table that names only what goes, goes too; from longer lists the word is struck out.
bool TakingAway::let_go(const Document& document, const Reference& reference) {
  const KeyPath owner = owner_of(document, reference);
  if (reference.kind == Kind::assembly) return take(owner);
  if (reference.key.empty()) return false;
  KeyPath list = owner;
  list.push_back(reference.key);
  KeyPath second = list, first = list;
  first.emplace_back("0");
  second.emplace_back("1");
  const Text& text = making.changed.text;
  const bool has_others = find_value(text, second) && find_value(text, first);
  const bool is_joint = reference.owner[0] == "joint";
  return is_joint || !has_others ? take(owner) : strike_out(list, reference.word);
}

bool TakingAway::strike_out(const KeyPath& list, const std::string& word) {
  const Text& text = making.changed.text;
  for (int i = 0;; ++i) {
    KeyPath item = list;
    item.push_back(std::to_string(i));
    const auto at = find_value(text, item);
    if (!at) return false;
    const std::string there = text.content.substr(at->begin, at->end - at->begin);
    if (there.size() > 2 && there.substr(1, there.size() - 2) == word)
      return making.apply(remove_value(text, item));
  }
}

}  // namespace

Outcome<Changed> remove(const Text& text, const RemoveTable& wish) {
  TakingAway taking{.with_needing = wish.with_needing};
  taking.making.changed.text = text;
  if (!taking.take(wish.path)) return std::move(taking.making.faults);
  taking.making.changed.words = fmt::format("took {} away", spoken_path(wish.path));
  return std::move(taking.making.changed);
}

}  // namespace kw::changing
