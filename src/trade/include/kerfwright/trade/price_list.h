// What boards cost, from the prices that were seen, and what is on the rack: what a job needs to
// know of the books before it is sawn. A price that was never seen is never guessed.
#pragma once

#include <string>
#include <vector>

#include "kerfwright/lumber/catalogue.h"
#include "kerfwright/parts/job.h"
#include "kerfwright/trade/books.h"
#include "kerfwright/trade/coins.h"

namespace kw::trade {

struct PriceQuery {
  Day as_of = {};         // later prices do not count
  std::string yard = {};  // "": the cheapest of all yards
  int old_after = 0;      // days after which a price is warned of; 0: never
  bool with_tax = true;   // false where the tax on what is bought comes back
};

struct BoardAsked {
  std::string stock = {}, species = {};
  Length length = {};
  Length width = {};  // of a sheet; zero: as the stock's
};

// What one costs, and where that comes from.
struct BoardPrice {
  Money price = {};  // with tax, or without it, as was asked
  SeenPrice from = {};
};

// By the newest price of each yard that says something of such a board; of those seen on one day
// the one that says more (its species, its length), then the later entry. Per foot or metre: price
// x length; per board foot: price x board_feet (catalogue.h); tax: net x percent; each rounded to
// the coin, halves up. Error: trade.no-price. Warning: trade.old-price.
[[nodiscard]] Outcome<BoardPrice> price_of(const Books& books, const BoardAsked& board,
                                           const PriceQuery& query, const Catalogue& catalogue);

// Prices of every stock of the job, at all lengths that the yards sell: those that a price names,
// and, where a price is by length or board foot, those commonly sold. A stock that no price tells
// of is named (trade.no-price, a warning): it is planned at the prices in its piece's file, if any.
[[nodiscard]] Reading<std::vector<YardPrice>> yard_prices_for(const Job& job, const Books& books,
                                                              const PriceQuery& query,
                                                              const Catalogue& catalogue);

// The boards that are free, and those reserved for `batch`; labels are their codes.
[[nodiscard]] std::vector<RackBoard> rack_of(const Books& books, int batch = 0);

}  // namespace kw::trade
