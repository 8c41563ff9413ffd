// The units that a figure may carry.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

#include "kerfwright/measure/expression.h"

#include "cursor.h"

namespace kw {

// 128 bits; __extension__ because ISO C++ has no such type.
__extension__ typedef __int128 Wide;

enum class Unit : std::uint8_t {
  none,
  inch,
  foot,
  mm,
  cm,
  m,
  degree,
  radian,
  kg,
  g,
  lb,
  oz,
  newton,
  lbf
};

// over / under, exactly.
struct Ratio {
  Wide over = 0;
  Wide under = 1;
};

// `in`, `mm`, `lbf`: one of the words that expression.h lists, in small letters but for N.
[[nodiscard]] std::optional<Unit> unit_called(std::string_view word);

// Takes a mark of inches, feet or degrees, plain or typographic.
[[nodiscard]] std::optional<Unit> take_mark(Cursor& cursor);

[[nodiscard]] Dimension dimension_of(Unit unit);

// What the unit measures in base units (ticks, degrees, kg, s). A radian comes out pi times too
// large, since pi is no ratio: amount_of() in literal.h divides by it.
[[nodiscard]] Ratio ratio_of(Unit unit);

}  // namespace kw
