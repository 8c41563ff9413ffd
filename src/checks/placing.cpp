#include "kerfwright/checks/placing.h"

#include <algorithm>
#include <cmath>

namespace kw {
namespace {

double gauge_by_rule(double through) {
  constexpr double inch = 25.4;
  if (through <= 0.5 * inch) return 0.138 * inch;
  return (through <= 1.0 * inch ? 0.164 : 0.190) * inch;
}

std::vector<double> places_along(const std::vector<Driven>& row, const Frame& board) {
  std::vector<double> places;
  for (const Driven& one : row) places.push_back(board.to_local(one.head).x);
  std::sort(places.begin(), places.end());
  return places;
}

}  // namespace

const Fastener* choose_screw(const Catalogue& catalogue, const ScrewWish& wish) {
  const double diameter = wish.diameter > 0 ? wish.diameter : gauge_by_rule(wish.through);
  const double longest = wish.through + wish.wood - least_cover;
  const double shortest = wish.through + 3 * diameter;
  const Fastener* best = nullptr;
  for (const Fastener& f : catalogue.fasteners) {
    if (f.kind != wish.kind || std::abs(f.diameter.in_mm() - diameter) > 0.05) continue;
    const double length = f.length.in_mm();
    if (length > longest + 1e-6 || length < shortest) continue;
    if (best == nullptr || length > best->length.in_mm()) best = &f;
  }
  return best;
}

std::vector<Need> fasteners_needed(const Resolved& piece) {
  std::vector<Need> needs;
  for (const Driven& driven : driven_in(piece)) {
    const ResolvedJoint& joint = piece.joints[static_cast<std::size_t>(driven.joint)];
    const std::string name = joint.fastener.empty() ? "dowel" : joint.fastener;
    const auto same =
        std::find_if(needs.begin(), needs.end(), [&](const Need& n) { return n.fastener == name; });
    if (same == needs.end())
      needs.push_back({name, 1});
    else
      ++same->count;
  }
  return needs;
}

bool are_handed_alike(const std::vector<Driven>& left, const std::vector<Driven>& right,
                      const Frame& left_board, const Frame& right_board, double slack) {
  const auto a = places_along(left, left_board), b = places_along(right, right_board);
  return a.size() == b.size() && std::equal(a.begin(), a.end(), b.begin(), [&](double x, double y) {
           return std::abs(x - y) <= slack;
         });
}

}  // namespace kw
