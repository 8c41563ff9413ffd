// Orders to a job, and what each costs.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <set>

#include "kerfwright/trade/batch.h"

namespace kw::trade {
namespace {

std::optional<Diagnostic> why_not(const Books& books, int number, std::set<int>& seen) {
  const auto found = books.orders.find(number);
  if (found == books.orders.end())
    return Diagnostic{.code = "trade.no-such-order",
                      .message = fmt::format("there is no order {}", number)};
  const Order& order = found->second;
  if (!seen.insert(number).second)
    return Diagnostic{.code = "trade.twice",
                      .message = fmt::format("order {} is named twice", number)};
  if (order.is_cancelled || order.delivered)
    return Diagnostic{.code = "trade.order-closed",
                      .message = fmt::format("order {} is {} already", number,
                                             order.is_cancelled ? "cancelled" : "delivered")};
  if (order.batch != 0)
    return Diagnostic{
        .code = "trade.order-in-batch",
        .message = fmt::format("order {} is made in batch {} already", number, order.batch)};
  return std::nullopt;
}

double volume_of(const JobPiece& piece) {
  double volume = 0;
  for (const Part& part : piece.cut_list->parts)
    volume += part.volume.value * static_cast<double>(part.members.size());
  return volume * piece.count;
}

// As whole weights, so that shares_of can be exact.
std::int64_t weight_of(double amount) {
  return std::llround(std::clamp(amount, 0.0, 1e12) * 1000);
}

}  // namespace

Reading<std::vector<Variant>> variants_of(const Books& books, const std::vector<int>& orders) {
  Reading<std::vector<Variant>> variants;
  std::set<int> seen;
  for (const int number : orders) {
    if (auto why = why_not(books, number, seen)) {
      variants.diagnostics.push_back(*std::move(why));
      continue;
    }
    const OrderFacts& facts = books.orders.at(number).facts;
    const auto same = std::find_if(
        variants.value.begin(), variants.value.end(),
        [&](const Variant& v) { return v.piece == facts.piece && v.sizes == facts.sizes; });
    Variant& variant = same == variants.value.end()
                           ? variants.value.emplace_back(Variant{facts.piece, facts.sizes})
                           : *same;
    variant.count += facts.count;
    variant.orders.push_back(number);
  }
  return variants;
}

std::vector<double> own_minutes(const Job& job, const LabourModel& model,
                                const std::vector<PieceShop>& shop) {
  std::vector<double> minutes;
  for (std::size_t p = 0; p < job.pieces.size(); ++p) {
    Job alone = job;
    alone.pieces = {job.pieces[p]};
    const Work own = work_of(alone, {}, {p < shop.size() ? shop[p] : PieceShop{}});
    minutes.push_back(estimate_of(model, own).value.minutes);
  }
  return minutes;
}

std::vector<Money> cost_by_piece(const CostAsked& asked, const Cost& cost, const LabourModel& model,
                                 const std::vector<PieceShop>& shop) {
  std::vector<std::int64_t> wood, work;
  for (const JobPiece& piece : asked.job->pieces)
    wood.push_back(weight_of(volume_of(piece) / 1000));
  for (const double minutes : own_minutes(*asked.job, model, shop))
    work.push_back(weight_of(minutes) + 1);
  const Money of_wood = cost.of(CostKind::boards) + cost.of(CostKind::offcuts);
  const auto wood_shares = shares_of(of_wood, wood);
  const auto work_shares = shares_of(cost.total - of_wood, work);
  std::vector<Money> each;
  for (std::size_t p = 0; p < asked.job->pieces.size(); ++p) {
    const Money sum = (wood_shares.empty() ? Money() : wood_shares[p]) +
                      (work_shares.empty() ? Money() : work_shares[p]);
    const int count = std::max(asked.job->pieces[p].count, 1);
    each.push_back({(sum.coins + count - 1) / count});
  }
  return each;
}

double share_done(const Batch& batch) {
  double wanted = 0, done = 0;
  for (const auto& [part, progress] : batch.parts) {
    wanted += progress.wanted;
    done += progress.done;
  }
  return wanted > 0 ? done / wanted : 1;
}

std::vector<Lot> lots_of(const Books& books, const std::vector<Variant>& variants,
                         const std::vector<Money>& cost_each) {
  std::vector<Lot> lots;
  for (std::size_t v = 0; v < variants.size(); ++v) {
    const std::int64_t cost = v < cost_each.size() ? cost_each[v].coins : 1;
    const int weight = static_cast<int>(std::clamp<std::int64_t>(cost, 1, 1'000'000'000));
    for (const int order : variants[v].orders)
      lots.push_back({order, books.orders.at(order).facts.count, weight});
  }
  return lots;
}

}  // namespace kw::trade
