// One entry on its way into the books. Each `book` first asks all that must hold and only then
// changes anything. Private to trade.
#pragma once

#include <initializer_list>
#include <set>
#include <string>
#include <string_view>

#include "kerfwright/trade/books.h"

namespace kw::trade {

struct Booking {
  Books& books;
  Day day = {};
  int entry = 0;
  Diagnostics faults = {};
  std::vector<Line> lines = {};

  [[nodiscard]] bool is_sound() const { return faults.empty(); }
  // Files a fault unless `holds`.
  bool require(bool holds, std::string_view code, std::string message, std::string hint = {});

  // What is named, or null and a fault.
  RackedBoard* board_on_rack(int number);  // on hand or reserved
  RackedBoard* free_board(int number);     // on hand
  Order* order(int number);
  Order* open_order(int number);  // neither cancelled nor delivered
  Batch* batch(int number);
  Batch* open_batch(int number);  // not over

  void book(AccountKind kind, Money amount) { book(kind, 0, amount); }
  void book(AccountKind kind, int of, Money amount);
  // A new board; the number is the next.
  void rack(const BoardFacts& facts, int batch, const RackedBoard* cut_from = nullptr,
            int born_in = 0);
  // Whatever is still reserved for the batch is free again.
  void release_all(int batch);
};

// Limits of what a user may say. Each files its faults.
void check(Booking& booking, std::initializer_list<std::string_view> texts);
void check_money(Booking& booking, Money amount, Money least = {});
void check_count(Booking& booking, std::string_view what, std::int64_t count, std::int64_t most);
void check_figure(Booking& booking, std::string_view what, double figure, double most);
void check_list(Booking& booking, std::string_view what, std::size_t size);
void check_once(Booking& booking, const std::vector<int>& boards);
void check(Booking& booking, const BoardFacts& facts);
void check(Booking& booking, const std::vector<BoardFacts>& boards);
void check(Booking& booking, const OrderFacts& facts);

[[nodiscard]] Money value_of(const std::vector<BoardFacts>& boards);

void book(Booking& booking, const BoardsBought& event);
void book(Booking& booking, const BoardsFound& event);
void book(Booking& booking, const BoardMeasured& event);
void book(Booking& booking, const BoardsReserved& event);
void book(Booking& booking, const BoardsReleased& event);
void book(Booking& booking, const BoardsGone& event);
void book(Booking& booking, const BoardsSawn& event);
void book(Booking& booking, const PriceSeen& event);
void book(Booking& booking, const OrderTaken& event);
void book(Booking& booking, const OrderChanged& event);
void book(Booking& booking, const OrderCancelled& event);
void book(Booking& booking, const Quoted& event);
void book(Booking& booking, const Invoiced& event);
void book(Booking& booking, const Paid& event);
void book(Booking& booking, const Delivered& event);
void book(Booking& booking, const BatchPlanned& event);
void book(Booking& booking, const OrderFromShelf& event);
void book(Booking& booking, const BatchDropped& event);
void book(Booking& booking, const PartsDone& event);
void book(Booking& booking, const TimeLogged& event);
void book(Booking& booking, const MoneySpent& event);
void book(Booking& booking, const SuppliesUsed& event);
void book(Booking& booking, const OwnerPaid& event);
void book(Booking& booking, const Undone& event);

}  // namespace kw::trade
