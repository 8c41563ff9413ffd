// What the search for angled parts knows of a problem beyond its model: which kinds have the same
// ends in the same ways to lie, and what every joint takes.
#pragma once

#include <compare>
#include <cstdint>
#include <utility>
#include <vector>

#include "stick.h"

namespace kw::cutting::angled {

[[nodiscard]] inline std::size_t at(int index) {
  return static_cast<std::size_t>(index);
}

// Joints and tips are rounded up, by less than 2 ticks each; `verify` judges the exact ones. What
// is proved must therefore hold for rows that are so much longer than the stick.
// Square ends need no rounding.
[[nodiscard]] inline std::int64_t rounding_of_a_joint(const Model& model) {
  return model.is_square ? 0 : 2;  // ticks
}

// What a row may be longer than its room while parts still come out of it (NOTES.md, "Rounding").
[[nodiscard]] inline std::int64_t slack_of_prefix(const Model& model) {
  return model.is_square ? 0 : model.parts / 16 + 2;
}

// One way to lie: indices into Model::ends.
struct Way {
  int left = 0, right = 0;
  friend auto operator<=>(const Way&, const Way&) = default;
};

using Shape = std::vector<Way>;  // ascending

struct Shapes {
  std::vector<Shape> all = {};
  std::vector<int> of_kind = {};        // index into `all`
  std::vector<std::int64_t> gaps = {};  // right end * ends + left end, of two neighbours
  int ends = 0;

  [[nodiscard]] std::int64_t gap(int right, int left) const {
    return gaps[at(right) * at(ends) + at(left)];
  }
};

[[nodiscard]] Shapes shapes_of(const Model& model);

// What lies on one stick: kinds, ascending, with counts above 0.
using PartCounts = std::vector<std::pair<int, int>>;

struct Pattern {
  int bar = 0;  // index into Model::bars
  PartCounts parts = {};
  friend auto operator<=>(const Pattern&, const Pattern&) = default;
};

}  // namespace kw::cutting::angled
