// Writing TOML for what a maker typed, and adding tables. Private to piece.
#pragma once

#include "kerfwright/piece/change.h"

namespace kw::changing {

// A text as a TOML string: in double quotes, or in single ones when it has an inch mark.
[[nodiscard]] std::string quoted(const std::string& typed);
[[nodiscard]] std::string list_of(const std::vector<std::string>& typed);
// A plain number, such as 7 or -2.5, which may stand without quotes.
[[nodiscard]] bool is_plain_number(const std::string& typed);
[[nodiscard]] std::string toml_of(const EndWish& end);
[[nodiscard]] std::string toml_of(const DirectionWish& direction);
[[nodiscard]] std::string toml_of(const ValueWish& value, bool number_is_bare);

// A table as it grows, line by line.
struct NewTable {
  KeyPath path = {};
  std::vector<std::pair<std::string, std::string>> rows = {};  // key, TOML
  void add(const std::string& key, std::string toml) { rows.emplace_back(key, std::move(toml)); }
  void add_typed(const std::string& key, const std::string& typed) {
    if (!typed.empty()) add(key, quoted(typed));
  }
};
// At the end of the text, with an empty line before it.
[[nodiscard]] TextEdit edit_for(const Text& text, const NewTable& table);

// A name that the language takes: letters a to z, digits and _, hyphens between, no digit first.
[[nodiscard]] bool is_name(const std::string& id);
// `wanted`, or `wanted-2`, -3 ... : the first that is not taken.
[[nodiscard]] std::string free_name(const std::string& wanted,
                                    const std::vector<std::string>& taken);
// What boards, panels, copies and uses are called, and the names that copies give.
[[nodiscard]] std::vector<std::string> board_names_in(const Scope& scope);
// Those of the piece, and of all that is made of them.
[[nodiscard]] std::vector<std::string> board_names(const Document& document, const Resolved& piece);

// A place in the file's own words: a layout point's name, the words of the board pointed at, or
// figures.
[[nodiscard]] std::string toml_of(const PlaceWish& place, const Text& text,
                                  const Document& document, const Resolved& piece);
// A coordinate or length in the file's unit, as the trade writes it: "12 3/16", "304.8".
[[nodiscard]] std::string typed_length(double mm, LengthUnit unit);

// A path for people: "height" of {"size", "height", "is"}, "leg-a, runs from, up", "board leg-a".
[[nodiscard]] std::string spoken_path(const KeyPath& path);

[[nodiscard]] Diagnostic fault(std::string_view code, std::string message, std::string hint);

// A change being made: edits gathered while the text goes on.
struct Making {
  Changed changed = {};
  // False, and the faults kept, when it cannot be done.
  bool apply(Outcome<TextEdit> edit);
  void add(const NewTable& table);
  Diagnostics faults = {};
};

[[nodiscard]] Outcome<Changed> rename(const Text& text, const RenameTable& wish,
                                      const Resolved& piece);
[[nodiscard]] Outcome<Changed> remove(const Text& text, const RemoveTable& wish);

}  // namespace kw::changing
