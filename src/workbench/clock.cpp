#include "kerfwright/workbench/clock.h"

#include <chrono>
#include <ctime>

namespace kw {

std::int64_t now_in_milliseconds() {
  return std::chrono::duration_cast<std::chrono::milliseconds>(
             std::chrono::system_clock::now().time_since_epoch())
      .count();
}

trade::Day today() {
  const std::time_t now = std::time(nullptr);
  std::tm parts = {};
  ::localtime_r(&now, &parts);
  const std::chrono::sys_days day =
      std::chrono::year{parts.tm_year + 1900} / (parts.tm_mon + 1) / parts.tm_mday;
  return {static_cast<std::int32_t>(day.time_since_epoch().count())};
}

}  // namespace kw
