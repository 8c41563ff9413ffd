// Figures with their units, read exactly: what text.h and expression.h have in common.
//
// A figure is a whole number, a decimal, a fraction or a mixed number; whole feet may be followed
// by inches. Its value is kept as a fraction of whole numbers, so nothing is rounded while reading.
#pragma once

#include <cstdint>
#include <optional>

#include "kerfwright/diag/diagnostic.h"

#include "cursor.h"
#include "unit.h"

namespace kw {

struct Literal {
  Wide over = 0;  // the figure is over / under in `unit`; each at most 10^24
  Wide under = 1;
  Unit unit = Unit::none;
  bool is_division = false;  // `3/4` with no unit, which may also be read as 3 divided by 4
  bool is_cut = false;       // digits past the 22nd or so were left out, not all of them zero
};

// What `29-11/16` and `3'-2` are: a mixed number, or refused because a formula might mean a
// difference.
enum class Hyphen : std::uint8_t { joins, is_doubtful };

[[nodiscard]] bool starts_figure(const Cursor& cursor);

// Reads the literal that starts at the cursor. A word that is no unit is left standing.
// Faults: measure.not-a-figure, measure.zero-below, measure.too-long, measure.mixed-units.
[[nodiscard]] std::optional<Literal> read_literal(Cursor& cursor, Hyphen hyphen,
                                                  Diagnostics& faults);

// A comma at the cursor between two digits, as a thousands separator or a decimal point.
[[nodiscard]] std::optional<Diagnostic> comma_fault(const Cursor& cursor);

// The literal in base units (ticks, degrees, kg, s), exactly. Radians come out pi times too large,
// since pi is no fraction; amount_of() divides by it.
[[nodiscard]] Ratio in_base_units(const Literal& literal);
// The same to the nearest double, or within one unit in its last place.
[[nodiscard]] double amount_of(const Literal& literal);

}  // namespace kw
