// Any problem is refused with a reason or solved by a plan that the judge accepts, and no bound
// lies above the cost of a plan. Small problems, some with wild numbers.
#include <algorithm>
#include <cstdint>
#include <cstring>
#include <span>

#include "kerfwright/cutting/problem.h"

#include "require.h"

namespace {

using kw::fuzz::require;

// Numbers off the front of the input; zeros when it is used up.
class Bytes {
 public:
  explicit Bytes(std::span<const std::uint8_t> left) : left_(left) {}

  template <class T>
  T take() {
    T value{};
    const std::size_t n = std::min(sizeof(T), left_.size());
    std::memcpy(&value, left_.data(), n);
    left_ = left_.subspan(n);
    return value;
  }

  int upto(int most) { return take<std::uint8_t>() % (most + 1); }

  // Sixteenths of an inch up to 34 ft; one time in 32 any number of ticks at all.
  kw::Length length() {
    if (upto(31) == 31) return kw::Length::ticks(take<std::int64_t>());
    return kw::Length::ticks(kw::Length::ticks_per_inch / 16 * (take<std::uint16_t>() % 6528));
  }

  // Up to two to one either way; one time in 32 any double at all.
  double slope() {
    const int kind = upto(31);
    if (kind == 31) return take<double>();
    return kind < 16 ? 0 : take<std::int8_t>() / 64.0;
  }

 private:
  std::span<const std::uint8_t> left_;
};

kw::Problem problem_of(Bytes bytes) {
  kw::Problem problem;
  problem.width = bytes.length();
  problem.saw = {.kerf = kw::Length::inches(bytes.upto(32) / 64.0),
                 .end_trim = kw::Length::inches(bytes.upto(32) / 16.0)};
  problem.shortest_offcut = bytes.length();
  for (int kinds = bytes.upto(2); kinds >= 0; --kinds) {
    kw::Stock stock{.name = "stick", .length = bytes.length(), .price = {bytes.upto(255) * 10}};
    if (bytes.upto(1) == 1) stock.count = bytes.upto(4) - 1;
    problem.stocks.push_back(stock);
  }
  for (int kinds = bytes.upto(4); kinds >= 0; --kinds) {
    problem.demands.push_back({.name = "part",
                               .length = bytes.length(),
                               .count = bytes.upto(6) - 1,
                               .left_slope = bytes.slope(),
                               .right_slope = bytes.slope(),
                               .may_flip = bytes.upto(1) == 1,
                               .may_turn = bytes.upto(1) == 1});
  }
  return problem;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t count) {
  const kw::Problem problem = problem_of(Bytes({bytes, count}));
  const kw::Diagnostics faults = kw::validate(problem);
  const auto plan = kw::optimise(problem, {.seconds = 5, .work = 20'000});
  require(static_cast<bool>(plan) != kw::has_errors(plan.diagnostics()));
  if (kw::has_errors(faults)) {
    require(!plan);
    return 0;
  }
  if (!plan) return 0;
  require(kw::verify(problem, *plan).empty());
  require(plan->bound <= plan->cost && plan->is_proved == (plan->bound == plan->cost));
  require(kw::lower_bound(problem) <= plan->cost);
  return 0;
}
