#include "kerfwright/store/job_table.h"

#include <algorithm>
#include <fmt/core.h>

#include "held.h"

namespace kw {
using namespace storing;

namespace {

constexpr std::size_t most_of_name = 200, most_given = 1'000'000, most_made = 32'000'000;

constexpr std::int64_t number_of(JobState state) {
  return static_cast<std::int64_t>(state);
}

constexpr const char* columns =
    "id, kind, given, at, state, attempts, taker, until, ended, made, asker";

JobSlip job_of(const Query& row) {
  const auto state = std::clamp<std::int64_t>(row.number(4), 0, 3);
  return {row.bytes(0),
          row.bytes(1),
          row.bytes(2),
          row.number(3),
          static_cast<JobState>(state),
          static_cast<int>(row.number(5)),
          row.bytes(6),
          row.number(7),
          row.number(8),
          row.bytes(9),
          row.bytes(10)};
}

Diagnostic too_large(const char* what, std::size_t size, std::size_t most) {
  return {.code = "store.too-large",
          .message = fmt::format("{} of {} bytes", what, size),
          .hint = fmt::format("it may have {} bytes", most)};
}

Diagnostic queue_full(const JobSlip& job, std::int64_t waiting) {
  return {.code = "store.queue-full",
          .message = fmt::format("{} jobs of `{}` are waiting already", waiting, job.kind),
          .hint = "wait until some are done, or let more programs work on them"};
}

Diagnostic asked_too_often(const JobTable::Bounds& bounds) {
  return {.code = "store.asked-too-often",
          .message = fmt::format("{} jobs were put by the same asker within {} minutes",
                                 bounds.of_asker, bounds.window / 60'000),
          .hint = "wait a while"};
}

// Those that killed each of their takers.
bool give_up(Driver& driver, const std::string& kind, std::int64_t now) {
  Query query(driver,
              "UPDATE job SET state = $1, ended = $2, made = $3 WHERE kind = $4 AND state = $5 AND "
              "until <= $2 AND attempts >= $6");
  query.bind(number_of(JobState::failed)).bind(now).bind_blob("nobody who took it came back");
  query.bind(kind).bind(number_of(JobState::taken)).bind(JobTable::most_attempts);
  return query.run();
}

// All but the newest `kept` of those that ended.
bool forget(Driver& driver, const std::string& kind, std::int64_t kept) {
  Query query(driver,
              "DELETE FROM job WHERE id IN (SELECT id FROM job WHERE kind = $1 AND ended > 0 ORDER "
              "BY ended DESC, id LIMIT 1000 OFFSET $2)");
  return query.bind(kind).bind(kept).run();
}

}  // namespace

Diagnostics JobTable::put(const JobSlip& job) {
  const std::size_t longest = std::max({job.id.size(), job.kind.size(), job.asker.size()});
  if (job.id.empty() || longest > most_of_name)
    return {too_large("the name of a job", longest, most_of_name)};
  if (job.given.size() > most_given) return {too_large("a job", job.given.size(), most_given)};
  Cabinet::Held& held = cabinet_.held();
  const std::lock_guard lock(held.mutex);
  Driver& driver = *held.driver;
  Query query(
      driver,
      "INSERT INTO job (id, kind, given, at, state, attempts, taker, until, ended, made, "
      "asker) SELECT $1, $2, $3, $4, $5, 0, $6, 0, 0, $7, $8 WHERE (SELECT count(*) FROM job "
      "WHERE kind = $2 AND state < $9) < $10 AND ($8 = $6 OR (SELECT count(*) FROM job WHERE "
      "asker = $8 AND at > $4 - $11) < $12) ON CONFLICT (id) DO NOTHING");
  query.bind(job.id).bind(job.kind).bind_blob(job.given).bind(job.at);
  query.bind(number_of(JobState::waiting)).bind("").bind_blob("").bind(job.asker);
  query.bind(number_of(JobState::done)).bind(bounds_.waiting).bind(bounds_.window);
  if (!query.bind(bounds_.of_asker).run()) return {cannot_keep(held)};
  if (query.changed() == 1) return {};
  Query known(driver, "SELECT id FROM job WHERE id = $1");
  if (known.bind(job.id).step()) return {};
  Query asked(driver, "SELECT count(*) FROM job WHERE asker = $1 AND at > $2");
  asked.bind(job.asker).bind(job.at - bounds_.window);
  if (!job.asker.empty() && asked.step() && asked.number(0) >= bounds_.of_asker)
    return {asked_too_often(bounds_)};
  return {queue_full(job, bounds_.waiting)};
}

Outcome<std::optional<JobSlip>> JobTable::take(const std::string& kind, const std::string& taker,
                                               std::int64_t now, std::int64_t until) {
  Cabinet::Held& held = cabinet_.held();
  const std::lock_guard lock(held.mutex);
  Driver& driver = *held.driver;
  if (!give_up(driver, kind, now)) return cannot_keep(held);
  Query query(
      driver,
      fmt::format("UPDATE job SET state = $1, taker = $2, until = $3, attempts = attempts + "
                  "1 WHERE id = (SELECT id FROM job WHERE kind = $4 AND (state = $5 OR "
                  "(state = $1 AND until <= $6)) ORDER BY at, id LIMIT 1{}) RETURNING {}",
                  driver.dialect().skip_locked, columns));
  query.bind(number_of(JobState::taken)).bind(taker).bind(until).bind(kind);
  query.bind(number_of(JobState::waiting)).bind(now);
  const bool is_one = query.step();
  if (query.trouble() != Trouble::none) return cannot_keep(held);
  return is_one ? std::optional(job_of(query)) : std::nullopt;
}

Outcome<bool> JobTable::extend(const std::string& id, const std::string& taker,
                               std::int64_t until) {
  Cabinet::Held& held = cabinet_.held();
  const std::lock_guard lock(held.mutex);
  Query query(*held.driver,
              "UPDATE job SET until = $1 WHERE id = $2 AND taker = $3 AND state = $4");
  query.bind(until).bind(id).bind(taker).bind(number_of(JobState::taken));
  if (!query.run()) return cannot_keep(held);
  return query.changed() == 1;
}

Outcome<bool> JobTable::end(const std::string& id, const std::string& taker, const JobSlip& as) {
  if (as.made.size() > most_made) return too_large("what was made", as.made.size(), most_made);
  Cabinet::Held& held = cabinet_.held();
  const std::lock_guard lock(held.mutex);
  Query query(*held.driver,
              "UPDATE job SET state = $1, ended = $2, made = $3 WHERE id = $4 AND taker = $5 AND "
              "state = $6 RETURNING kind");
  query.bind(number_of(as.state)).bind(as.ended).bind_blob(as.made).bind(id).bind(taker);
  query.bind(number_of(JobState::taken));
  const bool is_its = query.step();
  if (query.trouble() != Trouble::none) return cannot_keep(held);
  // What cannot be forgotten now is forgotten after the next.
  if (is_its) static_cast<void>(forget(*held.driver, query.bytes(0), bounds_.ended));
  return is_its;
}

Outcome<bool> JobTable::finish(const std::string& id, const std::string& taker, std::int64_t now,
                               const std::string& made) {
  return end(id, taker, {.state = JobState::done, .ended = now, .made = made});
}

Outcome<bool> JobTable::fail(const std::string& id, const std::string& taker, std::int64_t now,
                             const std::string& why) {
  return end(id, taker, {.state = JobState::failed, .ended = now, .made = why});
}

Outcome<bool> JobTable::cancel(const std::string& id) {
  Cabinet::Held& held = cabinet_.held();
  const std::lock_guard lock(held.mutex);
  Query query(*held.driver, "DELETE FROM job WHERE id = $1 AND state < $2");
  if (!query.bind(id).bind(number_of(JobState::done)).run()) return cannot_keep(held);
  return query.changed() == 1;
}

Outcome<std::optional<JobSlip>> JobTable::find(const std::string& id) const {
  Cabinet::Held& held = cabinet_.held();
  const std::lock_guard lock(held.mutex);
  Query query(*held.driver, fmt::format("SELECT {} FROM job WHERE id = $1", columns));
  const bool is_there = query.bind(id).step();
  if (query.trouble() != Trouble::none) return cannot_read(held);
  return is_there ? std::optional(job_of(query)) : std::nullopt;
}

Outcome<std::int64_t> JobTable::before(const JobSlip& job) const {
  if (job.state != JobState::waiting) return std::int64_t{0};
  Cabinet::Held& held = cabinet_.held();
  const std::lock_guard lock(held.mutex);
  Query query(
      *held.driver,
      "SELECT count(*) FROM job WHERE kind = $1 AND state = $2 AND (at < $3 OR (at = $3 AND "
      "id < $4))");
  query.bind(job.kind).bind(number_of(JobState::waiting)).bind(job.at).bind(job.id);
  if (!query.step()) return cannot_read(held);
  return query.number(0);
}

Outcome<JobCounts> JobTable::counts(const std::string& kind) const {
  Cabinet::Held& held = cabinet_.held();
  const std::lock_guard lock(held.mutex);
  Query query(*held.driver,
              "SELECT state, count(*) FROM job WHERE kind = $1 GROUP BY state ORDER BY state");
  query.bind(kind);
  JobCounts counts;
  while (query.step()) {
    const auto state = static_cast<JobState>(std::clamp<std::int64_t>(query.number(0), 0, 3));
    std::int64_t& count = state == JobState::waiting ? counts.waiting
                          : state == JobState::taken ? counts.taken
                          : state == JobState::done  ? counts.done
                                                     : counts.failed;
    count = query.number(1);
  }
  if (query.trouble() != Trouble::none) return cannot_read(held);
  return counts;
}

}  // namespace kw
