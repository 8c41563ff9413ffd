#include "kerfwright/trade/price_list.h"

#include <algorithm>
#include <fmt/format.h>
#include <set>

#include "kerfwright/measure/text.h"
#include "kerfwright/trade/board_code.h"

namespace kw::trade {
namespace {

bool is_same_stock(const std::string& a, const std::string& b, const Catalogue& catalogue) {
  if (a == b) return true;
  const NominalSize* size = find_size(catalogue, a);
  return size != nullptr && size == find_size(catalogue, b);
}

bool is_same_species(const std::string& a, const std::string& b, const Catalogue& catalogue) {
  if (a == b) return true;
  const Species* species = find_species(catalogue, a);
  return species != nullptr && species == find_species(catalogue, b);
}

bool is_of(const PriceSeen& seen, const std::string& stock, const std::string& species,
           const Catalogue& catalogue) {
  return is_same_stock(seen.stock, stock, catalogue) &&
         (seen.species.empty() || is_same_species(seen.species, species, catalogue));
}

// Whether a price says what such a board costs.
bool tells(const PriceSeen& seen, const BoardAsked& board, const Catalogue& catalogue) {
  if (!is_of(seen, board.stock, board.species, catalogue)) return false;
  if (seen.length && *seen.length != board.length) return false;
  if (seen.width != Length() && board.width != Length() && seen.width != board.width) return false;
  if (seen.per != PricePer::board_foot) return true;
  const NominalSize* size = find_size(catalogue, board.stock);
  return size != nullptr && board_feet(*size, board.length) > 0;
}

double units_in(const PriceSeen& seen, const BoardAsked& board, const Catalogue& catalogue) {
  switch (seen.per) {
    case PricePer::piece:
      return 1;
    case PricePer::foot:
      return board.length.in_inches() / 12;
    case PricePer::metre:
      return board.length.in_mm() / 1000;
    case PricePer::board_foot:
      return board_feet(*find_size(catalogue, board.stock), board.length);
  }
  return 1;
}

// Newer, or as new and saying more, or as much and written later.
bool is_better(const SeenPrice& a, const SeenPrice& b) {
  const auto rank = [](const SeenPrice& p) {
    return std::tuple(p.day, !p.seen.species.empty() + p.seen.length.has_value());
  };
  return rank(a) >= rank(b);
}

std::string words_for(const BoardAsked& board, LengthUnit unit) {
  return fmt::format("{}{}{}, {}", board.stock, board.species.empty() ? "" : ", ", board.species,
                     format_length(board.length, {.unit = unit}));
}

Diagnostic no_price(const std::string& what, const PriceQuery& query) {
  return {.code = "trade.no-price",
          .message =
              fmt::format("no price of {} is known{} by {}", what,
                          query.yard.empty() ? "" : " at " + query.yard, format_day(query.as_of)),
          .hint = "enter what the yard asks for it"};
}

bool is_in_time(const SeenPrice& price, const PriceQuery& query) {
  return price.day <= query.as_of && (query.yard.empty() || price.seen.yard == query.yard);
}

// All lengths at which the stock may have a price.
std::set<Length> lengths_of(const JobStock& stock, const Books& books, const PriceQuery& query,
                            const Catalogue& catalogue) {
  std::set<Length> lengths;
  bool is_any_length = false;
  for (const SeenPrice& price : books.prices) {
    if (!is_in_time(price, query) ||
        !is_of(price.seen, stock.stock.sold_as, stock.stock.species, catalogue))
      continue;
    if (price.seen.length) lengths.insert(*price.seen.length);
    is_any_length = is_any_length || !price.seen.length;
  }
  if (!is_any_length) return lengths;
  if (stock.stock.nominal)
    lengths.insert(stock.stock.nominal->lengths.begin(), stock.stock.nominal->lengths.end());
  if (stock.stock.is_sheet) lengths.insert(stock.stock.sheet_length);
  for (const Offer& offer : stock.stock.buy) lengths.insert(offer.length);
  return lengths;
}

}  // namespace

Outcome<BoardPrice> price_of(const Books& books, const BoardAsked& board, const PriceQuery& query,
                             const Catalogue& catalogue) {
  std::map<std::string, const SeenPrice*> newest;  // by yard
  for (const SeenPrice& price : books.prices) {
    if (!is_in_time(price, query) || !tells(price.seen, board, catalogue)) continue;
    const SeenPrice*& best = newest[price.seen.yard];
    if (best == nullptr || is_better(price, *best)) best = &price;
  }
  std::optional<BoardPrice> cheapest;
  for (const auto& [yard, price] : newest) {
    const Money net = part_of(price->seen.price, units_in(price->seen, board, catalogue));
    const Money tax = query.with_tax ? part_of(net, price->seen.tax_percent / 100) : Money();
    if (!cheapest || net + tax < cheapest->price) cheapest = {net + tax, *price};
  }
  const std::string what = words_for(board, LengthUnit::inch);
  if (!cheapest) return no_price(what, query);
  Diagnostics warnings;
  const int age = query.as_of - cheapest->from.day;
  if (query.old_after > 0 && age > query.old_after) {
    warnings.push_back({.code = "trade.old-price",
                        .severity = Severity::warning,
                        .message = fmt::format("the price of {} is {} days old", what, age),
                        .hint = "ask the yard again"});
  }
  return {*cheapest, std::move(warnings)};
}

Reading<std::vector<YardPrice>> yard_prices_for(const Job& job, const Books& books,
                                                const PriceQuery& query,
                                                const Catalogue& catalogue) {
  Reading<std::vector<YardPrice>> prices;
  for (const JobStock& stock : stocks_of(job).value) {
    bool is_priced = false;
    for (const Length length : lengths_of(stock, books, query, catalogue)) {
      const BoardAsked board{stock.stock.sold_as, stock.stock.species, length};
      const auto price = price_of(books, board, query, catalogue);
      if (!price) continue;
      is_priced = true;
      prices.value.push_back({.stock = board.stock,
                              .species = board.species,
                              .length = length,
                              .width = price->from.seen.width,
                              .price = price->price});
      for (const Diagnostic& warning : price.diagnostics()) prices.diagnostics.push_back(warning);
    }
    if (is_priced) continue;
    Diagnostic missing =
        no_price(fmt::format("{}{}{}", stock.stock.sold_as, stock.stock.species.empty() ? "" : ", ",
                             stock.stock.species),
                 query);
    missing.severity = Severity::warning;
    prices.diagnostics.push_back(std::move(missing));
  }
  return prices;
}

std::vector<RackBoard> rack_of(const Books& books, int batch) {
  std::vector<RackBoard> rack;
  for (const auto& [number, board] : books.boards) {
    const bool is_ours = batch != 0 && board.state == BoardState::reserved && board.batch == batch;
    if (board.state != BoardState::on_hand && !is_ours) continue;
    rack.push_back({.label = code_of(number),
                    .stock = board.facts.stock,
                    .species = board.facts.species,
                    .thickness = board.facts.thickness,
                    .width = board.facts.width,
                    .length = board.facts.length,
                    .value = board.facts.value,
                    .faults = board.facts.faults});
  }
  return rack;
}

}  // namespace kw::trade
