// Arithmetic of dimensions, and the fault when one is not what is wanted.
#pragma once

#include <optional>
#include <string>

#include "kerfwright/measure/expression.h"

namespace kw {

// a times b to the given power; nothing when an exponent is no whole number or beyond 20 in size.
[[nodiscard]] std::optional<Dimension> combined(Dimension a, Dimension b, double power);

// A bare number where a length is wanted, in ticks of the file's unit.
[[nodiscard]] double ticks_of_bare(double number, LengthUnit bare);

[[nodiscard]] Diagnostic wrong_dimension(Span at, std::string message, Dimension found,
                                         Dimension wanted);

}  // namespace kw
