// How long it takes to work out the books from their entries, and to undo one; random entries, the
// same on each run. Run by hand.
#include <chrono>
#include <fmt/core.h>

#include "draw_events.h"

namespace {

using namespace kw::trade;

double milliseconds_of(const auto& work) {
  const auto start = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start)
      .count();
}

void row(int tries) {
  Dice dice{1};
  Journal journal;
  for (int i = 0; i < tries; ++i) {
    Entry entry = draw_entry(dice, journal.books);
    if (std::holds_alternative<Undone>(entry.event)) continue;  // each would be a replay
    const auto lines = enter(journal, std::move(entry));
  }
  const double replayed = milliseconds_of([&] {
    if (!replay(journal.entries)) fmt::print("  does not hold\n");
  });
  const int last = journal.books.entries;
  const double undone = milliseconds_of([&] {
    if (!enter(journal, {Day{20'000}, Undone{last}})) fmt::print("  not undone\n");
  });
  fmt::print("{:>8} {:>7} {:>9.2f} {:>9.2f}\n", last, journal.books.boards.size(), replayed,
             undone);
}

}  // namespace

int main() {
  fmt::print("{:>8} {:>7} {:>9} {:>9}\n", "entries", "boards", "replay ms", "undo ms");
  for (const int tries : {150, 1'500, 15'000, 60'000}) row(tries);
  return 0;
}
