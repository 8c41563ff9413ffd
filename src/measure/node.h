// The tree of a formula.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "kerfwright/measure/expression.h"

namespace kw {

enum class Step : std::uint8_t {
  literal,
  name,
  call,
  minus,
  add,
  subtract,
  multiply,
  divide,
  power,
  less,
  less_or_equal,
  greater,
  greater_or_equal,
  equal,
  not_equal
};

enum class Function : std::uint8_t {
  choose,
  min,
  max,
  abs,
  round_to,
  round_up,
  round_down,
  sqrt,
  hypot,
  sin,
  cos,
  tan,
  asin,
  acos,
  atan,
  atan2
};

struct Expression::Node {
  Step step = Step::literal;
  Function function = Function::choose;  // of a call
  Value value = {};                      // of a literal
  std::string name = {};                 // of a name or a call
  Span name_at = {};                     // where the name alone stands
  Span at = {};                          // all of it, with any brackets around it
  std::vector<Node> inputs = {};
};

}  // namespace kw
