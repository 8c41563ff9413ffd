#include <algorithm>

#include "joint.h"

namespace kw::resolving {
namespace {

constexpr double touching = 0.5;             // mm: boards within it of one another meet
constexpr double bearing = 1;                // mm: less side by side is only an edge
constexpr long steps_of_a_comparison = 100;  // of the budget, for two bodies whose boxes touch

}  // namespace

const Convex& Meetings::body(int part) {
  auto& known = bodies_[at_index(part)];
  if (!known) known = body_of(scene_.part(part));
  return *known;
}

double Meetings::gap(int a, int b) {
  return gap_between(body(a), body(b), 1e9);
}

bool Meetings::do_meet(int a, int b, Span at) {
  if (scene_.part(a).is_broken || scene_.part(b).is_broken) return false;
  const bool is_near = !are_boxes_apart(body(a), body(b), touching);
  const long steps = is_near ? steps_of_a_comparison : 1;
  return spend(scene_.work, scene_.work.budget.comparisons, steps, at, "pairs of boards") &&
         is_near && gap_between(body(a), body(b), touching) <= touching;
}

const std::vector<int>& Meetings::met_by(int part, Span at) {
  if (!met_) find_all(at);
  return (*met_)[at_index(part)];
}

// Boards in the order of where they begin along x: each is compared with those that begin before it
// ends.
void Meetings::find_all(Span at) {
  met_.emplace(scene_.parts.size());
  std::vector<int> order;
  for (int i = 0; i < static_cast<int>(scene_.parts.size()); ++i)
    if (!scene_.part(i).is_broken) order.push_back(i);
  std::stable_sort(order.begin(), order.end(),
                   [&](int a, int b) { return body(a).low.x < body(b).low.x; });
  for (std::size_t i = 0; i < order.size(); ++i) {
    const int a = order[i];
    for (std::size_t k = i + 1;
         k < order.size() && body(order[k]).low.x <= body(a).high.x + touching; ++k) {
      const int b = order[k];
      if (!do_meet(a, b, at) || meet_in_an_edge(body(a), body(b), bearing)) continue;
      (*met_)[at_index(a)].push_back(b);
      (*met_)[at_index(b)].push_back(a);
    }
  }
  for (auto& partners : *met_) std::sort(partners.begin(), partners.end());
}

}  // namespace kw::resolving
