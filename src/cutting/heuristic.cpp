#include "heuristic.h"

#include <utility>

#include "best_fit.h"
#include "fill.h"
#include "improve.h"

namespace kw::cutting {
namespace {

constexpr double share_of_filling = 0.4;  // of all work; the rest improves
constexpr int least_rounds = 2;           // of filling, work permitting
constexpr int most_rounds = 60;
constexpr double share_after_proof = 0.05;

class Search {
 public:
  Search(const Model& model, std::int64_t bound, std::uint64_t seed, Work& work)
      : model_(model), bound_(bound), work_(work), random_(seed) {}

  Solution run() {
    by_best_fit();
    by_filling();
    improve(model_, random_, work_, best_, [&](const Solution& better) { tell(better); });
    for (Stick& stick : best_.sticks) nest(model_, stick);
    downgrade(model_, best_);
    return std::move(best_);
  }

 private:
  void by_best_fit() {
    for (const Begin begin :
         {Begin::cheapest_length, Begin::cheapest_bar, Begin::shortest, Begin::longest}) {
      if (has_one_ && work_.is_over()) return;
      Solution solution{{}, supply_of(model_)};
      work_.spend(fit_best(model_, begin, solution));
      consider(std::move(solution));
    }
  }

  void by_filling() {
    Worth worth = worth_by_length(model_, 0.05);
    const auto enough =
        static_cast<std::int64_t>(share_of_filling * static_cast<double>(work_.limit()));
    for (int round = 0; round < most_rounds && !work_.is_over(); ++round) {
      if (round >= least_rounds && (work_.done() > enough || is_proved())) break;
      Solution solution{{}, supply_of(model_)};
      fill(model_, worth, random_, work_, solution);
      // Where the work ended early, what is left is laid out the short way.
      work_.spend(fit_best(model_, Begin::cheapest_length, solution));
      consider(std::move(solution));
    }
  }

  void consider(Solution solution) {
    downgrade(model_, solution);
    const Score score = score_of(model_, solution.sticks, solution.left.kinds);
    if (has_one_ && best_score_ <= score) return;
    best_ = std::move(solution);
    best_score_ = score;
    has_one_ = true;
    tell(best_);
  }

  void tell(const Solution& better) {
    best_score_ = score_of(model_, better.sticks, better.left.kinds);
    if (best_score_.missing > 0) return work_.report({}, bound_);
    work_.report(best_score_.cost, bound_);
    if (is_proved()) {
      work_.leave(
          static_cast<std::int64_t>(share_after_proof * static_cast<double>(work_.limit())));
    }
  }

  [[nodiscard]] bool is_proved() const {
    return best_score_.missing == 0 && best_score_.cost == bound_;
  }

  const Model& model_;
  std::int64_t bound_ = 0;
  Work& work_;
  Random random_;
  bool has_one_ = false;
  Solution best_ = {};
  Score best_score_ = {};
};

}  // namespace

Solution heuristic(const Model& model, std::int64_t bound, std::uint64_t seed, Work& work) {
  return Search(model, bound, seed, work).run();
}

}  // namespace kw::cutting
