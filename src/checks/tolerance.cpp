#include "kerfwright/checks/tolerance.h"

#include <algorithm>
#include <cmath>

namespace kw {
namespace {

constexpr int between_reports = 256;

std::size_t at(int index) {
  return static_cast<std::size_t>(index);
}

double drawn(const ErrorSource& source, Normals& normals) {
  double error = source.spread * normals.next();
  if (source.limit > 0) error = std::clamp(error, -source.limit, source.limit);
  return source.mean + error;
}

double limit_of(const ErrorSource& source) {
  return source.limit > 0 ? source.limit : 3 * source.spread;
}

// Partial sums of one gap over the draws.
struct Tally {
  std::vector<double> drawn = {};
  int closed = 0;
};

GapAnswer answer_of(Tally& tally, const Gap& gap, const std::vector<ErrorSource>& sources) {
  GapAnswer answer;
  double reach = 0, mean = gap.exact;
  for (const Effect& effect : gap.effects) {
    const ErrorSource& source = sources[at(effect.source)];
    reach += std::abs(effect.change) * limit_of(source);
    mean += effect.change * source.mean;
  }
  answer.worst_low = mean - reach;
  answer.worst_high = mean + reach;
  if (tally.drawn.empty()) return answer;
  const double n = static_cast<double>(tally.drawn.size());
  double sum = 0, squares = 0;
  for (const double value : tally.drawn) sum += value;
  answer.mean = sum / n;
  for (const double value : tally.drawn) squares += (value - answer.mean) * (value - answer.mean);
  answer.spread = std::sqrt(squares / n);
  std::sort(tally.drawn.begin(), tally.drawn.end());
  answer.low = tally.drawn[static_cast<std::size_t>(0.05 * (n - 1))];
  answer.high = tally.drawn[static_cast<std::size_t>(0.95 * (n - 1))];
  answer.chance = tally.closed / n;
  return answer;
}

std::vector<Care> care_of(const std::vector<ErrorSource>& sources, const std::vector<Gap>& gaps) {
  std::vector<Care> care;
  for (std::size_t i = 0; i < sources.size(); ++i) care.push_back({static_cast<int>(i), 0});
  double whole = 0;
  for (const Gap& gap : gaps) {
    const double allowed = std::max(1e-9, gap.most - gap.least);
    for (const Effect& effect : gap.effects) {
      const double part = effect.change * sources[at(effect.source)].spread / allowed;
      care[at(effect.source)].share += part * part;
      whole += part * part;
    }
  }
  for (Care& one : care) one.share = whole > 0 ? one.share / whole : 0;
  std::stable_sort(care.begin(), care.end(),
                   [](const Care& a, const Care& b) { return a.share > b.share; });
  return care;
}

}  // namespace

double Normals::uniform() {
  state_ += 0x9e3779b97f4a7c15ULL;
  std::uint64_t z = state_;
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
  z ^= z >> 31;
  return static_cast<double>(z >> 11) * 0x1.0p-53;
}

double Normals::next() {
  has_spare_ = !has_spare_;
  if (!has_spare_) return spare_;
  double u = 0, v = 0, s = 0;
  do {
    u = 2 * uniform() - 1;
    v = 2 * uniform() - 1;
    s = u * u + v * v;
  } while (s >= 1 || s == 0);
  const double scale = std::sqrt(-2 * std::log(s) / s);
  spare_ = v * scale;
  return u * scale;
}

ToleranceAnswer draw_gaps(const std::vector<ErrorSource>& sources, const std::vector<Gap>& gaps,
                          const Draws& draws) {
  ToleranceAnswer answer{.care = care_of(sources, gaps)};
  Normals normals(draws.seed);
  std::vector<Tally> tallies(gaps.size());
  std::vector<double> errors(sources.size());
  int all_closed = 0;
  for (int i = 0; i < draws.count; ++i) {
    if (draws.progress && i % between_reports == 0 &&
        !draws.progress(static_cast<double>(i) / draws.count))
      break;
    for (std::size_t s = 0; s < sources.size(); ++s) errors[s] = drawn(sources[s], normals);
    bool closes = true;
    for (std::size_t g = 0; g < gaps.size(); ++g) {
      double value = gaps[g].exact;
      for (const Effect& effect : gaps[g].effects)
        value += effect.change * errors[at(effect.source)];
      const bool is_closed = value >= gaps[g].least && value <= gaps[g].most;
      closes = closes && is_closed;
      tallies[g].closed += is_closed ? 1 : 0;
      tallies[g].drawn.push_back(value);
    }
    all_closed += closes ? 1 : 0;
    ++answer.draws;
  }
  for (std::size_t g = 0; g < gaps.size(); ++g)
    answer.gaps.push_back(answer_of(tallies[g], gaps[g], sources));
  if (answer.draws > 0) answer.chance_of_all = static_cast<double>(all_closed) / answer.draws;
  return answer;
}

double ease_for(const GapAnswer& answer, const Gap& gap, double wanted) {
  if (answer.chance >= wanted) return 0;
  return std::max({0.0, answer.high - gap.most, gap.least - answer.low});
}

}  // namespace kw
