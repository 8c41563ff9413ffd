// The sawing plans of a piece, stock by stock, and what must be bought and screwed for them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kerfwright/parts/setups.h"

namespace kw {

struct StockPlan {
  StockProblem problem = {};
  Plan plan = {};
};

// Sheets are not planned yet: how much of them the parts take, and the fewest sheets by area alone.
struct SheetNeed {
  int stock = 0;
  Area parts = {};
  int at_least = 0;
};

struct Sawing {
  std::vector<StockPlan> plans = {};
  std::vector<SheetNeed> sheets = {};
};

// Solves each stock's problem within `effort` (shared out). Faults of `cutting` are passed on with
// the stock's place in the text.
[[nodiscard]] Reading<Sawing> saw(const Resolved& piece, const CutList& cut_list,
                                  const Effort& effort);

// One line of the buying list. Boards that are ripped into several strips are counted as boards.
struct BuyLine {
  int stock = 0;
  Length length = {};
  int count = 0;
  bool is_on_hand = false;
  std::optional<Money> each = {};
  double board_feet = 0;  // of all; 0 when not sold by it
};
[[nodiscard]] std::vector<BuyLine> buying_list_of(const Resolved& piece, const Sawing& sawing);

struct Hardware {
  std::string name = {};
  int count = 0;
};
// Fasteners and dowels of all joints, in the order in which they first appear.
[[nodiscard]] std::vector<Hardware> hardware_of(const Resolved& piece);

// Share of the bought volume that ends up in parts, 0..1.
[[nodiscard]] double yield_of(const Resolved& piece, const CutList& cut_list, const Sawing& sawing);

}  // namespace kw
