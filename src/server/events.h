// Who listens to what happens. Private to server.
#pragma once

#include <deque>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

namespace kw::serving {

// One listener's events, waiting to be sent. `wake` is called after each that is added, from any
// thread.
class Listener {
 public:
  explicit Listener(std::string piece) : piece_(std::move(piece)) {}
  // The next text to send, as server-sent events are written (WHATWG HTML, 9.2).
  [[nodiscard]] std::optional<std::string> take();
  void add(const std::string& text);
  void on_wake(std::function<void()> wake);
  void close();
  [[nodiscard]] bool is_closed() const;
  [[nodiscard]] bool wants(const std::string& piece) const {
    return piece_.empty() || piece_ == piece;
  }

 private:
  mutable std::mutex mutex_;
  std::string piece_;
  std::deque<std::string> waiting_ = {};
  std::function<void()> wake_ = {};
  bool is_closed_ = false;
};

class Events {
 public:
  [[nodiscard]] std::shared_ptr<Listener> listen(const std::string& piece);
  void tell(const std::string& piece, const std::string& name, const std::string& json);
  void close_all();

 private:
  std::mutex mutex_;
  std::vector<std::weak_ptr<Listener>> listeners_ = {};
};

}  // namespace kw::serving
