// What a table is called from where: in the piece, in its assembly, and from outside it. Private to
// piece.
#pragma once

#include <algorithm>

#include "change_text.h"
#include "references.h"

namespace kw::changing {

// What a path such as {"board", "leg-a"} or {"assembly", "trough", "board", "side"} names.
struct Target {
  int scope = 0;           // that it is declared in, as in Reference
  std::string table = {};  // "board"
  std::string name = {};
  std::optional<Kind> kind =
      {};  // nothing: a joint, cut, hole, corner or load, which nothing names
};
[[nodiscard]] std::optional<Target> target_of(const Document& document, const KeyPath& path);

[[nodiscard]] KeyPath path_of_scope(const Document& document, int scope);
// The table that the reference stands in.
[[nodiscard]] KeyPath owner_of(const Document& document, const Reference& reference);

[[nodiscard]] bool is_named(const Document& document, const Reference& reference,
                            const Target& target);
// A board's word as it is when the target is called `to`: "low/side" as "low/end". It must be
// named.
[[nodiscard]] std::string renamed_word(const Document& document, const Reference& reference,
                                       const Target& target, const std::string& to);
// Whether `name` is taken where the target is seen.
[[nodiscard]] bool is_taken(const Document& document, const Resolved& piece, const Target& target,
                            const std::string& name);

// Whether a list of declarations has one of this name.
template <class List>
bool declares(const List& list, const std::string& name) {
  return std::any_of(list.begin(), list.end(), [&](const auto& d) { return d.name.text == name; });
}

}  // namespace kw::changing
