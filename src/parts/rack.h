// Who gets which boards of the rack, where several stocks could use them: branch and bound.
//
// At first every stock is offered every board that suits it. No sharing out costs less than what
// the stocks cost then at least, each by itself. Where a board is used more often than it is there,
// one of those that use it has to use it less often: a branch for each. That leaves nothing out.
#pragma once

#include <cstdint>
#include <functional>
#include <vector>

namespace kw {

// How often a stock may use each board of the rack.
using Allowance = std::vector<int>;

// What a stock comes to under an allowance.
struct RackAnswer {
  bool is_found = false;
  std::int64_t cost = 0;
  std::int64_t at_least = 0;   // what it costs whichever way it is sawn
  std::vector<int> used = {};  // of each board
};

struct Sharing {
  std::vector<Allowance> of_stock = {};
  bool is_proved = false;  // no other sharing out costs less
};

// `suits`: by stock, by board. `answer` is asked twice for the same more often than not, so should
// remember; `goes_on` false ends the search with the best found. The sharing is never dearer than
// that which serves the stocks in their order.
[[nodiscard]] Sharing share_rack(
    const std::vector<int>& counts, const std::vector<std::vector<bool>>& suits,
    const std::function<RackAnswer(std::size_t stock, const Allowance&)>& answer,
    const std::function<bool()>& goes_on);

}  // namespace kw
