#include <algorithm>
#include <chrono>
#include <thread>
#include <unistd.h>

#include "driver.h"

namespace kw::storing {

Query& Query::bind(std::int64_t value) {
  values_.emplace_back(value);
  return *this;
}

Query& Query::bind(std::string_view text) {
  values_.emplace_back(std::string(text));
  return *this;
}

Query& Query::bind_blob(std::string_view bytes) {
  values_.emplace_back(Blob{std::string(bytes)});
  return *this;
}

Query& Query::bind_null() {
  values_.emplace_back(std::monostate());
  return *this;
}

bool Query::run() {
  is_run_ = true;
  answer_ = driver_.ask(sql_, values_);
  return answer_.trouble == Trouble::none;
}

bool Query::step() {
  if (!is_run_) {
    run();
  } else if (next_row_ < answer_.rows.size()) {
    ++next_row_;
  }
  return next_row_ < answer_.rows.size();
}

std::int64_t Query::number(std::size_t column) const {
  return answer_.rows[next_row_][column].number;
}

const std::string& Query::bytes(std::size_t column) const {
  return answer_.rows[next_row_][column].bytes;
}

bool Query::is_null(std::size_t column) const {
  return answer_.rows[next_row_][column].is_null;
}

namespace {

constexpr int most_attempts = 40;

// Others are let through; the times differ between programs that began together.
void wait_after(int attempt) {
  const int spread = 1 + ::getpid() % 7;
  std::this_thread::sleep_for(std::chrono::microseconds(200 * std::min(attempt, 25) * spread));
}

}  // namespace

Trouble transact(Driver& driver, const std::function<Verdict()>& work) {
  for (int attempt = 1;; ++attempt) {
    Trouble trouble = driver.begin();
    if (trouble == Trouble::none) {
      const Verdict verdict = work();
      if (verdict == Verdict::keep) {
        trouble = driver.commit();
        if (trouble == Trouble::none || trouble == Trouble::lost) return trouble;
      } else {
        trouble = driver.trouble();
      }
      driver.roll_back();
      if (verdict == Verdict::drop) return Trouble::none;
      if (trouble == Trouble::none) return Trouble::other;
      // Broken before its end: nothing of it was kept.
      if (trouble == Trouble::lost) trouble = Trouble::again;
    }
    if (trouble != Trouble::again || attempt == most_attempts) return trouble;
    wait_after(attempt);
  }
}

}  // namespace kw::storing
