#include "lengths/prove.h"

#include <algorithm>

#include "lengths/dive.h"
#include "lengths/settle.h"

namespace kw::cutting::lengths {
namespace {

constexpr int lucky_dives = 18;
constexpr int lucky_far_dives = 8;  // with several stocks, which the tree then dives for

class Prover {
 public:
  Prover(const Instance& instance, const Spend& spend, const Tell& tell, Proof& proof)
      : instance_(instance),
        spend_(spend),
        tell_(tell),
        proof_(proof),
        relaxation_(instance, spend) {
    for (const Laid& l : proof.best) relaxation_.add(l.pattern);
  }

  void run() {
    if (proof_.cost - proof_.bound > instance_.step && !bound_by_relaxation()) return;
    bool is_far_hopeless = false;
    while (proof_.bound < proof_.cost) {
      const std::int64_t far = proof_.cost - instance_.step;
      const bool is_near =
          instance_.bins.size() == 1 || (proof_.cost - proof_.bound) / instance_.step <= 3;
      const std::int64_t target = is_near || is_far_hopeless ? proof_.bound : far;
      if (settle(target)) continue;
      // From below, step by step: fewer patterns matter for a lower target.
      if (target == proof_.bound || !spend_(0)) return;
      is_far_hopeless = true;
    }
  }

 private:
  [[nodiscard]] Stand whole_stand(std::int64_t target) const {
    return stand_of(instance_, rest_of(instance_), target);
  }

  void raise(std::int64_t bound) {
    bound = (bound + instance_.step - 1) / instance_.step * instance_.step;
    if (bound <= proof_.bound) return;
    proof_.bound = std::min(bound, proof_.cost);
    tell_(proof_);
  }

  void improve(std::vector<Laid> plan) {
    std::int64_t cost = 0;
    for (const Laid& l : plan) cost += l.times * instance_.bins[at(l.pattern.bin)].cost;
    if (cost >= proof_.cost) return;
    proof_.cost = cost;
    proof_.best = std::move(plan);
    tell_(proof_);
  }

  // Without leaving any pattern out.
  bool bound_by_relaxation() {
    Stand stand = whole_stand(proof_.cost - instance_.step);
    for (std::size_t b = 0; b < stand.waste.size(); ++b)
      stand.waste[b] = instance_.bins[b].capacity;
    const Generated how = relaxation_.generate(stand, Until::bound_known);
    if (how == Generated::stopped) return false;
    if (how == Generated::above) {
      raise(proof_.cost);
    } else {
      raise(relaxation_.best().bound());
    }
    return true;
  }

  // Finds a plan within the target or proves that there is none; false when it can do neither.
  bool settle(std::int64_t target) {
    const Stand stand = whole_stand(target);
    const Generated how = relaxation_.generate(stand, Until::affordable);
    if (how == Generated::stopped) return false;
    if (how == Generated::above) return raise(target + 1), true;
    if (const auto known = dives(stand)) return *known;
    // Of several stocks many costs lie below a far target: the tree is for the nearest one.
    if (instance_.bins.size() > 1 && target != proof_.bound) return false;
    Settled settled = lengths::settle(instance_, stand, proof_.bound, spend_, relaxation_);
    if (settled.plan) return improve(std::move(*settled.plan)), true;
    if (settled.is_proved) raise(target + 1);
    return settled.is_proved;
  }

  // True when one has found a plan, false when the work is over.
  std::optional<bool> dives(const Stand& stand) {
    // Where all bins cost the same, a plan that costs a step more is worth having, too.
    const std::int64_t spare =
        instance_.bins.size() == 1 ? proof_.cost - instance_.step - stand.target : 0;
    const DiveHow with_second{.second_choices = 2, .steps = instance_.bins.size() == 1 ? 200 : 400};
    const int lucky = instance_.bins.size() == 1     ? lucky_dives
                      : stand.target == proof_.bound ? 0
                                                     : lucky_far_dives;
    std::vector<DiveHow> ways{{.steps = 10'000, .spare = spare}};
    if (instance_.bins.size() > 1) ways.push_back(with_second);
    for (int i = 1; i <= lucky; ++i) {
      ways.push_back({.steps = 10'000, .seed = static_cast<std::uint64_t>(i)});
      if (instance_.bins.size() == 1 && i == lucky / 3) ways.push_back(with_second);
    }
    for (const DiveHow& how : ways) {
      Dived dived = dive(instance_, stand, how, relaxation_);
      if (dived.is_stopped) return false;
      if (!dived.plan) continue;
      improve(std::move(*dived.plan));
      return true;
    }
    return std::nullopt;
  }

  const Instance& instance_;
  const Spend& spend_;
  const Tell& tell_;
  Proof& proof_;
  Relaxation relaxation_;
};

}  // namespace

void prove(const Instance& instance, const Spend& spend, const Tell& tell, Proof& proof) {
  Prover(instance, spend, tell, proof).run();
}

}  // namespace kw::cutting::lengths
