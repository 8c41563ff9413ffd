// The papers of the trade: quotes and invoices for buyers, labels for boards.
#pragma once

#include "kerfwright/planbook/book.h"
#include "kerfwright/trade/books.h"
#include "kerfwright/trade/shop.h"

namespace kw {

// Sum without tax, and the tax on it.
struct Sum {
  Money net = {}, tax = {};
  [[nodiscard]] Money all() const { return net + tax; }
};
// Of an order at its agreed price and the shop's tax, rounded to the coin.
[[nodiscard]] Sum sum_of(const trade::OrderFacts& order, const trade::ShopSettings& shop);

struct PaperOptions {
  Paper paper = Paper::letter;
  trade::Day today = {};
  std::string title = {};  // of the piece; "": its file's name
};
// As it was quoted, or as it would be today. Sizes that the order sets are told.
[[nodiscard]] Book quote_of(const trade::Order& order, const trade::ShopSettings& shop,
                            const PaperOptions& options);
// As it was invoiced, or as it would be today; what was paid is taken off.
[[nodiscard]] Book invoice_of(const trade::Order& order, const trade::ShopSettings& shop,
                              const PaperOptions& options);

// A label for each board, to be cut apart: its code, what it is, its measured size, its faults.
[[nodiscard]] Book labels_of(const std::vector<trade::RackedBoard>& boards, LengthUnit unit,
                             Paper paper);

}  // namespace kw
