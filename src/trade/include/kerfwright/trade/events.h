// What happens in the trade, as plain values: the books are nothing but a list of these.
//
// Boards, orders and batches are named by whole numbers. A board's is the next in order (books.h),
// also for boards of entries that were undone, so that a label never names two boards; an order's
// or a batch's is the number of the entry that began it.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "kerfwright/measure/length.h"
#include "kerfwright/measure/money.h"
#include "kerfwright/trade/day.h"
#include "kerfwright/trade/work.h"

namespace kw::trade {

// ---- Boards

// A board as tape, caliper and meter have it.
struct BoardFacts {
  std::string stock = {};  // as sold: "2x4"; "": by its sizes
  std::string species = {};
  Length thickness = {}, width = {}, length = {};      // thickness, width zero: as the stock
  std::vector<std::pair<Length, Length>> faults = {};  // from, to: no part may lie there
  std::optional<double> moisture = {};                 // % of ovendry mass
  Money value = {};                                    // at which the books have it
  std::string note = {};
  friend bool operator==(const BoardFacts&, const BoardFacts&) = default;
};

// Bought for the sum of the boards' values, and tax that comes back.
struct BoardsBought {
  std::string yard = {};
  std::vector<BoardFacts> boards = {};
  Money tax_back = {};
  int batch = 0;  // reserved at once for it; 0: for the rack
  friend bool operator==(const BoardsBought&, const BoardsBought&) = default;
};
// Was there when the books began, or came as a gift: the owner's.
struct BoardsFound {
  std::vector<BoardFacts> boards = {};
  friend bool operator==(const BoardsFound&, const BoardsFound&) = default;
};
struct BoardMeasured {
  int board = 0;
  BoardFacts facts = {};
  friend bool operator==(const BoardMeasured&, const BoardMeasured&) = default;
};
struct BoardsReserved {
  int batch = 0;
  std::vector<int> boards = {};
  friend bool operator==(const BoardsReserved&, const BoardsReserved&) = default;
};
struct BoardsReleased {
  std::vector<int> boards = {};
  friend bool operator==(const BoardsReleased&, const BoardsReleased&) = default;
};
// Lost, rotten, burnt, given away.
struct BoardsGone {
  std::vector<int> boards = {};
  std::string why = {};
  friend bool operator==(const BoardsGone&, const BoardsGone&) = default;
};

// A board sawn up. Ripped into `strips`, each as long as the board:
//   strips x length = in_parts + in_waste + the offcuts' (strips x length), to the tick.
// No strips: a sheet, whose lengths tell nothing.
struct Offcut {
  BoardFacts facts = {};
  int strips = 1;  // of the board that it came from, side by side
  friend bool operator==(const Offcut&, const Offcut&) = default;
};
struct SawnBoard {
  int board = 0;
  int strips = 1;
  Length in_parts = {};
  Length in_waste = {};  // trim, kerfs, and what is too short to keep
  std::vector<Offcut> offcuts = {};
  friend bool operator==(const SawnBoard&, const SawnBoard&) = default;
};
// Boards that were reserved for a batch become its parts, and offcuts on the rack.
struct BoardsSawn {
  int batch = 0;
  std::vector<SawnBoard> boards = {};
  friend bool operator==(const BoardsSawn&, const BoardsSawn&) = default;
};

// ---- Prices

enum class PricePer : std::uint8_t { piece, foot, metre, board_foot };
// As files have it, in the order of the enumeration.
inline constexpr std::array<std::string_view, 4> price_per_words = {"piece", "foot", "metre",
                                                                    "board-foot"};
struct PriceSeen {
  std::string yard = {};
  std::string stock = {};
  std::string species = {};           // "": any
  std::optional<Length> length = {};  // none: of any length, where it is not by the piece
  Length width = {};                  // of a sheet; zero: as the stock's
  PricePer per = PricePer::piece;
  Money price = {};
  double tax_percent = 0;  // that comes on top
  friend bool operator==(const PriceSeen&, const PriceSeen&) = default;
};

// ---- Orders

struct OrderFacts {
  std::string buyer = {};
  std::string piece = {};                                       // its file's name
  std::vector<std::pair<std::string, std::string>> sizes = {};  // name, formula: set for this order
  int count = 1;
  std::optional<Day> due = {};
  Money each = {};  // agreed, without tax
  std::string note = {};
  friend bool operator==(const OrderFacts&, const OrderFacts&) = default;
};
struct OrderTaken {
  OrderFacts facts = {};
  friend bool operator==(const OrderTaken&, const OrderTaken&) = default;
};
struct OrderChanged {
  int order = 0;
  OrderFacts facts = {};
  friend bool operator==(const OrderChanged&, const OrderChanged&) = default;
};
struct OrderCancelled {
  int order = 0;
  std::string why = {};
  friend bool operator==(const OrderCancelled&, const OrderCancelled&) = default;
};
struct Quoted {
  int order = 0;
  Money net = {}, tax = {};
  Day valid_until = {};
  friend bool operator==(const Quoted&, const Quoted&) = default;
};
struct Invoiced {
  int order = 0;
  Money net = {}, tax = {};
  friend bool operator==(const Invoiced&, const Invoiced&) = default;
};
// By the buyer; less than zero: paid back. `fee` is what a market or a card took of it.
struct Paid {
  int order = 0;
  Money amount = {}, fee = {};
  friend bool operator==(const Paid&, const Paid&) = default;
};
struct Delivered {
  int order = 0;
  friend bool operator==(const Delivered&, const Delivered&) = default;
};

// ---- Batches: what is made in one go

// Pieces of a batch for one order. `weight`: of one of them when the cost is shared out; its
// estimated cost, say.
struct Lot {
  int order = 0;  // 0: for the shelf
  int count = 1;
  int weight = 1;
  friend bool operator==(const Lot&, const Lot&) = default;
};
struct PartToMake {
  std::string part = {};  // "2B"
  int count = 1;
  friend bool operator==(const PartToMake&, const PartToMake&) = default;
};
struct BoardsToBuy {
  std::string yard = {}, stock = {}, species = {};
  Length length = {}, width = {};
  int count = 1;
  Money each = {};
  friend bool operator==(const BoardsToBuy&, const BoardsToBuy&) = default;
};
struct BatchPlanned {
  std::string name = {};
  std::vector<Lot> lots = {};
  std::vector<int> boards = {};  // reserved for it
  std::vector<BoardsToBuy> to_buy = {};
  std::vector<PartToMake> parts = {};
  friend bool operator==(const BatchPlanned&, const BatchPlanned&) = default;
};
// Pieces made for the shelf go to an order.
struct OrderFromShelf {
  int order = 0, batch = 0;
  friend bool operator==(const OrderFromShelf&, const OrderFromShelf&) = default;
};
// Given up: boards are free again, orders too; what was spent is lost.
struct BatchDropped {
  int batch = 0;
  friend bool operator==(const BatchDropped&, const BatchDropped&) = default;
};
struct PartsDone {
  int batch = 0;
  std::string part = {};
  int count = 0;  // more than before; less than zero: taken back
  friend bool operator==(const PartsDone&, const PartsDone&) = default;
};
struct TimeLogged {
  int batch = 0;
  Work work = {};
  double minutes = 0;
  std::string note = {};
  friend bool operator==(const TimeLogged&, const TimeLogged&) = default;
};

// ---- Money

enum class SpentOn : std::uint8_t {
  supplies,  // screws, glue, finish: kept until they are used
  batch,     // hired work, shipping: of one batch
  running,   // rent, blades, what no batch pays by itself
  fees,
  tax,  // handed on to whom it is owed
};
struct MoneySpent {
  SpentOn on = SpentOn::running;
  std::string what = {};
  int batch = 0;  // with SpentOn::batch
  Money paid = {};
  Money tax_back = {};  // part of `paid` that comes back
  friend bool operator==(const MoneySpent&, const MoneySpent&) = default;
};
struct SuppliesUsed {
  int batch = 0;
  std::string what = {};
  Money value = {};
  friend bool operator==(const SuppliesUsed&, const SuppliesUsed&) = default;
};
// Into the business; less than zero: out of it.
struct OwnerPaid {
  Money amount = {};
  std::string note = {};
  friend bool operator==(const OwnerPaid&, const OwnerPaid&) = default;
};

// ---- Undoing

// As if that entry had never been. Undoing an undoing brings it back.
struct Undone {
  int entry = 0;
  friend bool operator==(const Undone&, const Undone&) = default;
};

using Event =
    std::variant<BoardsBought, BoardsFound, BoardMeasured, BoardsReserved, BoardsReleased,
                 BoardsGone, BoardsSawn, PriceSeen, OrderTaken, OrderChanged, OrderCancelled,
                 Quoted, Invoiced, Paid, Delivered, BatchPlanned, OrderFromShelf, BatchDropped,
                 PartsDone, TimeLogged, MoneySpent, SuppliesUsed, OwnerPaid, Undone>;

struct Entry {
  Day day = {};
  Event event = {};
  friend bool operator==(const Entry&, const Entry&) = default;
};

// "boards-bought", as files have it.
[[nodiscard]] std::string_view name_of(const Event& event);

}  // namespace kw::trade
