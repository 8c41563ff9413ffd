// Short ways to read a piece and to look at what came of it.
#pragma once

#include <string>

#include "kerfwright/piece/document.h"

namespace kw::testing_piece {

// A file with the head that every file needs; `unit` is "in" or "mm".
inline Text piece(const std::string& rest, const std::string& unit = "in") {
  return {"test.toml", "format = 1\npiece = \"Test\"\nunit = \"" + unit + "\"\n" + rest};
}

inline std::string slice(const Text& text, Span at) {
  return text.content.substr(at.begin, at.end - at.begin);
}

// What a formula without names comes to; not-a-number when it has none.
inline double value_of(const Formula& formula, LengthUnit unit = LengthUnit::inch) {
  const auto unknown = [](std::string_view, Span at) -> Outcome<Value> {
    return Diagnostic{.code = "test.name", .at = at};
  };
  if (formula.expression.is_empty()) return __builtin_nan("");
  const auto value = evaluate(formula.expression, unknown, unit);
  return value ? value->amount : __builtin_nan("");
}

}  // namespace kw::testing_piece
