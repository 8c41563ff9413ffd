// The shop's books, and what is worked out for it, as JSON (web/contract/openapi.yaml).
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "kerfwright/trade/journal.h"
#include "kerfwright/trade/shop.h"
#include "kerfwright/wire/replies.h"

namespace kw {

struct TradeReply {
  const trade::Journal* journal = nullptr;
  const trade::ShopSettings* shop = nullptr;
  trade::Day today = {};
  LengthUnit unit = LengthUnit::inch;
  trade::LabourModel labour = {};  // as the log has taught it
  trade::Schedule schedule = {};   // of the batches that are not over
};
[[nodiscard]] std::string trade_json(const TradeReply& reply);

// What a job costs, told line by line.
struct CostTold {
  trade::Cost cost = {};
  trade::Estimate time = {};
  std::optional<trade::Sale> sale = {};  // of one, at the shop's margin
  std::optional<trade::Sensitivity> sensitivity = {};
  std::optional<trade::MarketPlace> market = {};
  std::optional<trade::ParcelRate> parcel = {};  // the cheapest that takes one piece as it stands
  std::vector<trade::BatchPoint> curve = {};
  std::vector<std::string> words = {};  // what is not known or unsure
};

struct OrderTold {
  int order = 0;
  std::string buyer = {}, piece = {};
  int count = 0;
  Money cost_each = {}, agreed_each = {};
  std::optional<Money> price_each = {};
  trade::ScheduledLoad load = {};
};
struct BatchTold {
  std::string name = {};
  std::vector<std::string> proof = {};
  CostTold cost = {};
  std::vector<OrderTold> orders = {};
  std::vector<trade::BoardsToBuy> to_buy = {};
  std::vector<int> boards = {};  // taken from the rack
  std::vector<trade::SawDay> days = {};
  int entries = 0;  // that the books had
};

// What a bench page holds of a batch: each of its parts as a cut to be ticked.
[[nodiscard]] std::string bench_batch_json(const trade::Batch& batch, const std::string& token,
                                           LengthUnit unit, const std::vector<BenchTick>& ticks);

struct TradeWorkReply {
  TaskReport report = {};
  bool is_batch = false;
  const BatchTold* batch = nullptr;
  const CostTold* cost = nullptr;
  LengthUnit unit = LengthUnit::inch;
};
[[nodiscard]] std::string trade_work_json(const TradeWorkReply& reply);

}  // namespace kw
