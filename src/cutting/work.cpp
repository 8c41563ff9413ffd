#include "work.h"

#include <algorithm>

namespace kw::cutting {
namespace {

// Table cells a second, chosen so that counted work ends before the clock does on the machines
// tried, even busy ones (bench/cutting_table.cpp shows the time taken).
constexpr double units_a_second = 5e8;
constexpr double longest_effort = 86'400;     // seconds
constexpr std::int64_t look_every = 1 << 17;  // work is not counted finely everywhere

}  // namespace

Work::Work(const Effort& effort) : effort_(effort), start_(std::chrono::steady_clock::now()) {
  const double seconds = effort.seconds > 0 ? std::min(effort.seconds, longest_effort) : 0;
  limit_ = effort.work.value_or(static_cast<std::int64_t>(seconds * units_a_second));
}

bool Work::spend(std::int64_t units) {
  done_ += units;
  if (done_ >= next_look_) look_up();
  return !is_over();
}

bool Work::ask() {
  look_up();
  return !is_over();
}

void Work::leave(std::int64_t units) {
  limit_ = std::min(limit_, done_ + units);
}

void Work::report(std::optional<std::int64_t> best, std::int64_t bound) {
  if (best) progress_.best = Money{*best};
  progress_.bound = Money{bound};
  look_up();
}

void Work::look_up() {
  next_look_ = done_ + look_every;
  const std::chrono::duration<double> passed = std::chrono::steady_clock::now() - start_;
  progress_.seconds = passed.count();
  if (progress_.seconds >= effort_.seconds) is_stopped_ = true;
  if (effort_.on_progress && !effort_.on_progress(progress_)) is_stopped_ = true;
}

std::uint64_t Random::next() {
  state_ += 0x9e3779b97f4a7c15;
  std::uint64_t z = state_;
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9;
  z = (z ^ (z >> 27)) * 0x94d049bb133111eb;
  return z ^ (z >> 31);
}

double Random::between(double from, double to) {
  return from + (to - from) * (static_cast<double>(next() >> 11) * 0x1p-53);
}

}  // namespace kw::cutting
