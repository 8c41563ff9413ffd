// Random entries for the books: most of them hold, some do not.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "kerfwright/trade/journal.h"

namespace kw::trade {

// SplitMix64 (Steele, Lea, Flood 2014): the same numbers with every library.
struct Dice {
  std::uint64_t state = 0;
  std::uint64_t next();
  int below(int n) { return static_cast<int>(next() % static_cast<std::uint64_t>(n)); }
  int from(int least, int below_) { return least + below(below_ - least); }
  bool one_in(int n) { return below(n) == 0; }
  std::string word();
};

// Names boards, orders and batches that are mostly there.
[[nodiscard]] Entry draw_entry(Dice& dice, const Books& books);

// What a journal of `tries` entries becomes; those that do not hold are left out.
[[nodiscard]] Journal draw_journal(Dice& dice, int tries);

}  // namespace kw::trade
