#include "events.h"

#include <fmt/core.h>

namespace kw::serving {

// A listener that does not take its events is let go: the page asks again and loads everything.
constexpr std::size_t most_waiting = 1000;

std::optional<std::string> Listener::take() {
  const std::lock_guard lock(mutex_);
  if (waiting_.empty()) return std::nullopt;
  std::string text = std::move(waiting_.front());
  waiting_.pop_front();
  return text;
}

void Listener::add(const std::string& text) {
  std::function<void()> wake;
  {
    const std::lock_guard lock(mutex_);
    if (is_closed_) return;
    if (waiting_.size() >= most_waiting) is_closed_ = true;
    if (!is_closed_) waiting_.push_back(text);
    wake = wake_;
  }
  if (wake) wake();
}

void Listener::on_wake(std::function<void()> wake) {
  const std::lock_guard lock(mutex_);
  wake_ = std::move(wake);
}

void Listener::close() {
  std::function<void()> wake;
  {
    const std::lock_guard lock(mutex_);
    is_closed_ = true;
    wake = wake_;
  }
  if (wake) wake();
}

bool Listener::is_closed() const {
  const std::lock_guard lock(mutex_);
  return is_closed_;
}

std::shared_ptr<Listener> Events::listen(const std::string& piece) {
  auto listener = std::make_shared<Listener>(piece);
  const std::lock_guard lock(mutex_);
  std::erase_if(listeners_, [](const auto& one) { return one.expired(); });
  listeners_.push_back(listener);
  return listener;
}

void Events::tell(const std::string& piece, const std::string& name, const std::string& json) {
  const std::string text = fmt::format("event: {}\ndata: {}\n\n", name, json);
  std::vector<std::shared_ptr<Listener>> wanted;
  {
    const std::lock_guard lock(mutex_);
    for (const auto& one : listeners_)
      if (auto listener = one.lock(); listener && listener->wants(piece))
        wanted.push_back(std::move(listener));
  }
  for (const auto& listener : wanted) listener->add(text);
}

void Events::close_all() {
  std::vector<std::weak_ptr<Listener>> all;
  {
    const std::lock_guard lock(mutex_);
    all.swap(listeners_);
  }
  for (const auto& one : all)
    if (const auto listener = one.lock()) listener->close();
}

}  // namespace kw::serving
