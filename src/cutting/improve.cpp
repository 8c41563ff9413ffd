#include "improve.h"

#include <algorithm>

#include "best_fit.h"
#include "fill.h"

namespace kw::cutting {
namespace {

constexpr std::size_t most_parts = 60;     // laid out anew at a time
constexpr std::int64_t step_work = 2'000;  // of one step beside its tables

class Improver {
 public:
  Improver(const Model& model, Random& random, Work& work, Solution& solution)
      : model_(model), random_(random), work_(work), solution_(solution) {}

  // True when less is missing or less is paid.
  bool step() {
    const std::vector<std::size_t> chosen = choose();
    std::vector<Stick> old;
    Solution part;
    part.left = solution_.left;
    for (const std::size_t s : chosen) {
      const Stick& stick = solution_.sticks[s];
      for (const Cut& cut : stick.cuts) ++part.left.kinds[static_cast<std::size_t>(cut.kind)];
      ++part.left.bars[static_cast<std::size_t>(stick.bar)];
      old.push_back(stick);
    }
    const Score before = score_of(model_, old, solution_.left.kinds);
    lay_out(part);
    const Score after = score_of(model_, part.sticks, part.left.kinds);
    if (after > before) return false;
    put_back(chosen, std::move(part));
    return std::pair(after.missing, after.cost) < std::pair(before.missing, before.cost);
  }

 private:
  // Two to five sticks, those with more room rather than those with less.
  std::vector<std::size_t> choose() {
    std::vector<std::size_t> chosen;
    std::size_t parts = 0;
    const int most = 2 + random_.under(4);
    for (int i = 0; i < most && chosen.size() < solution_.sticks.size(); ++i) {
      std::size_t s = any();
      for (int rival = random_.under(4); rival > 0; --rival) s = roomier(s, any());
      if (std::find(chosen.begin(), chosen.end(), s) != chosen.end()) continue;
      parts += solution_.sticks[s].cuts.size();
      if (parts > most_parts && !chosen.empty()) break;
      chosen.push_back(s);
    }
    return chosen;
  }

  std::size_t any() { return static_cast<std::size_t>(random_.under(solution_.sticks.size())); }

  std::size_t roomier(std::size_t a, std::size_t b) const {
    return room_on(model_, solution_.sticks[a]) >= room_on(model_, solution_.sticks[b]) ? a : b;
  }

  void lay_out(Solution& part) {
    Worth worth = worth_by_length(model_, random_.between(0, 0.5));
    constexpr double noises[] = {0, 0.05, 0.2, 0.5};
    const double noise = noises[random_.under(4)];
    for (double& w : worth) w *= 1 + noise * random_.between(-1, 1);
    fill(model_, worth, random_, work_, part);
    downgrade(model_, part);
    work_.spend(step_work);
  }

  void put_back(std::vector<std::size_t> chosen, Solution part) {
    std::sort(chosen.begin(), chosen.end());
    while (!chosen.empty()) {
      std::swap(solution_.sticks[chosen.back()], solution_.sticks.back());
      solution_.sticks.pop_back();
      chosen.pop_back();
    }
    for (Stick& stick : part.sticks) solution_.sticks.push_back(std::move(stick));
    solution_.left = std::move(part.left);
  }

  const Model& model_;
  Random& random_;
  Work& work_;
  Solution& solution_;
};

}  // namespace

void improve(const Model& model, Random& random, Work& work, Solution& solution,
             const std::function<void(const Solution&)>& on_better) {
  Improver improver(model, random, work, solution);
  while (!work.is_over() && !solution.sticks.empty()) {
    if (improver.step()) on_better(solution);
  }
}

}  // namespace kw::cutting
