#include "kerfwright/wire/trade_requests.h"

#include <cmath>
#include <fmt/format.h>

#include "kerfwright/trade/yard_files.h"
#include "kerfwright/wire/entry_json.h"

#include "json.h"
#include "read_request.h"

namespace kw {
using namespace wire;

namespace {

constexpr std::int64_t most_coins = 1'000'000'000'000;

// ---- How the shop reckons

Json json_of(const std::string& name, const trade::Package& package) {
  return {{"name", name},
          {"holds", package.holds},
          {"price", package.price.coins},
          {"whole", package.is_charged_whole}};
}

Json json_of(const std::vector<trade::NamedPackage>& packages) {
  Json list = Json::array();
  for (const auto& p : packages) list.push_back(json_of(p.name, p.package));
  return list;
}

Json json_of(const std::vector<trade::Consumable>& consumables) {
  Json list = Json::array();
  for (const auto& c : consumables) {
    Json one = json_of(c.name, c.package);
    one["with"] = name_of(c.with);
    list.push_back(std::move(one));
  }
  return list;
}

// To a millionth: 0.07 is 7 %, not 7.000000000000001 %.
double percent(double share) {
  return std::round(share * 1e8) / 1e6;
}

Money price_of(const Asked& asked) {
  return {asked.whole(0, most_coins)};
}

trade::Package package_of(const Asked& asked) {
  trade::Package package;
  package.holds = asked.at("holds").number(1e-6, 1e6);
  package.price = price_of(asked.at("price"));
  package.is_charged_whole = asked.at("whole").truth();
  return package;
}

std::vector<trade::NamedPackage> packages_of(const Asked& asked, std::size_t most) {
  std::vector<trade::NamedPackage> packages;
  for (const Asked& item : asked.items(0, most)) {
    item.only({"name", "holds", "price", "whole"});
    packages.push_back({item.at("name").text(200, 1), package_of(item)});
  }
  return packages;
}

trade::Activity activity_of(const Asked& asked) {
  const auto activity = trade::activity_named(asked.text(40));
  if (!activity) asked.refuse("names no activity");
  return activity.value_or(trade::Activity::job);
}

std::vector<trade::Consumable> consumables_of(const Asked& asked) {
  std::vector<trade::Consumable> consumables;
  for (const Asked& item : asked.items(0, 100)) {
    item.only({"name", "holds", "price", "whole", "with"});
    consumables.push_back(
        {item.at("name").text(200, 1), activity_of(item.at("with")), package_of(item)});
  }
  return consumables;
}

Length length_of(const Asked& asked) {
  const std::string words = asked.text(40, 1);
  const auto inch = parse_length(words, LengthUnit::inch), mm = parse_length(words, LengthUnit::mm);
  if (inch && mm && *inch == *mm && *inch > Length()) return *inch;
  asked.refuse("is no length with its unit above zero");
  return {};
}

std::vector<trade::ParcelRate> parcels_of(const Asked& asked) {
  std::vector<trade::ParcelRate> parcels;
  for (const Asked& item : asked.items(0, 100)) {
    item.only({"name", "kg", "longest", "price"});
    parcels.push_back({item.at("name").text(200), Mass{item.at("kg").number(0, 100'000)},
                       length_of(item.at("longest")), price_of(item.at("price"))});
  }
  return parcels;
}

std::vector<trade::MarketPrice> market_of(const Asked& asked) {
  std::vector<trade::MarketPrice> market;
  for (const Asked& item : asked.items(0, 500)) {
    item.only({"piece", "price", "note"});
    market.push_back(
        {item.at("piece").text(80), price_of(item.at("price")), item.at("note").text(200)});
  }
  return market;
}

trade::Day day_of(const Asked& asked) {
  const auto day = trade::parse_day(asked.text(10));
  if (!day) asked.refuse("is no day");
  return day ? *day : trade::Day{};
}

trade::WorkWeek week_of(const Asked& asked) {
  trade::WorkWeek week;
  const auto hours = asked.at("hours").items(7, 7);
  for (std::size_t i = 0; i < hours.size(); ++i) week.hours[i] = hours[i].number(0, 24);
  for (const Asked& day : asked.at("days_off").items(0, 400)) week.off.push_back(day_of(day));
  return week;
}

trade::ShopSettings shop_of(const Asked& asked) {
  asked.only({"name",           "address",          "currency",
              "wage",           "overhead_percent", "overhead_hourly",
              "margin_percent", "fee_percent",      "fee_fixed",
              "tax_percent",    "fee_on_tax",       "yard",
              "price_old_days", "offcut_percent",   "hours",
              "days_off",       "hardware",         "glues",
              "finishes",       "consumables",      "parcels",
              "market",         "valid_days"});
  trade::ShopSettings shop;
  shop.name = asked.at("name").text(200);
  shop.address = asked.at("address").text(400);
  shop.currency = asked.at("currency").text(8);
  shop.rates.hardware = packages_of(asked.at("hardware"), 500);
  shop.rates.glues = packages_of(asked.at("glues"), 100);
  shop.rates.finishes = packages_of(asked.at("finishes"), 100);
  shop.rates.consumables = consumables_of(asked.at("consumables"));
  shop.rates.wage = price_of(asked.at("wage"));
  shop.rates.overhead_share = asked.at("overhead_percent").number(0, 1000) / 100;
  shop.rates.overhead_hourly = price_of(asked.at("overhead_hourly"));
  shop.selling.fee_percent = asked.at("fee_percent").number(0, 99);
  shop.selling.fee_fixed = price_of(asked.at("fee_fixed"));
  shop.selling.tax_percent = asked.at("tax_percent").number(0, 100);
  shop.selling.is_fee_on_tax = asked.at("fee_on_tax").truth();
  shop.margin = asked.at("margin_percent").number(0, 99) / 100;
  shop.yard = asked.at("yard").text(200);
  shop.price_old_after = static_cast<int>(asked.at("price_old_days").whole(0, 10'000));
  shop.offcuts.share = asked.at("offcut_percent").number(0, 100) / 100;
  shop.week = week_of(asked);
  shop.parcels = parcels_of(asked.at("parcels"));
  shop.market = market_of(asked.at("market"));
  shop.quote_days = static_cast<int>(asked.at("valid_days").whole(1, 1000));
  return shop;
}

// ---- Requests

int after_of(const Asked& asked) {
  return static_cast<int>(asked.at("after").whole(0, trade::most_entries));
}

SizesSet sizes_of(const Asked& asked) {
  SizesSet sizes;
  for (const Asked& item : asked.items(0, 200)) {
    const auto pair = item.items(2, 2);
    if (pair.size() == 2) sizes.emplace_back(pair[0].text(80, 1), pair[1].text(1000, 1));
  }
  return sizes;
}

std::vector<int> numbers_of(const Asked& asked, std::size_t least, std::size_t most, int greatest) {
  std::vector<int> numbers;
  for (const Asked& item : asked.items(least, most))
    numbers.push_back(static_cast<int>(item.whole(1, greatest)));
  return numbers;
}

TradeAsk ask_of(const Asked& asked) {
  asked.only({"kind"}, {"name", "orders", "piece", "sizes", "counts", "seconds"});
  TradeAsk ask{.is_batch = asked.at("kind").one_of({"batch", "cost"}) == "batch"};
  if (ask.is_batch) {
    ask.orders = numbers_of(asked.at("orders"), 1, 500, trade::most_entries);
    if (asked.has("name")) ask.name = asked.at("name").text(200);
  } else {
    ask.piece = asked.at("piece").text(80, 1);
    if (!is_piece_name(ask.piece)) asked.at("piece").refuse("is no name of a piece");
    if (asked.has("sizes")) ask.sizes = sizes_of(asked.at("sizes"));
    if (asked.has("counts")) ask.counts = numbers_of(asked.at("counts"), 1, 12, 1000);
  }
  if (asked.has("seconds")) ask.seconds = asked.at("seconds").number(0.05, 600);
  return ask;
}

}  // namespace

std::string shop_json(const trade::ShopSettings& shop) {
  Json parcels = Json::array(), market = Json::array(), off = Json::array();
  for (const auto& p : shop.parcels)
    parcels.push_back({{"name", p.name},
                       {"kg", p.heaviest.value},
                       {"longest", exact_text(p.longest, LengthUnit::mm)},
                       {"price", p.price.coins}});
  for (const auto& m : shop.market)
    market.push_back({{"piece", m.piece}, {"price", m.price.coins}, {"note", m.note}});
  for (const trade::Day day : shop.week.off) off.push_back(trade::format_day(day));
  const Json json = {{"name", shop.name},
                     {"address", shop.address},
                     {"currency", shop.currency},
                     {"wage", shop.rates.wage.coins},
                     {"overhead_percent", percent(shop.rates.overhead_share)},
                     {"overhead_hourly", shop.rates.overhead_hourly.coins},
                     {"margin_percent", percent(shop.margin)},
                     {"fee_percent", shop.selling.fee_percent},
                     {"fee_fixed", shop.selling.fee_fixed.coins},
                     {"tax_percent", shop.selling.tax_percent},
                     {"fee_on_tax", shop.selling.is_fee_on_tax},
                     {"yard", shop.yard},
                     {"price_old_days", shop.price_old_after},
                     {"offcut_percent", percent(shop.offcuts.share)},
                     {"hours", shop.week.hours},
                     {"days_off", off},
                     {"hardware", json_of(shop.rates.hardware)},
                     {"glues", json_of(shop.rates.glues)},
                     {"finishes", json_of(shop.rates.finishes)},
                     {"consumables", json_of(shop.rates.consumables)},
                     {"parcels", parcels},
                     {"market", market},
                     {"valid_days", shop.quote_days}};
  return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

Outcome<trade::ShopSettings> read_shop(std::string_view json) {
  return read_request(json, shop_of);
}

Outcome<EnterRequest> read_enter(std::string_view text) {
  Refusals refusals;
  const auto json = parse(text, refusals);
  if (!json) return std::move(refusals.faults);
  const Asked asked(*json, "", refusals);
  asked.only({"after", "entries"});
  EnterRequest request{.after = after_of(asked)};
  const std::size_t count = asked.at("entries").items(1, 1000).size();
  for (std::size_t i = 0; i < count && !refusals.any(); ++i) {
    RequestJson one = (*json)["entries"][i];
    if (one.is_object()) one.emplace("form", entry_form);
    auto entry = read_entry(one.dump());
    if (!entry) {
      Diagnostics faults = entry.diagnostics();
      for (Diagnostic& d : faults)
        d.message = fmt::format("entry {} of the request: {}", i + 1, d.message);
      return faults;
    }
    request.entries.push_back(*std::move(entry));
  }
  if (refusals.any()) return std::move(refusals.faults);
  return request;
}

Outcome<int> read_after(std::string_view json) {
  return read_request(json, [](const Asked& asked) {
    asked.only({"after"});
    return after_of(asked);
  });
}

Outcome<ImportRequest> read_import(std::string_view json) {
  return read_request(json, [](const Asked& asked) {
    asked.only({"after", "what", "csv"}, {"yard"});
    const std::string what = asked.at("what").one_of({"boards-found", "boards-bought", "prices"});
    return ImportRequest{.after = after_of(asked),
                         .what = what == "prices"         ? ImportOf::prices
                                 : what == "boards-found" ? ImportOf::boards_found
                                                          : ImportOf::boards_bought,
                         .csv = asked.at("csv").text(1'000'000),
                         .yard = asked.has("yard") ? asked.at("yard").text(200) : ""};
  });
}

Outcome<TradeAsk> read_trade_ask(std::string_view json) {
  return read_request(json, ask_of);
}

}  // namespace kw
