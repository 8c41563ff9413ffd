// The trade of one folder of pieces: its books and how it reckons, kept as logs in a cabinet
// (`books`, `shop`), and what was planned for each batch (`batch-N`).
//
// Others may write the same logs: `catch_up` reads what they did, and what was decided without
// having read it is refused. Not to be used by two threads at once.
#pragma once

#include "kerfwright/store/log.h"
#include "kerfwright/trade/journal.h"
#include "kerfwright/trade/planned.h"
#include "kerfwright/trade/shop.h"

namespace kw {

// What a batch's plan leaves behind, to be looked at while it is made.
struct BatchPapers {
  std::vector<trade::PlannedBoard> boards = {};
  trade::Work work = {};        // of the whole batch
  std::string sawing_pdf = {};  // the diagrams and set-ups
};

class Shop {
 public:
  explicit Shop(Cabinet cabinet) : log_(std::move(cabinet)) {}

  // Errors: store.cannot-read, those of read_entry and replay (a log that someone broke).
  [[nodiscard]] Diagnostics catch_up();
  [[nodiscard]] const trade::Journal& journal() const { return journal_; }
  [[nodiscard]] const trade::Books& books() const { return journal_.books; }
  [[nodiscard]] const trade::ShopSettings& settings() const { return settings_; }

  // Writes entries, all or none, when the newest entry is `after`; `now` in milliseconds since
  // 1970. Errors: server.not-newest, those of trade::enter (told with the entry's place when there
  // are several), store.cannot-keep.
  [[nodiscard]] Diagnostics enter(std::vector<trade::Entry> entries, int after, std::int64_t now);
  // Enters a batch that was planned when `after` was the newest entry, and keeps its papers.
  [[nodiscard]] Diagnostics book(const trade::BatchPlanned& batch, const BatchPapers& papers,
                                 int after, trade::Day day, std::int64_t now);
  // The batch's boards are sawn as its papers say. Also errors: those of papers_of and
  // trade::sawn_of.
  [[nodiscard]] Diagnostics saw_up(int batch, int after, trade::Day day, std::int64_t now);
  [[nodiscard]] Diagnostics set(const trade::ShopSettings& settings, std::int64_t now);

  // Error: trade.no-papers (of a batch that was entered without a plan).
  [[nodiscard]] Outcome<BatchPapers> papers_of(int batch) const;

  // When the batches that are not over will be done, by the hours of the shop's week: of the work
  // that was planned, the share whose parts are not done yet.
  [[nodiscard]] trade::Schedule schedule(const trade::LabourModel& labour, trade::Day today) const;
  [[nodiscard]] std::vector<trade::Load> loads() const;
  [[nodiscard]] trade::LabourModel labour() const { return trade::learn_from(books()); }
  // Every entry as JSON, one a line.
  [[nodiscard]] std::string journal_lines() const;

 private:
  [[nodiscard]] Diagnostics read_new_entries();
  // The batch's papers come into its log once; later calls add nothing.
  [[nodiscard]] Diagnostics keep(int batch, const BatchPapers& papers, trade::Day day,
                                 std::int64_t now);

  Log log_;
  trade::Journal journal_ = {};
  trade::ShopSettings settings_ = {};
  std::int64_t settings_number_ = 0;
  std::map<int, trade::Work> planned_work_ = {};  // by batch
};

}  // namespace kw
