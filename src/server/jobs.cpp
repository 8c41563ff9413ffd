#include "jobs.h"

#include <algorithm>
#include <chrono>
#include <fmt/core.h>

#include "kerfwright/planbook/lists.h"

namespace kw::serving {

TaskReport Task::report() const {
  const std::lock_guard lock(mutex_);
  return report_;
}

void Task::change(const std::function<void(TaskReport&)>& how) {
  const std::lock_guard lock(mutex_);
  how(report_);
}

bool Task::is_over() const {
  const TaskState state = report().state;
  return state != TaskState::waiting && state != TaskState::running;
}

Jobs::Jobs(int threads) {
  for (int i = 0; i < threads; ++i) threads_.emplace_back([this] { work(); });
}

Jobs::~Jobs() {
  stop();
  for (std::thread& thread : threads_) thread.join();
}

void Jobs::run(std::function<void()> work) {
  {
    const std::lock_guard lock(mutex_);
    if (is_stopped_) return;
    waiting_.push_back(std::move(work));
  }
  wake_.notify_one();
}

void Jobs::stop() {
  {
    const std::lock_guard lock(mutex_);
    is_stopped_ = true;
    waiting_.clear();
  }
  wake_.notify_all();
}

void Jobs::work() {
  while (true) {
    std::function<void()> next;
    {
      std::unique_lock lock(mutex_);
      wake_.wait(lock, [this] { return is_stopped_ || !waiting_.empty(); });
      if (is_stopped_) return;
      next = std::move(waiting_.front());
      waiting_.pop_front();
    }
    next();
  }
}

namespace {

class Telling {
 public:
  explicit Telling(const PlanWork& work) : work_(work) {}

  void now(TaskState state, const std::string& stage, std::optional<double> fraction,
           const std::string& words) {
    work_.task->change([&](TaskReport& report) {
      report.state = state;
      report.stage = stage;
      report.fraction = fraction;
      report.words = words;
    });
    work_.tell(work_.task->report());
  }

  // At most five times a second.
  bool progress(const Progress& progress) {
    if (work_.task->is_cancelled()) return false;
    if (progress.seconds < next_) return true;
    next_ = progress.seconds + 0.2;
    const std::string& currency = work_.plan->snapshot.piece.currency;
    const std::string words = progress.best ? fmt::format("best so far {}, at least {}",
                                                          written(*progress.best, currency),
                                                          written(progress.bound, currency))
                                            : "looking for a first plan";
    now(TaskState::running, "planning the sawing",
        std::clamp(progress.seconds / work_.seconds, 0.0, 1.0), words);
    return true;
  }

 private:
  const PlanWork& work_;
  double next_ = 0;
};

}  // namespace

void make_plan(const PlanWork& work) {
  Telling telling(work);
  if (work.task->is_cancelled()) {
    telling.now(TaskState::cancelled, "", std::nullopt, "stopped before it began");
    return;
  }
  telling.now(TaskState::running, "rounding the numbers", 0.0, "");
  Effort effort{.seconds = work.seconds};
  effort.on_progress = [&telling](const Progress& progress) { return telling.progress(progress); };
  work.plan->plan = plan_of(work.plan->snapshot, effort);
  if (work.task->is_cancelled()) {
    telling.now(TaskState::cancelled, "", std::nullopt, "stopped");
    return;
  }
  work.keep(work.plan);
  telling.now(TaskState::done, "", 1.0, "the plan is made");
}

}  // namespace kw::serving
