#include "kerfwright/checks/placing.h"

#include <algorithm>
#include <cmath>

namespace kw {
namespace {

std::vector<double> places_along(const std::vector<Driven>& row, const Frame& board) {
  std::vector<double> places;
  for (const Driven& one : row) places.push_back(board.to_local(one.head).x);
  std::sort(places.begin(), places.end());
  return places;
}

}  // namespace

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
