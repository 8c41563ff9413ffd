// From cost to price and back. Money in whole coins: each rounding is one that a till makes, to the
// nearest coin, halves up.
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "kerfwright/trade/cost.h"

namespace kw::trade {

// What comes off each sale, and what the buyer pays on top.
struct Selling {
  double fee_percent = 0;  // of the price
  Money fee_fixed = {};
  double tax_percent = 0;
  bool is_fee_on_tax = false;  // the fee is reckoned on price and tax together
};

// One sale at a price without tax.
struct Sale {
  Money price = {}, tax = {}, fee = {}, cost = {};
  Money profit = {};  // price - fee - cost
  double margin = 0;  // profit / price
};
[[nodiscard]] Sale sale_of(Money cost, Money price, const Selling& selling);

// The least price in whole coins at which profit >= margin x price: by scanning up from
//   (cost + fixed fee - 1 coin) / (1 - fee share - margin),
// below which no rounding can reach it. Error: trade.no-such-price (fee and margin leave less than
// a thousandth of the price, or the price would be beyond most_money).
[[nodiscard]] Outcome<Sale> price_for(Money cost, double margin, const Selling& selling);

// How many must be sold until `once` (templates, a jig, photographs) is earned; none when a sale
// earns nothing.
[[nodiscard]] std::optional<std::int64_t> break_even(Money once, const Sale& sale);

// By how much the cost changes, and the price at the same margin, when lumber or hours do.
struct Sensitivity {
  Money cost_for_lumber = {}, price_for_lumber = {};
  Money cost_for_hours = {}, price_for_hours = {};
};
// By `share`, 0.1 for a tenth more; of one piece. `margin` must have a price.
[[nodiscard]] Sensitivity sensitivity_of(const Cost& cost, double share, double margin,
                                         const Selling& selling);

// Among prices that others ask.
struct MarketPlace {
  int cheaper = 0, same = 0, dearer = 0;
  Money least = {}, middle = {}, most = {};  // the median: the lower of two
};
[[nodiscard]] std::optional<MarketPlace> place_among(Money price, std::vector<Money> market);

// Cost of one against the number made in one go.
struct BatchPoint {
  int count = 0;
  Money total = {}, each = {};
  bool is_proved = false;  // no cheaper way to buy the boards
};
// `cost` plans and prices a batch of so many: set-ups shared, boxes rounded, boards shared out.
// Stops at the first that cannot be had, with its diagnostics.
struct BatchCost {
  Cost cost = {};
  bool is_proved = false;
};
[[nodiscard]] Reading<std::vector<BatchPoint>> unit_costs(
    const std::vector<int>& counts, const std::function<Outcome<BatchCost>(int)>& cost);

}  // namespace kw::trade
