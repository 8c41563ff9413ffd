// Problems as plain files, so that anybody can try the optimisers on their own, or on the instances
// of the research literature. docs/sawing.md has the layouts:
//   CSV          a row for each part, stock and figure of the saw, with units, angles and prices
//   numbers      kinds, stock length, then `length count` of each kind
//   numbers      stocks, `length price copies` of each, kinds, `length count` of each
//   numbers      sheets, `length width copies` of each, kinds, `length width count worth` of each
// Which it is shows in the file itself.
#pragma once

#include <variant>

#include "kerfwright/cutting/sheets.h"

namespace kw {

struct Instance {
  std::variant<Problem, SheetProblem> problem = {};
  bool is_plain = false;  // bare numbers: a length of n is n ticks, a price of n is n coins
};

// Errors, with their places: solve.not-a-number, solve.too-few, solve.too-many,
// solve.no-shape, solve.unknown-row, solve.no-value, solve.bad-fault, those of read_csv,
// parse_length and parse_angle. Whether the problem makes sense is for `validate` and
// `validate_sheets`.
[[nodiscard]] Outcome<Instance> read_instance(const Text& text);

}  // namespace kw
