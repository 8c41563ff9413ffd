#include "kerfwright/store/log.h"

#include <algorithm>
#include <fmt/core.h>

#include "held.h"

namespace kw {
using namespace storing;

namespace {

constexpr std::size_t most_of_name = 200, most_of_record = 1'000'000, most_records = 10'000;
constexpr std::size_t most_of_append = 16'000'000, most_of_read = 16'000'000;

Diagnostic too_large(const std::string& words) {
  return {.code = "store.too-large",
          .message = words,
          .hint = "keep less at once: records of 1 MB, 10,000 of them and 16 MB in one go"};
}

Diagnostics faults_of(const std::string& name, const std::vector<LogRecord>& records) {
  if (name.empty() || name.size() > most_of_name)
    return {too_large(fmt::format("the name of a log has {} bytes", name.size()))};
  if (records.size() > most_records)
    return {too_large(fmt::format("{} records at once", records.size()))};
  std::size_t size = 0;
  for (const LogRecord& record : records) {
    size += record.bytes.size();
    if (record.bytes.size() > most_of_record)
      return {too_large(fmt::format("a record of {} bytes", record.bytes.size()))};
  }
  if (size > most_of_append) return {too_large(fmt::format("{} bytes of records at once", size))};
  return {};
}

Diagnostic moved(const std::string& name, std::int64_t after) {
  return {.code = "store.log-moved",
          .message = fmt::format("the log `{}` does not end at {} any more", name, after),
          .hint = "read what was added meanwhile, and decide anew"};
}

bool insert(Driver& driver, const std::string& name, std::int64_t number, const LogRecord& record) {
  Query query(driver, "INSERT INTO record (log, number, at, bytes) VALUES ($1, $2, $3, $4)");
  return query.bind(name).bind(number).bind(record.at).bind_blob(record.bytes).run();
}

// Moves the end of the log on: the row of its name is held until the transaction ends, and of two
// that move it from the same number the second finds it elsewhere.
Verdict move_on(Driver& driver, const std::string& name, std::int64_t after, std::int64_t count) {
  Query made(driver, "INSERT INTO log (name, newest) VALUES ($1, 0) ON CONFLICT (name) DO NOTHING");
  if (after == 0 && !made.bind(name).run()) return Verdict::failed;
  Query query(driver, "UPDATE log SET newest = newest + $1 WHERE name = $2 AND newest = $3");
  if (!query.bind(count).bind(name).bind(after).run()) return Verdict::failed;
  return query.changed() == 1 ? Verdict::keep : Verdict::drop;
}

}  // namespace

Outcome<std::int64_t> Log::newest(const std::string& name) const {
  Cabinet::Held& held = cabinet_.held();
  const std::lock_guard lock(held.mutex);
  Query query(*held.driver, "SELECT newest FROM log WHERE name = $1");
  const bool is_there = query.bind(name).step();
  if (query.trouble() != Trouble::none) return cannot_read(held);
  return is_there ? query.number(0) : 0;
}

Diagnostics Log::append(const std::string& name, std::int64_t after,
                        const std::vector<LogRecord>& records) {
  const Diagnostics faults = faults_of(name, records);
  if (!faults.empty()) return faults;
  Cabinet::Held& held = cabinet_.held();
  const std::lock_guard lock(held.mutex);
  bool is_moved = false;
  const Trouble trouble = transact(*held.driver, [&] {
    const Verdict verdict =
        move_on(*held.driver, name, after, static_cast<std::int64_t>(records.size()));
    is_moved = verdict == Verdict::drop;
    if (verdict != Verdict::keep) return verdict;
    std::int64_t number = after;
    for (const LogRecord& record : records) {
      if (!insert(*held.driver, name, ++number, record)) return Verdict::failed;
    }
    return Verdict::keep;
  });
  if (trouble != Trouble::none) return {cannot_keep(held)};
  if (is_moved) return {moved(name, after)};
  return {};
}

Outcome<std::vector<LogRecord>> Log::read(const std::string& name, std::int64_t after,
                                          int most) const {
  Cabinet::Held& held = cabinet_.held();
  const std::lock_guard lock(held.mutex);
  std::vector<LogRecord> records;
  std::size_t size = 0, largest = 0;
  const auto wanted = static_cast<std::size_t>(std::max(most, 0));
  // A few at a time: what is asked for may be far more than may be told.
  while (records.size() < wanted && size < most_of_read) {
    Query query(*held.driver,
                "SELECT number, at, bytes FROM record WHERE log = $1 AND number > $2 ORDER BY "
                "number LIMIT $3");
    const std::size_t at_once = records.empty() || largest > 65'536 ? 16 : 256;
    const std::size_t some = std::min(wanted - records.size(), at_once);
    query.bind(name).bind(after).bind(static_cast<std::int64_t>(some));
    const std::size_t before = records.size();
    while (query.step()) {
      if (!records.empty() && size + query.bytes(2).size() > most_of_read) return records;
      records.push_back({query.number(1), query.bytes(2), query.number(0)});
      size += query.bytes(2).size();
      largest = std::max(largest, query.bytes(2).size());
      after = query.number(0);
    }
    if (query.trouble() != Trouble::none) return cannot_read(held);
    if (records.size() - before < some) break;
  }
  return records;
}

}  // namespace kw
