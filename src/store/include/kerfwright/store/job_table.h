// A table of work that any number of programs take from, each job one at a time: PostgreSQL skips
// what others are taking, SQLite lets one take after the other.
//
// Guarantees: what `put` said is kept, is on the disk. A job is worked on by one taker until its
// time is over; when the taker has died, it is taken again, three times at most, then it counts as
// failed. Only the taker that has it may end it. The line is bounded, and of what has ended the
// oldest is forgotten.
// Will not do: read the clock. The machines' clocks must agree within the time a job is taken for.
//
//   JobTable jobs(cabinet);
//   jobs.put({.id = "7f...", .kind = "book", .given = "{...}", .at = now});
//   auto job = jobs.take("book", "worker 3", now, now + 60'000);  // nothing: none is waiting
//   jobs.finish((*job)->id, "worker 3", now, pdf);
#pragma once

#include <optional>

#include "kerfwright/store/cabinet.h"

namespace kw {

enum class JobState : std::uint8_t { waiting, taken, done, failed };

// Times are milliseconds since 1970, UTC.
struct JobSlip {
  std::string id = {};  // the caller's, 1 to 200 bytes; who knows it may ask for what was made
  std::string kind = {};
  std::string given = {};  // at most 1 MB (1,000,000 bytes)
  std::int64_t at = 0;     // put; the oldest is taken first
  JobState state = JobState::waiting;
  int attempts = 0;  // times it was taken
  std::string taker = {};
  std::int64_t until = 0;  // taken for so long
  std::int64_t ended = 0;
  std::string made = {};   // by finish, at most 32 MB; or why it failed
  std::string asker = {};  // who asked for it, at most 200 bytes; "": it is not counted whose
};

struct JobCounts {
  std::int64_t waiting = 0, taken = 0, done = 0, failed = 0;
};

class JobTable {
 public:
  static constexpr int most_attempts = 3;
  struct Bounds {
    std::int64_t waiting = 1000;      // jobs of a kind that wait or are taken
    std::int64_t ended = 1000;        // of a kind that are kept
    std::int64_t of_asker = 20;       // that one asker may put in `window`
    std::int64_t window = 3'600'000;  // milliseconds
  };
  explicit JobTable(Cabinet cabinet) : JobTable(std::move(cabinet), Bounds()) {}
  JobTable(Cabinet cabinet, Bounds bounds) : cabinet_(std::move(cabinet)), bounds_(bounds) {}

  // Puts `id`, `kind`, `given`, `at` and `asker` in the line; a known id changes nothing. Errors:
  // store.too-large, store.queue-full, store.asked-too-often, store.cannot-keep. (With PostgreSQL,
  // as many as put at the same instant may pass the bounds.)
  [[nodiscard]] Diagnostics put(const JobSlip& job);
  // The job that has waited longest, or one whose taker let its time pass. Error:
  // store.cannot-keep.
  [[nodiscard]] Outcome<std::optional<JobSlip>> take(const std::string& kind,
                                                     const std::string& taker, std::int64_t now,
                                                     std::int64_t until);
  // Each is true when the job was still the taker's. Error: store.cannot-keep, store.too-large.
  [[nodiscard]] Outcome<bool> extend(const std::string& id, const std::string& taker,
                                     std::int64_t until);
  [[nodiscard]] Outcome<bool> finish(const std::string& id, const std::string& taker,
                                     std::int64_t now, const std::string& made);
  [[nodiscard]] Outcome<bool> fail(const std::string& id, const std::string& taker,
                                   std::int64_t now, const std::string& why);
  // Takes it out, waiting or taken; who works on it learns it from `extend` or `finish`.
  [[nodiscard]] Outcome<bool> cancel(const std::string& id);

  // Errors: store.cannot-read. Nothing when it is not known, or forgotten.
  [[nodiscard]] Outcome<std::optional<JobSlip>> find(const std::string& id) const;
  // How many are taken before it; 0 when it does not wait.
  [[nodiscard]] Outcome<std::int64_t> before(const JobSlip& job) const;
  [[nodiscard]] Outcome<JobCounts> counts(const std::string& kind) const;

 private:
  Outcome<bool> end(const std::string& id, const std::string& taker, const JobSlip& as);
  Cabinet cabinet_;
  Bounds bounds_ = {};
};

}  // namespace kw
