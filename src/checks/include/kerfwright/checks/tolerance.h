// What small errors of stock and saw add up to: chances by seeded draws, and the worst case.
//
// A gap is a sum of errors, each times how much the gap changes with it. Where the sum is not
// linear the caller brings a function instead. Pure: the same seed gives the same figures on every
// machine (the generator and the normal deviates are our own, not the library's).
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

namespace kw {

// An independent error. `spread` is its standard deviation, `limit` what it never passes.
struct ErrorSource {
  std::string name = {};  // "marking", "thickness of leg"
  double mean = 0, spread = 0, limit = 0;
};

// Standard deviations used by the checks, mm and degrees (common practice, no published source, but
// the thickness limits of PS 1-19 and EN 336 for what is bought).
struct ShopErrors {
  double marking = 0.4, stop = 0.2, kerf = 0.1, saw_degrees = 0.15, rip = 0.4;
  double thickness = 0.3, width = 0.5, cup = 0.3;
};

// How much a gap changes with one error: d gap / d error.
struct Effect {
  int source = 0;
  double change = 0;
};

// One thing that should close: it does when its value lies from `least` to `most`.
struct Gap {
  std::string name = {};
  double exact = 0;  // without errors
  std::vector<Effect> effects = {};
  double least = 0, most = 0;
};

struct GapAnswer {
  double mean = 0, spread = 0;           // drawn
  double low = 0, high = 0;              // 5 and 95 in a hundred
  double worst_low = 0, worst_high = 0;  // every error at its limit
  double chance = 0;                     // that it closes
};
struct Care {
  int source = 0;
  double share = 0;  // of the variance of all gaps, each in parts of its own allowance
};
struct ToleranceAnswer {
  std::vector<GapAnswer> gaps = {};
  double chance_of_all = 0;
  std::vector<Care> care = {};  // most first: take most care over this
  int draws = 0;                // made; fewer than asked when stopped
};

struct Draws {
  int count = 10'000;
  std::uint64_t seed = 1;
  // Told the share done; false stops.
  std::function<bool(double)> progress = {};
};
[[nodiscard]] ToleranceAnswer draw_gaps(const std::vector<ErrorSource>& sources,
                                        const std::vector<Gap>& gaps, const Draws& draws);

// The ease that makes one gap close with a chance of `wanted`, were it added to `most`; 0 when it
// does already.
[[nodiscard]] double ease_for(const GapAnswer& answer, const Gap& gap, double wanted);

// A generator of normal deviates, reproducible everywhere: splitmix64, then Marsaglia's polar
// method.
class Normals {
 public:
  explicit Normals(std::uint64_t seed) : state_(seed) {}
  [[nodiscard]] double next();
  [[nodiscard]] double uniform();  // in [0, 1)

 private:
  std::uint64_t state_;
  double spare_ = 0;
  bool has_spare_ = false;
};

}  // namespace kw
