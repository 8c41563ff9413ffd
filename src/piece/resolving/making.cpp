#include "making.h"

#include <algorithm>
#include <cmath>

namespace kw::resolving {
namespace {

enum class Naming : std::uint8_t { source_first, own_first };

bool are_close(const Features& a, const Features& b) {
  if (a.cuts.size() != 1 || b.cuts.size() != 1) return false;
  const Plane &p = a.cuts.front().plane, &q = b.cuts.front().plane;
  return norm(p.normal - q.normal) < 1e-9 && std::abs(p.offset - q.offset) < 1e-6;
}

// What the copy has from its source.
std::optional<Features> inherited(const Part& part,
                                  const std::vector<std::optional<Features>>& made) {
  if (part.source < 0 || !made[at_index(part.source)]) return std::nullopt;
  const Features& of_source = *made[at_index(part.source)];
  return part.is_flipped ? flipped(of_source) : of_source;
}

bool can_afford(Work& work, const Features& features, Span at) {
  std::size_t letters = 0;
  for (const PlaneCut& cut : features.cuts) letters += cut.name.size();
  for (const ResolvedHole& hole : features.holes) letters += hole.name.size();
  return spend_letters(work, letters, at) &&
         spend(work, work.budget.features, size_of(features), at, "cuts and holes");
}

void make_in_order(Scene& scene, const std::vector<Name>& of, Span at, const Make& make,
                   Naming naming) {
  std::vector<bool> is_named(scene.parts.size());
  for (const int i : select(scene, of)) is_named[at_index(i)] = true;
  std::vector<std::optional<Features>> made(scene.parts.size());
  for (std::size_t i = 0; i < scene.parts.size(); ++i) {
    Part& part = scene.parts[i];
    if (part.is_broken) continue;
    made[i] = inherited(part, made);
    if (is_named[i] && (!made[i] || naming == Naming::own_first)) {
      auto own = make(part);
      // Equal but for rounding: the copy stays equal to the bit.
      if (!own || !made[i] || !are_close(*own, *made[i])) made[i] = std::move(own);
    }
    if (!made[i]) continue;
    if (!can_afford(scene.work, *made[i], at)) return;
    append(part.features, *made[i]);
  }
}

}  // namespace

void make_on(Scene& scene, const std::vector<Name>& of, Span at, const Make& make) {
  make_in_order(scene, of, at, make, Naming::source_first);
}

void make_where_it_stands(Scene& scene, const std::vector<Name>& of, Span at, const Make& make) {
  make_in_order(scene, of, at, make, Naming::own_first);
}

bool are_single(const Scene& scene, const std::vector<Name>& of) {
  return std::all_of(of.begin(), of.end(),
                     [&](const Name& word) { return scene.by_id.count(word.text) > 0; });
}

}  // namespace kw::resolving
