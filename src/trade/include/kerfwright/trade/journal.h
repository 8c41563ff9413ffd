// The entries in their order, what stands of them, and undoing: the books are replayed without what
// is undone, and if anything that follows does not hold any more, nothing is undone.
//
//   Journal journal;
//   if (auto lines = enter(journal, {today, Undone{12}})) ...
#pragma once

#include <vector>

#include "kerfwright/trade/books.h"

namespace kw::trade {

struct Journal {
  std::vector<Entry> entries = {};  // entry n is entries[n - 1]
  Books books = {};
  friend bool operator==(const Journal&, const Journal&) = default;
};

// Writes an entry behind the others and gives what it changed in the accounts, or says why not and
// changes nothing. Errors: those of `apply`; trade.cannot-undo (no such entry, or one that does not
// stand), trade.still-needed (an entry that follows would not hold; it is named).
[[nodiscard]] Outcome<std::vector<Line>> enter(Journal& journal, Entry entry);

// The journal of entries that were entered one after another, in one go. An error is that of the
// first entry that does not hold, its number in a note.
[[nodiscard]] Outcome<Journal> replay(std::vector<Entry> entries);

// Which entries stand, by index: not undone, or undone and brought back.
[[nodiscard]] std::vector<bool> standing_of(const std::vector<Entry>& entries);

// "entry 12 (boards reserved, 2026-03-01)"
[[nodiscard]] std::string words_for(int number, const Entry& entry);

}  // namespace kw::trade
