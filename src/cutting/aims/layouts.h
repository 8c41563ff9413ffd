// Every set of parts that fits on one stick, with what it costs and leaves.
#pragma once

#include <cstdint>
#include <utility>
#include <vector>

#include "stick.h"
#include "work.h"

namespace kw::cutting {

// Parts in whole numbers: indices into Model::kinds, rising, each with a count of at least 1.
using PartCounts = std::vector<std::pair<int, int>>;

struct Layout {
  PartCounts counts = {};
  Stick stick = {};        // the bar, and the parts in the order that takes least
  std::int64_t price = 0;  // coins
  std::int64_t kept = 0;   // worth of the offcut, less that of a bar that was on hand
  std::int64_t lost = 0;   // length of the bar, less an offcut worth keeping
};

// What a bar of this length, or an offcut, is worth when kept.
[[nodiscard]] std::int64_t worth_kept(const Problem& problem, std::int64_t ticks);

// A stick as a layout.
[[nodiscard]] Layout layout_of(const Problem& problem, const Model& model, Stick stick);

struct Layouts {
  std::vector<Layout> all = {};
  bool is_complete = false;  // no set of these parts that fits on a bar is missing
};

// Sets of at most the parts in `wanted` (a count for each kind) on every bar with a copy in `bars`.
// Gives up, incomplete and empty, beyond `most` layouts or when the work is over. Of angled parts
// the order that takes least is only found exactly where they are few: then never complete.
[[nodiscard]] Layouts layouts_of(const Problem& problem, const Model& model,
                                 const std::vector<int>& wanted, const std::vector<int>& bars,
                                 std::size_t most, Work& work);

}  // namespace kw::cutting
