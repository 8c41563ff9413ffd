// All ways to fill a board that may be worth enough, with the counts of the kinds that are watched:
// by state, labels that no other label makes needless, pruned by what can be had around them
// (docs/sawing/sheets.md).
#pragma once

#include <cstdint>
#include <vector>

#include "table.h"
#include "work.h"

namespace kw::cutting::sheets {

struct LabelSearch {
  const Grid& grid;
  const std::vector<Lying>& lyings;
  const Worths& inside;                // of `reduced`
  const Worths& outside;               // of `reduced`
  const std::vector<double>& reduced;  // worth of a kind less its multiplier
  const std::vector<double>& full;     // worth of a kind; equals reduced where it is not watched
  const std::vector<int>& counts;      // of each kind that there may be, if it is watched
  const std::vector<bool>& is_watched;
  double least = 0;                 // of the reduced worth of the whole board
  std::size_t most_labels = 0;      // more, and the search gives up
  std::size_t most_at_a_state = 0;  // 0: all; else only the best are kept, and nothing is proved
  bool keep_all_sets = false;       // no set of parts is dropped for another that is worth more
  std::size_t most_answers = 1;
};

struct Labelled {
  bool is_complete = false;       // no filling that is worth enough was left out
  std::vector<Blocks> best = {};  // fillings of the whole board, worth most by `full` first
};

[[nodiscard]] Labelled fillings(const LabelSearch& search, Work& work);

}  // namespace kw::cutting::sheets
