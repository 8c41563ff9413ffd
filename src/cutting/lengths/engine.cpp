#include "lengths/engine.h"

#include "lengths/prove.h"

namespace kw::cutting::lengths {

void improve_to_proof(const Model& model, Work& work, Solution& solution, std::int64_t& bound) {
  const Instance instance = instance_of(model);
  Proof proof{patterns_of(model, solution), 0, bound};
  for (const Laid& l : proof.best) proof.cost += l.times * instance.bins[at(l.pattern.bin)].cost;
  const std::int64_t before = proof.cost;
  work.report(proof.cost, proof.bound);
  prove(
      instance, [&](std::int64_t units) { return work.spend(units); },
      [&](const Proof& now) { work.report(now.cost, now.bound); }, proof);
  bound = proof.bound;
  if (proof.cost < before) solution = solution_of(model, proof.best);
}

}  // namespace kw::cutting::lengths
