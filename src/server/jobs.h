// Work that takes its time, on threads of its own. Private to server.
#pragma once

#include <atomic>
#include <condition_variable>
#include <deque>
#include <functional>
#include <memory>
#include <mutex>
#include <thread>

#include "kerfwright/wire/replies.h"
#include "kerfwright/workbench/recompute.h"

namespace kw::serving {

// The plan of one revision, with all that it was made from.
struct MadePlan {
  std::int64_t revision = 0;
  Text text = {};
  Snapshot snapshot = {};
  ShopPlan plan = {};
};

// One piece of work: what is known of it, and whether it is to stop.
class Task {
 public:
  explicit Task(TaskReport report) : report_(std::move(report)) {}
  [[nodiscard]] TaskReport report() const;
  void change(const std::function<void(TaskReport&)>& how);
  void cancel() { is_cancelled_ = true; }
  [[nodiscard]] bool is_cancelled() const { return is_cancelled_; }
  [[nodiscard]] bool is_over() const;

 private:
  mutable std::mutex mutex_;
  TaskReport report_;
  std::atomic<bool> is_cancelled_ = false;
};

class Jobs {
 public:
  explicit Jobs(int threads);
  ~Jobs();
  [[nodiscard]] std::int64_t next_id() { return ++last_id_; }
  void run(std::function<void()> work);
  // No more work; what waits is dropped.
  void stop();

 private:
  void work();
  std::mutex mutex_;
  std::condition_variable wake_;
  std::deque<std::function<void()>> waiting_ = {};
  bool is_stopped_ = false;
  std::atomic<std::int64_t> last_id_ = 0;
  std::vector<std::thread> threads_ = {};
};

struct PlanWork {
  std::shared_ptr<Task> task = {};
  std::shared_ptr<MadePlan> plan = {};  // its text and snapshot are filled
  double seconds = 4;
  std::function<void(const TaskReport&)> tell = {};
  std::function<void(std::shared_ptr<const MadePlan>)> keep = {};
};
void make_plan(const PlanWork& work);

}  // namespace kw::serving
