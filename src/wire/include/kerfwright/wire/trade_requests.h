// What the page asks of the shop's trade, and how the shop reckons, as JSON
// (web/contract/openapi.yaml). Each reader refuses what is not said there: wire.bad-request, its
// message with the JSON pointer to what is wrong.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "kerfwright/trade/shop.h"

namespace kw {

[[nodiscard]] std::string shop_json(const trade::ShopSettings& shop);
[[nodiscard]] Outcome<trade::ShopSettings> read_shop(std::string_view json);

struct EnterRequest {
  int after = 0;  // the newest entry that is known
  std::vector<trade::Entry> entries = {};
};
// Also errors: those of read_entry, told with the entry's place in the list.
[[nodiscard]] Outcome<EnterRequest> read_enter(std::string_view json);
[[nodiscard]] Outcome<int> read_after(std::string_view json);

enum class ImportOf : std::uint8_t { boards_found, boards_bought, prices };
struct ImportRequest {
  int after = 0;
  ImportOf what = ImportOf::boards_found;
  std::string csv = {}, yard = {};
};
[[nodiscard]] Outcome<ImportRequest> read_import(std::string_view json);

using SizesSet = std::vector<std::pair<std::string, std::string>>;  // name, formula

// Plan a batch of orders, or reckon what a piece costs made so many at a time.
struct TradeAsk {
  bool is_batch = false;
  std::string name = {};
  std::vector<int> orders = {};
  std::string piece = {};
  SizesSet sizes = {};
  std::vector<int> counts = {1};
  double seconds = 5;
};
[[nodiscard]] Outcome<TradeAsk> read_trade_ask(std::string_view json);

}  // namespace kw
