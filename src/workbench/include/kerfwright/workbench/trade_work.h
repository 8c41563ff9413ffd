// What is worked out for the trade: a batch of orders planned as one job, and what a piece costs.
#pragma once

#include <filesystem>

#include "kerfwright/wire/trade_replies.h"
#include "kerfwright/wire/trade_requests.h"
#include "kerfwright/workbench/recompute.h"
#include "kerfwright/workbench/shop.h"

namespace kw {

// What the work is done with; taken from a Shop, so that the shop may be used meanwhile.
struct TradeScene {
  std::filesystem::path folder = {};  // of the pieces
  trade::Books books = {};
  trade::ShopSettings shop = {};
  std::vector<trade::Load> ahead = {};  // batches that are made before it
  trade::Day today = {};
};
[[nodiscard]] TradeScene scene_of(const Shop& shop, const std::filesystem::path& folder,
                                  trade::Day today);

// How far it is; false stops the work. `fraction` 0 to 1.
using WorkTold =
    std::function<bool(std::string_view stage, double fraction, std::string_view words)>;

// Rack and yard together, everything shared that orders have in common, the cost shared out to the
// coin, each order's promise behind the batches that are under way. Errors: those of variants_of;
// io.cannot-read and trade.piece-has-errors (a piece that cannot be built in its order's sizes,
// which is named); trade.not-planned (a stock that does not suffice, or the work was stopped).
struct MadeBatch {
  BatchTold told = {};
  trade::BatchPlanned entry = {};
  BatchPapers papers = {};
};
[[nodiscard]] Outcome<MadeBatch> plan_batch(const TradeScene& scene, const TradeAsk& ask,
                                            const WorkTold& tell);

// Of the first of `ask.counts` line by line, of all as a curve. Errors as above, but for orders.
[[nodiscard]] Outcome<CostTold> reckon(const TradeScene& scene, const TradeAsk& ask,
                                       const WorkTold& tell);

// The title of a piece of the folder; "" when it cannot be read.
[[nodiscard]] std::string title_of(const std::filesystem::path& folder, const std::string& piece);

// The rows of a CSV file (trade/yard_files.h) as entries: boards as one, prices one each. Errors:
// those of its readers.
[[nodiscard]] Reading<std::vector<trade::Entry>> entries_in(const Text& csv, ImportOf what,
                                                            const std::string& yard,
                                                            LengthUnit unit, trade::Day today);

}  // namespace kw
