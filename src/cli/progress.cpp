#include "progress.h"

#include <chrono>
#include <cstdio>
#include <fmt/core.h>
#include <unistd.h>

namespace kw::cli {
namespace {

using namespace std::chrono_literals;

constexpr auto patience = 500ms;
constexpr auto beat = 250ms;

}  // namespace

Progress::Progress() {
  thread_ = std::jthread([this](const std::stop_token& stop) { run(stop); });
}

Progress::~Progress() {
  thread_.request_stop();
  changed_.notify_all();
}

void Progress::now(std::string_view what) {
  const std::lock_guard lock(mutex_);
  what_ = what;
}

// On a terminal one line that is written over; elsewhere a line whenever the work changes.
void Progress::run(const std::stop_token& stop) {
  const bool is_terminal = isatty(STDERR_FILENO) == 1;
  const auto start = std::chrono::steady_clock::now();
  std::string last;
  std::unique_lock lock(mutex_);
  changed_.wait_for(lock, stop, patience, [] { return false; });
  while (!stop.stop_requested()) {
    const double seconds =
        std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    if (is_terminal) {
      fmt::print(stderr, "\r\x1b[K{} ... {:.1f} s", what_, seconds);
    } else if (what_ != last) {
      fmt::print(stderr, "{} ...\n", what_);
    }
    std::fflush(stderr);
    last = what_;
    changed_.wait_for(lock, stop, beat, [] { return false; });
  }
  if (is_terminal && !last.empty()) fmt::print(stderr, "\r\x1b[K");
}

}  // namespace kw::cli
