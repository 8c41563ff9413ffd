#include "units.h"

#include <algorithm>
#include <set>

namespace kw {
namespace {

std::vector<int> bodies_of_boards(const Resolved& piece, const std::vector<Body>& bodies) {
  std::vector<int> body(piece.boards.size(), -1);
  for (std::size_t i = 0; i < bodies.size(); ++i)
    body[static_cast<std::size_t>(bodies[i].board)] = static_cast<int>(i);
  return body;
}

std::vector<int> parts_of(const std::vector<int>& bodies, const CutList& cut_list) {
  std::vector<int> parts;
  for (const int b : bodies) parts.push_back(cut_list.part_of_body[static_cast<std::size_t>(b)]);
  std::sort(parts.begin(), parts.end());
  return parts;
}

}  // namespace

std::vector<std::vector<int>> joined_sets(const std::vector<int>& bodies, const Ties& ties) {
  std::set<int> left(bodies.begin(), bodies.end());
  std::vector<std::vector<int>> sets;
  while (!left.empty()) {
    std::vector<int> set{*left.begin()};
    left.erase(left.begin());
    for (std::size_t i = 0; i < set.size(); ++i) {
      for (auto b = left.begin(); b != left.end();) {
        const bool is_joined = joints_between(ties, set[i], *b) != nullptr;
        if (is_joined) set.push_back(*b);
        b = is_joined ? left.erase(b) : std::next(b);
      }
    }
    std::sort(set.begin(), set.end());
    sets.push_back(std::move(set));
  }
  return sets;
}

Ties ties_of(const Resolved& piece, const std::vector<Body>& bodies,
             const std::vector<Contact>& contacts) {
  Ties ties;
  ties.touches.resize(bodies.size());
  for (const Contact& c : contacts) {
    const Body& a = bodies[static_cast<std::size_t>(c.a)];
    const Vec3 out =
        a.frame.direction_to_world(a.shape->faces[static_cast<std::size_t>(c.face_a)].plane.normal);
    ties.touches[static_cast<std::size_t>(c.b)].push_back({c.a, out, c.area.value});
    ties.touches[static_cast<std::size_t>(c.a)].push_back({c.b, -out, c.area.value});
  }
  for (const Body& b : bodies) ties.boxes.push_back(extent_of(b));
  const auto body = bodies_of_boards(piece, bodies);
  for (std::size_t i = 0; i < piece.joints.size(); ++i) {
    const ResolvedJoint& joint = piece.joints[i];
    if (joint.a < 0 || joint.b < 0) continue;
    const int a = body[static_cast<std::size_t>(joint.a)];
    const int b = body[static_cast<std::size_t>(joint.b)];
    if (a < 0 || b < 0 || a == b) continue;
    ties.joints[std::minmax(a, b)].push_back(static_cast<int>(i));
  }
  return ties;
}

const std::vector<int>* joints_between(const Ties& ties, int a, int b) {
  const auto found = ties.joints.find(std::minmax(a, b));
  return found == ties.joints.end() ? nullptr : &found->second;
}

namespace {

using Sets = std::vector<std::vector<int>>;

// The joined sets of the bodies of these parts, when they are two or more and all alike.
Sets alike_sets(const std::vector<int>& parts, const std::map<int, std::vector<int>>& by_part,
                const CutList& cut_list, const Ties& ties) {
  std::vector<int> bodies;
  for (const int p : parts) {
    const auto& members = by_part.at(p);
    bodies.insert(bodies.end(), members.begin(), members.end());
  }
  Sets sets = joined_sets(bodies, ties);
  const auto first = parts_of(sets.front(), cut_list);
  const bool are_alike = sets.size() > 1 && first.size() > 1 &&
                         std::all_of(sets.begin(), sets.end(), [&](const std::vector<int>& set) {
                           return parts_of(set, cut_list) == first;
                         });
  return are_alike ? sets : Sets{};
}

}  // namespace

std::vector<std::vector<std::vector<int>>> twins_in(const std::vector<int>& bodies,
                                                    const CutList& cut_list, const Ties& ties) {
  std::map<int, std::vector<int>> by_part;
  for (const int b : bodies)
    by_part[cut_list.part_of_body[static_cast<std::size_t>(b)]].push_back(b);
  std::vector<Sets> twins;
  std::set<int> taken;
  for (const auto& [first, members] : by_part) {
    if (members.size() < 2 || taken.contains(first)) continue;
    std::vector<int> parts{first};
    Sets sets;
    for (bool has_grown = true; has_grown;) {
      has_grown = false;
      for (const auto& [next, others] : by_part) {
        if (others.size() % 2 != 0 && others.size() != members.size()) continue;
        if (taken.contains(next) || std::find(parts.begin(), parts.end(), next) != parts.end())
          continue;
        auto more = parts;
        more.push_back(next);
        Sets grown = alike_sets(more, by_part, cut_list, ties);
        if (grown.empty()) continue;
        parts = std::move(more);
        sets = std::move(grown);
        has_grown = true;
      }
    }
    if (sets.empty()) continue;
    taken.insert(parts.begin(), parts.end());
    twins.push_back(std::move(sets));
  }
  return twins;
}

}  // namespace kw
