// Parts put one after another into what is free, by rules that a search varies.
#pragma once

#include <vector>

#include "pattern.h"
#include "work.h"

namespace kw::cutting::sheets {

// A free rectangle: an offcut node of an open sheet, with the cuts that led to it.
struct Free {
  int node = 0;
  Size size = {};
  Stage stage = {};
};

struct OpenSheet {
  Pattern pattern = {};
  std::vector<Free> free = {};
  std::vector<int> made = {};  // kinds, one entry a part
  Wide used = 0;               // area of the parts
};

// A state of the search: sheets begun, copies of each board left, parts that found no place.
struct Layout {
  std::vector<OpenSheet> sheets = {};
  std::vector<int> copies = {};
  std::vector<int> missing = {};  // kinds, one entry a part
};

struct Rules {
  enum class Fit : std::uint8_t { area, short_side, long_side };
  enum class Split : std::uint8_t { largest, smallest, rip, crosscut };
  Fit fit = Fit::area;
  Split split = Split::largest;
  int board = -1;  // preferred for new sheets; -1: the cheapest by area
  bool may_open = true;
};

[[nodiscard]] Layout empty_layout(const Model& model);

// Puts one part of each entry of `kinds`, in this order; what fits nowhere goes to `missing`.
void put(const Model& model, const std::vector<int>& kinds, const Rules& rules, Layout& layout,
         Work& work);

// Orders of parts: by area, longest side, length, width, or the shorter side, largest first;
// `noise` 0 to 1 disturbs them.
[[nodiscard]] std::vector<int> ordered(const Model& model, std::vector<int> kinds, int by,
                                       double noise, Random& random);

}  // namespace kw::cutting::sheets
