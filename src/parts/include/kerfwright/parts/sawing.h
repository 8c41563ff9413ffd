// The sawing plans of a job, stock by stock, and what must be bought and screwed for them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kerfwright/cutting/sequence.h"
#include "kerfwright/cutting/sheets.h"
#include "kerfwright/parts/job.h"

namespace kw {

// Where a stick of a problem comes from.
struct StickSource {
  int rack = -1;  // index into Job::rack; -1: bought, or on hand by the piece file
  bool is_on_hand = false;
};

// The sticks to be sawn of one stock: the problem, and which part each demand is. Parts ripped
// narrower than half the board come `strips_per_board` side by side.
struct StockProblem {
  JobStock stock = {};
  int strips_per_board = 1;
  Length strip_width = {};
  bool is_ripped_after = false;  // parts of several widths: crosscut first
  Problem problem = {};
  std::vector<PartRef> part_of_demand = {};
  std::vector<StickSource> sources = {};  // of each stock of the problem
  bool has_prices = false;  // else a stick's price is its length, so that the least wood is bought
};

struct StockPlan {
  StockProblem problem = {};
  Plan plan = {};
  Sequence sequence = {};
  int at_once = 1;  // boards that the saw's depth takes one on another
};

// Sheets of one stock, or boards that are sawn to several widths, as rectangles.
struct SheetStockPlan {
  JobStock stock = {};
  SheetProblem problem = {};
  SheetPlan plan = {};
  std::vector<PartRef> part_of = {};      // of each part of the problem
  std::vector<StickSource> sources = {};  // of each sheet of the problem
  bool has_prices = false;                // else a sheet's price is its area, in square centimetres
};

struct Sawing {
  std::vector<StockPlan> plans = {};
  std::vector<SheetStockPlan> sheets = {};
  bool is_whole = true;  // every stock has its plan
  // Proved: no other way to share out the rack among the stocks is cheaper.
  bool is_rack_shared_best = false;
};

// The problem of one stock of sheets, or of boards seen as narrow sheets; the grain of a part runs
// along the sheet. The plan is still empty.
[[nodiscard]] SheetStockPlan sheet_problem_for(const Job& job, const JobStock& stock);

// The problem of one stock of boards.
[[nodiscard]] StockProblem problem_for(const Job& job, const JobStock& stock);

// Solves each stock's problem within `effort` (shared out). Where parts fit side by side on a board
// it is planned as rectangles, unless plain strips come cheaper. Faults of `cutting` are passed on
// with the stock's place in the text of its first piece. Boards of the rack that suit several
// stocks go where that saves most, as far as time allows and all stocks have prices or none; else
// to the stocks in their order.
[[nodiscard]] Reading<Sawing> saw(const Job& job, const Effort& effort);

// One line of the buying list. Boards that are ripped into several strips are counted as boards.
struct BuyLine {
  std::string stock = {};    // the pieces' names for it
  std::string sold_as = {};  // "2x4"
  std::string species = {};
  std::string label = {};  // of a board on the rack
  Section section = {};    // as it comes
  Length length = {};
  Length width = {};  // of a sheet; zero for boards
  int count = 0;
  bool is_on_hand = false;
  std::optional<Money> each = {};  // none when it has no price; nothing is paid for what is on hand
  double board_feet = 0;           // of all; 0 when not sold by it
};
[[nodiscard]] std::vector<BuyLine> buying_list_of(const Job& job, const Sawing& sawing);

// What the buying list comes to; none when something on it has no price.
[[nodiscard]] std::optional<Money> to_pay(const std::vector<BuyLine>& lines);

struct Hardware {
  std::string name = {};
  int count = 0;
};
// Fasteners and dowels of all joints, in the order in which they first appear.
[[nodiscard]] std::vector<Hardware> hardware_of(const Job& job);

// Share of the bought volume that ends up in parts, 0..1.
[[nodiscard]] double yield_of(const Job& job, const Sawing& sawing);

// "A", "B", ... "AA": of the stop that is set as the nth (0 first).
[[nodiscard]] std::string stop_name(std::size_t index);

// Sticks with the same parts in the same places, told once.
struct StickGroup {
  std::vector<int> sticks = {};  // indices into Plan::sticks
};
[[nodiscard]] std::vector<StickGroup> groups_of(const std::vector<SawnStick>& sticks);

// Sheets that are sawn alike, told once; indices into SheetPlan::sheets.
[[nodiscard]] std::vector<std::vector<int>> groups_of(const std::vector<SawnSheet>& sheets);

// The cuts of a sheet in an order in which they can be made: indices into SawnSheet::pieces. A
// piece is sawn up before the next one is begun, and what lies below a cut before what lies beyond.
[[nodiscard]] std::vector<int> cuts_of(const SawnSheet& sheet);

}  // namespace kw
