// Straight parts out of straight stock as bare whole numbers: what the exact search works on.
#pragma once

#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

#include "model.h"
#include "solution.h"

namespace kw::cutting::lengths {

// Sizes with their kerf; the last kerf is in the bin's capacity (NOTES.md).
struct Type {
  std::int64_t size = 0;
  int count = 0;
};

struct Bin {
  std::int64_t capacity = 0, cost = 0;
  int copies = 0;          // never more than there are parts
  bool is_scarce = false;  // the copies may matter
};

struct Instance {
  std::vector<Type> types = {};  // longest first, sizes differ; index = kind of the model
  std::vector<Bin> bins = {};    // longest first; index = bar of the model
  std::int64_t step = 1;         // every cost is a multiple of it
  std::int64_t dearest = 1;      // cost of a bin
  int parts = 0;
};

// What lies in one bin. Parts by type, ascending, counts above 0.
struct Pattern {
  int bin = 0;
  std::vector<std::pair<int, int>> parts = {};
  friend auto operator<=>(const Pattern&, const Pattern&) = default;
};

struct Laid {
  Pattern pattern = {};
  int times = 0;
};

[[nodiscard]] Instance instance_of(const Model& model);

[[nodiscard]] std::int64_t size_of(const Instance& instance, const Pattern& pattern);

// Patterns of the sticks of an answer that makes all parts.
[[nodiscard]] std::vector<Laid> patterns_of(const Model& model, const Solution& solution);

// Sticks for patterns that together hold at least the parts wanted: what is too much is left out.
[[nodiscard]] Solution solution_of(const Model& model, const std::vector<Laid>& laid);

[[nodiscard]] inline std::size_t at(int index) {
  return static_cast<std::size_t>(index);
}

}  // namespace kw::cutting::lengths
