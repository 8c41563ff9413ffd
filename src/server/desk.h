// Answers every request: the shelf, the pieces that are open, work that takes its time. Knows no
// HTTP library; may be used by several threads at once. Private to server.
#pragma once

#include <array>
#include <atomic>
#include <map>
#include <memory>
#include <mutex>

#include "kerfwright/workbench/clock.h"
#include "kerfwright/workbench/session.h"

#include "bench.h"
#include "events.h"
#include "jobs.h"
#include "message.h"
#include "trade_desk.h"

namespace kw::serving {

// An answer that takes a while to find, and what it is of.
struct Surveyed {
  std::int64_t revision = 0;
  LengthUnit unit = LengthUnit::inch;
  std::string json = {};
};

struct OpenPiece {
  std::mutex mutex;
  std::string name = {};
  std::unique_ptr<Session> session = {};
  // The last plan in each unit, as its figures are rounded otherwise: inches, millimetres.
  std::array<std::shared_ptr<const MadePlan>, 2> plans = {};

  [[nodiscard]] std::shared_ptr<const MadePlan>& plan_in(LengthUnit unit) {
    return plans[unit == LengthUnit::inch ? 0 : 1];
  }
  // In the unit that is shown.
  [[nodiscard]] std::shared_ptr<const MadePlan>& plan() {
    return plan_in(session->seen().piece.unit);
  }
  std::shared_ptr<Task> task = {};
  // "findings" and "steps", as last answered.
  std::map<std::string, Surveyed> surveyed = {};
};

class Desk {
 public:
  Desk(std::filesystem::path folder, Store store, std::string version);
  ~Desk();

  [[nodiscard]] Reply handle(const Request& request);
  [[nodiscard]] Events& events() { return events_; }
  [[nodiscard]] Bench& bench() { return bench_; }
  // Whether another program changed a piece that is open; tells those who listen.
  void look_outside();
  // Stops work that is going on.
  void stop();

 private:
  using OpenRef = std::shared_ptr<OpenPiece>;

  // desk.cpp: everything but pieces.
  [[nodiscard]] Reply routed(const Request& request);
  [[nodiscard]] Reply api(const Request& request);
  [[nodiscard]] Reply shelf(const Request& request);
  [[nodiscard]] Reply make_piece(const Request& request);
  [[nodiscard]] Reply take_back_piece(const Request& request);
  [[nodiscard]] Reply bench_api(const Request& request);
  [[nodiscard]] Reply bench_page(const Request& request);
  [[nodiscard]] Reply paired_page(const Request& request, const PairedTo& to);
  [[nodiscard]] Reply take_ticks(const Request& request, const PairedTo& to);
  [[nodiscard]] std::vector<BenchTick> ticks_of(const PairedTo& to) const;
  // Why a phone cannot be paired to it.
  [[nodiscard]] Diagnostics not_there(const OpenBench& wish);

  // piece_routes.cpp.
  [[nodiscard]] Reply piece(const Request& request);
  [[nodiscard]] Reply move_piece(const Request& request, const std::string& name);
  [[nodiscard]] Reply get_of_piece(const Request& request, OpenPiece& open);
  // Gives the lock back while it works.
  [[nodiscard]] Reply survey_of(OpenPiece& open, const std::string& what,
                                std::unique_lock<std::mutex>& lock);
  [[nodiscard]] Reply post_to_piece(const Request& request, OpenPiece& open);
  [[nodiscard]] Reply edit(const Request& request, OpenPiece& open);
  [[nodiscard]] Reply step(const Request& request, OpenPiece& open);
  [[nodiscard]] Reply make_plan(const Request& request, OpenPiece& open);
  [[nodiscard]] Reply changed(OpenPiece& open, const Outcome<std::string>& reply);
  [[nodiscard]] Outcome<OpenRef> opened(const std::string& name);
  [[nodiscard]] std::vector<OpenRef> all_open();
  void close_piece(const std::string& name);

  std::filesystem::path folder_;
  Store store_;
  std::string version_;
  std::mutex mutex_;
  std::map<std::string, OpenRef> open_ = {};
  Events events_ = {};
  Bench bench_ = {};
  TradeDesk trade_;  // outlives the work that jobs_ does for it
  Jobs jobs_;
};

}  // namespace kw::serving
