// How much is spent: counted work, so that the same input gives the same plan, with the clock and
// the caller only as a last stop.
#pragma once

#include <chrono>
#include <cstdint>
#include <optional>

#include "kerfwright/cutting/problem.h"

namespace kw::cutting {

class Work {
 public:
  // Starts the clock. `effort` must outlive this.
  explicit Work(const Effort& effort);

  // Files work done (about one table cell each) and says whether to go on.
  bool spend(std::int64_t units);
  // Asks the clock and the caller whether to go on, whatever the count.
  bool ask();
  [[nodiscard]] bool is_over() const { return done_ >= limit_ || is_stopped_; }
  [[nodiscard]] std::int64_t done() const { return done_; }
  [[nodiscard]] std::int64_t limit() const { return limit_; }
  // From now on no more than `units`.
  void leave(std::int64_t units);
  // `units` from now on, whatever was left; the clock and the caller stop it as before.
  void grant(std::int64_t units) { limit_ = done_ + units; }
  // All in all, after `leave`.
  void allow(std::int64_t units) { limit_ = units; }

  // What the caller is told from now on; the word goes out at once.
  void report(std::optional<std::int64_t> best, std::int64_t bound);

 private:
  void look_up();  // at the clock, and at the caller

  const Effort& effort_;
  std::chrono::steady_clock::time_point start_ = {};
  std::int64_t limit_ = 0, done_ = 0, next_look_ = 0;
  bool is_stopped_ = false;
  Progress progress_ = {};
};

// A small generator of our own (splitmix64, Steele, Lea and Flood 2014; constants from memory), so
// that no library decides what the plan is.
class Random {
 public:
  explicit Random(std::uint64_t seed) : state_(seed) {}
  std::uint64_t next();
  // 0 .. below - 1; `below` is at least 1. The bias of the remainder is of no matter here.
  int under(std::size_t below) { return static_cast<int>(next() % below); }
  // In [from, to).
  double between(double from, double to);

 private:
  std::uint64_t state_ = 0;
};

}  // namespace kw::cutting
