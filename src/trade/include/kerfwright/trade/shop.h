// How a shop reckons: what its hands, supplies and sales cost it. All of it is typed by its user;
// nothing here is guessed.
#pragma once

#include <string>
#include <vector>

#include "kerfwright/trade/batch.h"
#include "kerfwright/trade/pricing.h"

namespace kw::trade {

// What others ask for something like a piece.
struct MarketPrice {
  std::string piece = {};  // its file's name
  Money price = {};
  std::string note = {};
};

struct ShopSettings {
  std::string name = {}, address = {};  // at the head of its papers
  std::string currency = "USD";
  Rates rates = {};
  Selling selling = {};
  double margin = 0.3;    // of the price
  std::string yard = {};  // where is bought; "": the cheapest of all
  int price_old_after = 90;
  OffcutRule offcuts = {};
  WorkWeek week = {{8, 8, 8, 8, 8, 0, 0}, {}};
  std::vector<ParcelRate> parcels = {};
  std::vector<MarketPrice> market = {};
  int quote_days = 30;
};

}  // namespace kw::trade
