#include "instance.h"

#include <algorithm>
#include <map>
#include <numeric>

namespace kw::cutting::lengths {

Instance instance_of(const Model& model) {
  Instance instance;
  instance.parts = model.parts;
  for (const Kind& kind : model.kinds)
    instance.types.push_back({kind.size / model.divisor, kind.count});
  std::int64_t step = 0;
  for (const Bar& bar : model.bars) {
    instance.bins.push_back({(bar.usable + model.margin) / model.divisor, bar.price, bar.copies,
                             bar.copies < model.parts});
    step = std::gcd(step, bar.price);
    instance.dearest = std::max(instance.dearest, bar.price);
  }
  instance.step = std::max<std::int64_t>(step, 1);
  return instance;
}

std::int64_t size_of(const Instance& instance, const Pattern& pattern) {
  std::int64_t size = 0;
  for (const auto& [type, count] : pattern.parts) size += count * instance.types[at(type)].size;
  return size;
}

std::vector<Laid> patterns_of(const Model&, const Solution& solution) {
  std::map<Pattern, int> times;
  for (const Stick& stick : solution.sticks) {
    std::map<int, int> counts;
    for (const Cut& cut : stick.cuts) ++counts[cut.kind];
    ++times[{stick.bar, {counts.begin(), counts.end()}}];
  }
  std::vector<Laid> laid;
  for (const auto& [pattern, n] : times) laid.push_back({pattern, n});
  return laid;
}

Solution solution_of(const Model& model, const std::vector<Laid>& laid) {
  Solution solution{{}, supply_of(model)};
  for (const Laid& l : laid) {
    for (int n = 0; n < l.times; ++n) {
      Stick stick{l.pattern.bin, 0, {}};
      for (const auto& [type, count] : l.pattern.parts) {
        int& left = solution.left.kinds[at(type)];
        const int made = std::min(left, count);
        left -= made;
        stick.cuts.insert(stick.cuts.end(), at(made), Cut{type, 0});
      }
      if (stick.cuts.empty()) continue;
      stick.used = length_of(model, stick);
      --solution.left.bars[at(l.pattern.bin)];
      solution.sticks.push_back(std::move(stick));
    }
  }
  return solution;
}

}  // namespace kw::cutting::lengths
