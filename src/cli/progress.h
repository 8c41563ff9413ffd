// What is being done, on the terminal, once it takes more than half a second.
#pragma once

#include <condition_variable>
#include <mutex>
#include <string>
#include <string_view>
#include <thread>

namespace kw::cli {

class Progress {
 public:
  Progress();
  ~Progress();
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;
  void now(std::string_view what);

 private:
  void run(const std::stop_token& stop);
  std::mutex mutex_ = {};
  std::condition_variable_any changed_ = {};
  std::string what_ = {};
  std::jthread thread_ = {};
};

}  // namespace kw::cli
