#include "kerfwright/trade/pricing.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "kerfwright/trade/coins.h"

namespace kw::trade {
namespace {

double fee_share(const Selling& selling) {
  const double on = selling.is_fee_on_tax ? 1 + selling.tax_percent / 100 : 1;
  return selling.fee_percent / 100 * on;
}

Money lumber_in(const Cost& cost) {
  return cost.of(CostKind::boards) + cost.of(CostKind::offcuts);
}
Money hours_in(const Cost& cost) {
  return cost.of(CostKind::labour) + cost.of(CostKind::overhead);
}

}  // namespace

Sale sale_of(Money cost, Money price, const Selling& selling) {
  Sale sale{.price = price, .cost = cost};
  sale.tax = part_of(price, selling.tax_percent / 100);
  const Money on = selling.is_fee_on_tax ? price + sale.tax : price;
  sale.fee = part_of(on, selling.fee_percent / 100) + selling.fee_fixed;
  sale.profit = price - sale.fee - cost;
  if (price.coins != 0)
    sale.margin = static_cast<double>(sale.profit.coins) / static_cast<double>(price.coins);
  return sale;
}

Outcome<Sale> price_for(Money cost, double margin, const Selling& selling) {
  const double kept = 1 - fee_share(selling) - margin;
  const double paid = static_cast<double>((cost + selling.fee_fixed).coins);
  const bool is_asked_well = std::isfinite(kept) && cost >= Money() && cost <= most_money;
  if (!is_asked_well || kept < 0.001 || paid / kept > static_cast<double>(most_money.coins))
    return Diagnostic{.code = "trade.no-such-price",
                      .message = fmt::format("no price leaves {:.4g} % after fees of {:.4g} %",
                                             margin * 100, fee_share(selling) * 100),
                      .hint = "fees and margin together must leave something for the cost"};
  // Rounding the tax and the fee moves the profit by at most a coin.
  Money price{std::max<std::int64_t>(0, static_cast<std::int64_t>(std::floor((paid - 1) / kept)))};
  for (;; ++price.coins) {
    const Sale sale = sale_of(cost, price, selling);
    const double least = margin * static_cast<double>(price.coins);
    if (static_cast<double>(sale.profit.coins) >= least - 1e-9 * std::abs(least)) return sale;
  }
}

std::optional<std::int64_t> break_even(Money once, const Sale& sale) {
  if (once <= Money()) return 0;
  if (sale.profit <= Money()) return std::nullopt;
  return (once.coins + sale.profit.coins - 1) / sale.profit.coins;
}

Sensitivity sensitivity_of(const Cost& cost, double share, double margin, const Selling& selling) {
  Sensitivity result;
  if (cost.pieces <= 0) return result;
  const auto now = price_for(cost.each, margin, selling);
  const auto changed = [&](Money part, Money& more, Money& price) {
    const Money total = cost.total + part_of(part, share);
    const Money each{(total.coins + cost.pieces - 1) / cost.pieces};
    more = each - cost.each;
    const auto then = price_for(each, margin, selling);
    if (now && then) price = then->price - now->price;
  };
  changed(lumber_in(cost), result.cost_for_lumber, result.price_for_lumber);
  changed(hours_in(cost), result.cost_for_hours, result.price_for_hours);
  return result;
}

std::optional<MarketPlace> place_among(Money price, std::vector<Money> market) {
  if (market.empty()) return std::nullopt;
  std::sort(market.begin(), market.end());
  MarketPlace place{
      .least = market.front(), .middle = market[(market.size() - 1) / 2], .most = market.back()};
  for (const Money other : market)
    ++(other < price ? place.cheaper : other > price ? place.dearer : place.same);
  return place;
}

Reading<std::vector<BatchPoint>> unit_costs(const std::vector<int>& counts,
                                            const std::function<Outcome<BatchCost>(int)>& cost) {
  Reading<std::vector<BatchPoint>> points;
  for (const int count : counts) {
    const auto batch = cost(count);
    for (const Diagnostic& d : batch.diagnostics()) points.diagnostics.push_back(d);
    if (!batch) break;
    points.value.push_back({count, batch->cost.total, batch->cost.each, batch->is_proved});
  }
  return points;
}

}  // namespace kw::trade
