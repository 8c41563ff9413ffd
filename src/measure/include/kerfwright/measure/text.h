// Reading and writing lengths and angles the trade's way.
//
// Reads: `29 11/16`  `29-11/16`  `3' 2 3/8"`  `3'-2`  `2' 6`  `2 ft 6 in`  `810 mm`  `81 cm`
//        `0.81 m`  `29.6875"`  unicode fractions `29 ¾`  `29¾`  typographic primes `′ ″ ’ ”`
//        a leading minus. A number with no unit is in the unit passed in (feet make what follows
//        inches).
// Writes: `29 11/16"`, `3' 2 3/8"`, `810 mm`, `810.5 mm`.
#pragma once

#include <string>
#include <string_view>

#include "kerfwright/diag/outcome.h"
#include "kerfwright/measure/angle.h"
#include "kerfwright/measure/length.h"

namespace kw {

// Errors: measure.empty, measure.not-a-length, measure.not-a-figure (`29 11`, `1,200`, `1e3`),
// measure.zero-below, measure.too-long (over 10 km, or 12 digits), measure.mixed-units,
// measure.inexact (a warning: finer than a tick, rounded to the nearest). Spans are byte offsets in
// `text` plus `at`. Never reads more than 256 bytes.
[[nodiscard]] Outcome<Length> parse_length(std::string_view text, LengthUnit bare,
                                           std::uint32_t at = 0);

// `35 deg`, `35°`, `35.5°`, `22 1/2 deg`, `0.61 rad`; a bare number is an error
// (measure.bare-angle). Other errors: measure.not-an-angle, and those of a figure as above.
[[nodiscard]] Outcome<Angle> parse_angle(std::string_view text, std::uint32_t at = 0);

struct LengthStyle {
  LengthUnit unit = LengthUnit::inch;
  int finest = 256;   // inches: the largest denominator written (a power of two); a value that is
                      // not a whole multiple is rounded to it and marked by `~` in front
  int decimals = 3;   // millimetres: digits after the point, trailing zeros dropped, same mark
  bool feet = false;  // write 38 3/8" as 3' 2 3/8"
  bool mark_unit = true;  // `"` or ` mm` behind the figure
  bool with_mm = false;   // inches: the nearest whole millimetre behind, `29 11/16" (754 mm)`
};
[[nodiscard]] std::string format_length(Length length, const LengthStyle& style = {});

// Degrees with at most `decimals` digits, trailing zeros dropped, and the degree sign: `20°`,
// `35.3°`.
[[nodiscard]] std::string format_angle(Angle angle, int decimals = 1);

}  // namespace kw
