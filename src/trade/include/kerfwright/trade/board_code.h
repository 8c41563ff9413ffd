// What is written on a board so that it is found again: "4KM7", read from a label by eye.
//
// Digits to the base 29 and a check digit: 0 to 9 and the consonants but L and S, so that no code
// is a word. The check digit makes sum(weight x digit) a multiple of 29, weights 1, 2, 3, ... from
// the right; 29 is prime, so that one wrong digit, or any two that changed places, are always
// noticed (the reasoning of the ISBN's check digit, ISO 2108, with another prime).
#pragma once

#include <string>
#include <string_view>

#include "kerfwright/diag/outcome.h"

namespace kw::trade {

// Of the board with this number, 1 or more; at least four digits.
[[nodiscard]] std::string code_of(int board);

// Small letters count as capitals, O as 0, I and L as 1, S as 5; blanks and hyphens do not count.
// Error: trade.bad-code.
[[nodiscard]] Outcome<int> read_code(std::string_view text, std::uint32_t at = 0);

}  // namespace kw::trade
