// Money against set-ups, exactly: for each number of layouts the best plan that has no more.
#pragma once

#include <compare>
#include <cstdint>
#include <optional>
#include <vector>

#include "aims/layouts.h"

namespace kw::cutting {

// Smaller is better, the first difference decides.
struct Merit {
  std::int64_t cost = 0;
  std::int64_t kept = 0;  // minus the worth kept
  std::int64_t lost = 0;
  friend auto operator<=>(const Merit&, const Merit&) = default;
};

struct Use {
  int layout = 0;  // index into the layouts given
  int times = 0;
};

struct LayoutChoice {
  Merit merit = {};
  std::vector<Use> uses = {};  // each layout once
};

struct Tradeoff {
  // [n]: the best of n layouts exactly; none where there is none within the ceiling.
  std::vector<std::optional<LayoutChoice>> by_layouts = {};
  bool is_complete = false;  // false: the work ended first, and nothing is said
};

struct Wanted {
  std::vector<int> kinds = {};  // parts, by kind
  std::vector<int> bars = {};   // copies, by bar
  std::int64_t ceiling = 0;     // on cost
  int most_layouts = 0;
};

// Makes every part wanted exactly once out of `layouts`, used as often as is best. NOTES.md has the
// argument why this is exact.
[[nodiscard]] Tradeoff trade_off(const Model& model, const std::vector<Layout>& layouts,
                                 const Wanted& wanted, Work& work);

}  // namespace kw::cutting
