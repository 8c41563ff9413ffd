// Answers what is asked of the shop's trade: the books, work on batches and costs, papers. May be
// used by several threads at once. Private to server.
#pragma once

#include <mutex>

#include "kerfwright/workbench/trade_work.h"

#include "jobs.h"
#include "message.h"

namespace kw::serving {

class TradeDesk {
 public:
  TradeDesk(std::filesystem::path folder, Cabinet cabinet, Jobs& jobs);
  // Of /api/trade and below.
  [[nodiscard]] Reply handle(const Request& request);
  void stop();

  // For phones: why there is no such batch; its bench page's data; a tick that all of a part is
  // done, or is not.
  [[nodiscard]] Diagnostics not_there(int batch);
  [[nodiscard]] Outcome<std::string> bench_data(int batch, const std::string& token,
                                                LengthUnit unit,
                                                const std::vector<BenchTick>& ticks);
  [[nodiscard]] Diagnostics tick(int batch, const BenchTick& tick);

 private:
  // The work that is going on, or was last.
  struct Work {
    std::shared_ptr<Task> task = {};
    bool is_batch = false;
    std::shared_ptr<const MadeBatch> batch = {};
    std::shared_ptr<const CostTold> cost = {};
    bool is_booked = false;
  };

  // Under the lock.
  [[nodiscard]] Outcome<const trade::Batch*> found(int batch);
  [[nodiscard]] Reply books(LengthUnit unit);
  [[nodiscard]] Reply enter(const Request& request, LengthUnit unit);
  [[nodiscard]] Reply set_shop(const Request& request, LengthUnit unit);
  [[nodiscard]] Reply import(const Request& request, LengthUnit unit);
  [[nodiscard]] Reply work(const Request& request, LengthUnit unit);
  [[nodiscard]] Reply start(const Request& request);
  [[nodiscard]] static Work worked_out(const std::shared_ptr<Task>& task, const TradeScene& scene,
                                       const TradeAsk& ask, Diagnostics& faults);
  [[nodiscard]] Reply work_reply(LengthUnit unit) const;
  [[nodiscard]] Reply book(const Request& request, LengthUnit unit);
  [[nodiscard]] Reply sawn(const Request& request, LengthUnit unit);
  [[nodiscard]] Reply file(const Request& request, LengthUnit unit);
  [[nodiscard]] Reply paper(const Request& request, int order, const std::string& kind);
  [[nodiscard]] Reply labels(const Request& request, LengthUnit unit);
  [[nodiscard]] Reply after(const Diagnostics& faults, LengthUnit unit);

  std::filesystem::path folder_;
  Jobs& jobs_;
  mutable std::mutex mutex_;  // of all below
  Shop shop_;
  Work work_ = {};
};

}  // namespace kw::serving
