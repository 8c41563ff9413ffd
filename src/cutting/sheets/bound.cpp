#include "bound.h"

#include <algorithm>
#include <numeric>

namespace kw::cutting::sheets {
namespace {

// A superadditive function on 0 .. capacity (Fekete and Schepers 2001; Carlier, Clautiaux and
// Moukrim 2007; from memory). Each is a step function scaled to whole numbers.
struct Scale {
  enum class Form : std::uint8_t { plain, clip, steps, fractions };
  Form form = Form::plain;
  std::int64_t capacity = 1, k = 0;

  [[nodiscard]] Wide operator()(std::int64_t x) const {
    switch (form) {
      case Form::plain:
        return x;
      case Form::clip:
        return x > capacity - k ? capacity : (x < k ? 0 : x);
      case Form::steps:
        if (2 * x < capacity) return 2 * (x / k);
        if (2 * x == capacity) return capacity / k;
        return 2 * (capacity / k - (capacity - x) / k);
      case Form::fractions:
        break;
    }
    const Wide steps = Wide{k + 1} * x;
    return steps % capacity == 0 ? Wide{k} * x : capacity * (steps / capacity);
  }
};

constexpr std::size_t most_steps = 48;  // an axis and a form

std::vector<Scale> scales_for(std::int64_t capacity, std::vector<std::int64_t> sizes) {
  std::vector<Scale> scales{{.capacity = capacity}};
  for (std::int64_t k = 1; k <= 6; ++k) scales.push_back({Scale::Form::fractions, capacity, k});
  for (std::int64_t& s : sizes) s = s > capacity / 2 ? capacity - s + 1 : s;
  std::sort(sizes.begin(), sizes.end());
  sizes.erase(std::unique(sizes.begin(), sizes.end()), sizes.end());
  const std::size_t step = std::max<std::size_t>(1, sizes.size() / most_steps);
  for (std::size_t i = 0; i < sizes.size(); i += step) {
    if (2 * sizes[i] > capacity || sizes[i] < 1) continue;
    scales.push_back({Scale::Form::clip, capacity, sizes[i]});
    scales.push_back({Scale::Form::steps, capacity, sizes[i]});
  }
  return scales;
}

class Bounding {
 public:
  explicit Bounding(const Model& model) : model_(model) {
    for (const Board& b : model.boards) {
      largest_.l = std::max(largest_.l, b.size.l);
      largest_.w = std::max(largest_.w, b.size.w);
    }
    worth_.resize(model.boards.size());
  }

  std::optional<std::int64_t> run(Work& work) {
    std::vector<std::int64_t> along, across;
    for (const Kind& k : model_.kinds) {
      along.push_back(k.size.l);
      across.push_back(k.size.w);
      if (!k.turns) continue;
      along.push_back(k.size.w);
      across.push_back(k.size.l);
    }
    std::int64_t best = 0;
    for (const Scale& f : scales_for(largest_.l, along)) {
      for (const Scale& g : scales_for(largest_.w, across)) {
        const auto bound = with(f, g);
        if (!bound) return std::nullopt;
        best = std::max(best, *bound);
        if (!work.spend(static_cast<std::int64_t>(model_.kinds.size()) * 4)) return best;
      }
    }
    return best;
  }

 private:
  [[nodiscard]] std::optional<std::int64_t> with(const Scale& f, const Scale& g) {
    Wide needed = 0;
    for (const Kind& k : model_.kinds) {
      const Wide upright = f(k.size.l) * g(k.size.w);
      const bool stands = largest_.holds(k.size), lies = k.turns && largest_.holds(turned(k.size));
      Wide least = upright;
      if (lies) {
        const Wide flat = f(k.size.w) * g(k.size.l);
        least = stands ? std::min(upright, flat) : flat;
      }
      needed += least * k.count;
    }
    for (std::size_t b = 0; b < worth_.size(); ++b)
      worth_[b] = f(model_.boards[b].size.l) * g(model_.boards[b].size.w);
    return least_price(model_, worth_, needed);
  }

  const Model& model_;
  Size largest_ = {};
  std::vector<Wide> worth_ = {};
};

}  // namespace

std::optional<std::int64_t> least_price(const Model& model, const std::vector<Wide>& worth,
                                        Wide needed) {
  std::vector<std::size_t> order;
  std::int64_t step = 0;
  for (std::size_t b = 0; b < worth.size(); ++b) {
    if (worth[b] > 0) order.push_back(b);
    step = std::gcd(step, model.boards[b].price);
  }
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return model.boards[a].price * worth[b] < model.boards[b].price * worth[a];
  });
  Wide cost = 0;
  for (const std::size_t b : order) {
    if (needed <= 0) break;
    const Board& board = model.boards[b];
    const Wide whole = std::min<Wide>(needed / worth[b], board.copies);
    cost += whole * board.price;
    needed -= whole * worth[b];
    if (needed <= 0 || whole == board.copies) continue;
    cost += (needed * board.price + worth[b] - 1) / worth[b];
    needed = 0;
  }
  if (needed > 0) return std::nullopt;
  if (step > 0) cost = (cost + step - 1) / step * step;
  return static_cast<std::int64_t>(cost);
}

std::optional<std::int64_t> least_cost(const Model& model, Work& work) {
  return Bounding(model).run(work);
}

}  // namespace kw::cutting::sheets
