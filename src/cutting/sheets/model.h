// The sheet problem in whole ticks: equal parts merged, each part and each trimmed sheet longer and
// wider by a kerf, so that pieces stand side by side without one.
#pragma once

#include <cstdint>
#include <vector>

#include "kerfwright/cutting/sheets.h"

namespace kw::cutting::sheets {

__extension__ using Wide = __int128;  // areas: ticks times ticks do not fit 64 bits

struct Size {
  std::int64_t l = 0, w = 0;
  friend bool operator==(const Size&, const Size&) = default;
  [[nodiscard]] Wide area() const { return Wide{l} * w; }
  [[nodiscard]] bool holds(const Size& s) const { return s.l <= l && s.w <= w; }
};

inline Size turned(Size s) {
  return {s.w, s.l};
}

struct Kind {
  Size size = {};
  bool turns = false;  // and is no square
  std::int64_t worth = 0;
  int count = 0;
  std::vector<int> parts = {};  // indices into SheetProblem::parts, merged here
};

struct Board {
  Size size = {};
  std::int64_t price = 0;
  int copies = 0;  // never more than there are parts
  int sheet = 0;   // index into SheetProblem::sheets
};

struct Model {
  std::vector<Kind> kinds = {};    // large area first
  std::vector<Board> boards = {};  // only those that hold some part
  std::int64_t kerf = 0;
  SheetStages stages = SheetStages::any;
  FirstCut first = FirstCut::either;
  bool for_worth = false;
  int parts = 0;
};

// `problem` must be valid. For the most worth, counts are cut to what the largest sheet's area may
// hold, and parts worth nothing or too large are left out.
[[nodiscard]] Model model_of(const SheetProblem& problem);

// Whether the part fits alone, turned where it may be.
[[nodiscard]] bool fits(const Kind& kind, const Board& board);

}  // namespace kw::cutting::sheets
