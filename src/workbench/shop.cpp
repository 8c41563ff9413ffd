#include "kerfwright/workbench/shop.h"

#include <fmt/core.h>

#include "kerfwright/wire/entry_json.h"
#include "kerfwright/wire/trade_requests.h"

namespace kw {
namespace {

constexpr const char* books_log = "books";
constexpr const char* shop_log = "shop";
constexpr int most_at_once = 10'000;
constexpr std::size_t most_of_a_record = 900'000;

std::string log_of(int batch) {
  return fmt::format("batch-{}", batch);
}

Diagnostic not_newest() {
  return {.code = "server.not-newest",
          .message = "the books were changed since",
          .hint = "look at what was entered, and do it again"};
}

// A batch's log: its boards as they come, how they are sawn, the time it takes (as entries, so that
// they are read as those of the books are), then the PDF in pieces.
std::vector<LogRecord> records_of(const BatchPapers& papers, trade::Day day, std::int64_t now) {
  trade::BoardsFound facts;
  trade::BoardsSawn sawn;
  for (const trade::PlannedBoard& board : papers.boards) {
    facts.boards.push_back(board.facts);
    sawn.boards.push_back(board.sawn);
  }
  std::vector<LogRecord> records = {
      {now, entry_json({day, facts})},
      {now, entry_json({day, sawn})},
      {now, entry_json({day, trade::TimeLogged{.work = papers.work}})}};
  for (std::size_t i = 0; i < papers.sawing_pdf.size(); i += most_of_a_record)
    records.push_back({now, papers.sawing_pdf.substr(i, most_of_a_record)});
  return records;
}

template <class Event>
std::optional<Event> event_in(const LogRecord& record) {
  const auto entry = read_entry(record.bytes);
  if (!entry) return std::nullopt;
  const Event* event = std::get_if<Event>(&entry->event);
  return event == nullptr ? std::nullopt : std::optional(*event);
}

double share_to_do(const trade::Batch& batch) {
  double wanted = 0, done = 0;
  for (const auto& [part, progress] : batch.parts) {
    wanted += progress.wanted;
    done += progress.done;
  }
  return wanted > 0 ? 1 - done / wanted : 1;
}

}  // namespace

Diagnostics Shop::read_new_entries() {
  std::vector<trade::Entry> entries;
  const std::size_t known = journal_.entries.size();
  while (true) {
    const auto records =
        log_.read(books_log, static_cast<std::int64_t>(known + entries.size()), most_at_once);
    if (!records) return records.diagnostics();
    if (records->empty()) break;
    for (const LogRecord& record : *records) {
      auto entry = read_entry(record.bytes);
      if (!entry) return entry.diagnostics();
      entries.push_back(*std::move(entry));
    }
  }
  if (known == 0) {
    auto journal = trade::replay(std::move(entries));
    if (!journal) return journal.diagnostics();
    journal_ = *std::move(journal);
    return {};
  }
  for (trade::Entry& entry : entries) {
    const auto lines = trade::enter(journal_, std::move(entry));
    if (!lines) return lines.diagnostics();
  }
  return {};
}

Diagnostics Shop::catch_up() {
  if (auto faults = read_new_entries(); !faults.empty()) return faults;
  const auto newest = log_.newest(shop_log);
  if (!newest) return newest.diagnostics();
  if (*newest != settings_number_) {
    const auto records = log_.read(shop_log, *newest - 1, 1);
    if (!records) return records.diagnostics();
    auto settings = read_shop(records->back().bytes);
    if (!settings) return settings.diagnostics();
    settings_ = *std::move(settings);
    settings_number_ = *newest;
  }
  for (const auto& [number, batch] : journal_.books.batches) {
    if (batch.is_over() || planned_work_.contains(number)) continue;
    const auto papers = papers_of(number);
    planned_work_[number] = papers ? papers->work : trade::Work{};
  }
  return {};
}

Diagnostics Shop::enter(std::vector<trade::Entry> entries, int after, std::int64_t now) {
  if (auto faults = catch_up(); !faults.empty()) return faults;
  if (after != journal_.books.entries) return {not_newest()};
  trade::Journal journal = journal_;
  std::vector<LogRecord> records;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    records.push_back({now, entry_json(entries[i])});
    const auto lines = trade::enter(journal, std::move(entries[i]));
    if (lines) continue;
    Diagnostics faults = lines.diagnostics();
    if (entries.size() > 1) {
      for (Diagnostic& d : faults)
        d.message = fmt::format("entry {} of {}: {}", i + 1, entries.size(), d.message);
    }
    return faults;
  }
  Diagnostics faults = log_.append(books_log, after, records);
  if (!faults.empty() && faults.front().code == "store.log-moved") return {not_newest()};
  if (has_errors(faults)) return faults;
  journal_ = std::move(journal);
  return {};
}

Diagnostics Shop::book(const trade::BatchPlanned& batch, const BatchPapers& papers, int after,
                       trade::Day day, std::int64_t now) {
  if (auto faults = enter({{day, batch}}, after, now); !faults.empty()) return faults;
  return keep(books().entries, papers, day, now);
}

Diagnostics Shop::saw_up(int batch, int after, trade::Day day, std::int64_t now) {
  if (auto faults = catch_up(); !faults.empty()) return faults;
  auto papers = papers_of(batch);
  if (!papers) return papers.diagnostics();
  auto event = trade::sawn_of(std::move(papers->boards), books(), batch);
  if (!event) return event.diagnostics();
  return enter({{day, *std::move(event)}}, after, now);
}

Diagnostics Shop::set(const trade::ShopSettings& settings, std::int64_t now) {
  if (auto faults = catch_up(); !faults.empty()) return faults;
  Diagnostics faults = log_.append(shop_log, settings_number_, {{now, shop_json(settings)}});
  if (!faults.empty() && faults.front().code == "store.log-moved") return {not_newest()};
  if (has_errors(faults)) return faults;
  return catch_up();
}

Diagnostics Shop::keep(int batch, const BatchPapers& papers, trade::Day day, std::int64_t now) {
  Diagnostics faults = log_.append(log_of(batch), 0, records_of(papers, day, now));
  const bool is_there = !faults.empty() && faults.front().code == "store.log-moved";
  if (!has_errors(faults) || is_there) planned_work_[batch] = papers.work;
  return is_there ? Diagnostics() : faults;
}

Outcome<BatchPapers> Shop::papers_of(int batch) const {
  const auto records = log_.read(log_of(batch), 0, most_at_once);
  if (!records) return records.diagnostics();
  const Diagnostic none = {.code = "trade.no-papers",
                           .message = fmt::format("no plan was kept of batch {}", batch),
                           .hint = "enter what was sawn by hand, board by board"};
  if (records->size() < 3) return none;
  const auto facts = event_in<trade::BoardsFound>((*records)[0]);
  const auto sawn = event_in<trade::BoardsSawn>((*records)[1]);
  const auto time = event_in<trade::TimeLogged>((*records)[2]);
  if (!facts || !sawn || !time || facts->boards.size() != sawn->boards.size()) return none;
  BatchPapers papers{.work = time->work};
  for (std::size_t i = 0; i < facts->boards.size(); ++i)
    papers.boards.push_back({.facts = facts->boards[i], .sawn = sawn->boards[i]});
  for (std::size_t i = 3; i < records->size(); ++i) papers.sawing_pdf += (*records)[i].bytes;
  return papers;
}

std::string Shop::journal_lines() const {
  std::string lines;
  for (const trade::Entry& entry : journal_.entries) lines += entry_json(entry) + "\n";
  return lines;
}

std::vector<trade::Load> Shop::loads() const {
  std::vector<trade::Load> loads;
  for (const auto& [number, batch] : books().batches) {
    const auto work = planned_work_.find(number);
    if (batch.is_over() || work == planned_work_.end()) continue;
    trade::Load load{.of = number, .work = work->second * share_to_do(batch)};
    for (const trade::Lot& lot : batch.lots) {
      if (lot.order == 0) continue;
      const auto& due = books().orders.at(lot.order).facts.due;
      if (due && (!load.due || *due < *load.due)) load.due = due;
    }
    loads.push_back(load);
  }
  return loads;
}

trade::Schedule Shop::schedule(const trade::LabourModel& labour, trade::Day today) const {
  return trade::schedule_of(loads(), labour, settings_.week, today).value;
}

}  // namespace kw
