#include "lengths/dive.h"

#include <algorithm>
#include <cmath>

#include "work.h"

namespace kw::cutting::lengths {
namespace {

constexpr double whole_within = 1e-6;
constexpr double nearly = 0.9;   // fixed together with the first one
constexpr int most_choices = 3;  // at one place
constexpr double luck = 0.5;     // share of a fullness that it may decide

class Diver {
 public:
  Diver(const Instance& instance, const DiveHow& how, Relaxation& relaxation)
      : instance_(instance),
        relaxation_(relaxation),
        steps_left_(how.steps),
        spare_(how.spare),
        has_luck_(how.seed != 0),
        random_(how.seed) {}

  bool down(Stand stand, int second_choices, int depth) {
    if (std::all_of(stand.rest.counts.begin(), stand.rest.counts.end(),
                    [](int n) { return n == 0; }))
      return stand.target >= 0;
    if (!reaches(stand)) return false;
    const std::vector<Use> used = in_order(relaxation_.used());
    const int choices = depth < 6 ? std::min(second_choices + 1, most_choices) : 1;
    for (int choice = 0; choice < choices; ++choice) {
      if (choice >= static_cast<int>(used.size())) break;
      const std::size_t before = laid_.size();
      Stand next = fixed(stand, used, at(choice));
      if (laid_.size() == before) break;
      if (down(next, second_choices - choice, depth + 1)) return true;
      laid_.resize(before);
      if (is_stopped_) return false;
    }
    return false;
  }

  [[nodiscard]] bool is_stopped() const { return is_stopped_; }
  [[nodiscard]] const std::vector<Laid>& laid() const { return laid_; }

 private:
  // Whether the relaxation comes within the target, raised by what is spare.
  bool reaches(Stand& stand) {
    for (;;) {
      if (steps_left_-- <= 0) return false;
      if (stand.target >= 0) {
        const Generated how = relaxation_.generate(stand, Until::affordable);
        if (how == Generated::stopped) is_stopped_ = true;
        if (is_stopped_) return false;
        const double slack = 1e-6 * static_cast<double>(instance_.dearest);
        if (how != Generated::above &&
            relaxation_.value() <= static_cast<double>(stand.target) + slack)
          return true;
      }
      if (spare_ < instance_.step) return false;
      spare_ -= instance_.step;
      stand = stand_of(instance_, std::move(stand.rest), stand.target + instance_.step);
    }
  }

  // The fullest use first; whole ones before all others.
  std::vector<Use> in_order(std::vector<Use> used) {
    std::vector<std::pair<double, Use>> by_fullness;
    for (Use& u : used) {
      const double down = std::floor(u.times + whole_within);
      double part = std::max(u.times - down, 0.0);
      if (has_luck_) part *= random_.between(1 - luck, 1);
      by_fullness.emplace_back(part + (down > 0 ? 1 : 0), std::move(u));
    }
    std::sort(by_fullness.begin(), by_fullness.end(), [&](const auto& a, const auto& b) {
      return a.first != b.first ? a.first > b.first : a.second.pattern < b.second.pattern;
    });
    used.clear();
    for (auto& [part, u] : by_fullness) used.push_back(std::move(u));
    return used;
  }

  // Whole parts down of all, and those that are nearly whole; where there are none, one more of
  // the chosen one.
  Stand fixed(const Stand& stand, const std::vector<Use>& used, std::size_t choice) {
    Rest rest = stand.rest;
    std::int64_t target = stand.target;
    const auto take = [&](const Pattern& pattern, int times) {
      int fit = std::min(times, rest.copies[at(pattern.bin)]);
      for (const auto& [type, count] : pattern.parts)
        fit = std::min(fit, rest.counts[at(type)] / count);
      if (fit <= 0) return;
      for (const auto& [type, count] : pattern.parts) rest.counts[at(type)] -= fit * count;
      rest.copies[at(pattern.bin)] -= fit;
      rest.least[at(pattern.bin)] = std::max(rest.least[at(pattern.bin)] - fit, 0);
      target -= fit * instance_.bins[at(pattern.bin)].cost;
      laid_.push_back({pattern, fit});
    };
    if (choice > 0) {
      take(used[choice].pattern, std::max(1, static_cast<int>(std::floor(used[choice].times))));
    } else {
      bool has_whole = false;
      for (const Use& u : used) {
        const double down = std::floor(u.times + 1 - nearly);
        if (down < 1) continue;
        has_whole = true;
        take(u.pattern, static_cast<int>(down));
      }
      if (!has_whole) take(used.front().pattern, 1);
    }
    return stand_of(instance_, std::move(rest), target);
  }

  const Instance& instance_;
  Relaxation& relaxation_;
  int steps_left_ = 0;
  std::int64_t spare_ = 0;
  bool has_luck_ = false;
  Random random_;
  bool is_stopped_ = false;
  std::vector<Laid> laid_ = {};
};

}  // namespace

Dived dive(const Instance& instance, const Stand& stand, const DiveHow& how,
           Relaxation& relaxation) {
  Diver diver(instance, how, relaxation);
  Dived dived;
  if (diver.down(stand, how.second_choices, 0)) dived.plan = diver.laid();
  dived.is_stopped = diver.is_stopped();
  return dived;
}

}  // namespace kw::cutting::lengths
