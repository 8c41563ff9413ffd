#include "order.h"

#include <algorithm>
#include <functional>
#include <set>
#include <tuple>

namespace kw {
namespace {

struct Link {
  int other = 0, joints = 0, step = 0;
};
using Links = std::vector<std::vector<Link>>;

Links links_between(const Resolved& piece, const Ties& ties, const std::vector<PutUnit>& units) {
  std::map<int, int> unit_of;
  for (std::size_t u = 0; u < units.size(); ++u) {
    for (const int b : units[u].bodies) unit_of[b] = static_cast<int>(u);
  }
  std::map<std::pair<int, int>, Link> found;
  for (const auto& [pair, joints] : ties.joints) {
    const auto a = unit_of.find(pair.first), b = unit_of.find(pair.second);
    if (a == unit_of.end() || b == unit_of.end() || a->second == b->second) continue;
    for (const auto& ends : {std::pair{a->second, b->second}, {b->second, a->second}}) {
      Link& link = found[ends];
      link.other = ends.second;
      link.joints += static_cast<int>(joints.size());
      for (const int j : joints)
        link.step = std::max(link.step, piece.joints[static_cast<std::size_t>(j)].step);
    }
  }
  Links links(units.size());
  for (const auto& [ends, link] : found)
    links[static_cast<std::size_t>(ends.first)].push_back(link);
  return links;
}

// The units without which the others of `left` fall apart (articulation points; Hopcroft and
// Tarjan 1973, from memory).
std::set<int> holding_together(const Links& links, const std::set<int>& left) {
  std::set<int> holding;
  std::map<int, int> number, low;
  const std::function<void(int, int)> visit = [&](int at, int parent) {
    number[at] = low[at] = static_cast<int>(number.size());
    int children = 0;
    for (const Link& link : links[static_cast<std::size_t>(at)]) {
      if (!left.contains(link.other) || link.other == parent) continue;
      if (number.contains(link.other)) {
        low[at] = std::min(low[at], number[link.other]);
        continue;
      }
      ++children;
      visit(link.other, at);
      low[at] = std::min(low[at], low[link.other]);
      if (parent >= 0 && low[link.other] >= number[at]) holding.insert(at);
    }
    if (parent < 0 && children > 1) holding.insert(at);
  };
  for (const int u : left) {
    if (!number.contains(u)) visit(u, -1);
  }
  return holding;
}

double height_of(const Ties& ties, const PutUnit& unit) {
  const Extent box = extent_of(ties, unit.bodies);
  return box.low.z + box.high.z;
}

class Undoing {
 public:
  Undoing(const Resolved& piece, const std::vector<Body>& bodies, const Ties& ties,
          const std::vector<PutUnit>& units)
      : bodies_(bodies), ties_(ties), units_(units), links_(links_between(piece, ties, units)) {
    for (std::size_t u = 0; u < units.size(); ++u) {
      left_.insert(static_cast<int>(u));
      heights_.push_back(height_of(ties, units[u]));
    }
  }

  Order run() {
    Order order;
    while (left_.size() > 1) {
      const auto off = take_off();
      if (!off) break;
      order.puts.push_back(*off);
    }
    order.at_once = std::max(1, static_cast<int>(left_.size()));
    for (auto u = left_.rbegin(); u != left_.rend(); ++u) order.puts.push_back({*u, std::nullopt});
    std::reverse(order.puts.begin(), order.puts.end());
    return order;
  }

 private:
  using Wish = std::tuple<int, bool, bool, int, double, int>;  // smallest is taken off first

  Wish wish_for(int unit, const std::set<int>& holding) const {
    int step = 0, joints = 0;
    for (const Link& link : links_[static_cast<std::size_t>(unit)]) {
      if (!left_.contains(link.other)) continue;
      step = std::max(step, link.step);
      joints += link.joints;
    }
    return {-step,
            holding.contains(unit),
            units_[static_cast<std::size_t>(unit)].kind != last_kind_,
            joints,
            -heights_[static_cast<std::size_t>(unit)],
            -unit};
  }

  std::optional<PutOn> take_off() {
    const auto holding = holding_together(links_, left_);
    std::vector<Wish> wishes;
    for (const int u : left_) wishes.push_back(wish_for(u, holding));
    std::sort(wishes.begin(), wishes.end());
    for (const Wish& wish : wishes) {
      const int unit = -std::get<5>(wish);
      std::vector<int> rest;
      for (const int u : left_) {
        const auto& others = units_[static_cast<std::size_t>(u)].bodies;
        if (u != unit) rest.insert(rest.end(), others.begin(), others.end());
      }
      const auto way = way_off(bodies_, ties_, units_[static_cast<std::size_t>(unit)].bodies, rest);
      if (!way) continue;
      left_.erase(unit);
      last_kind_ = units_[static_cast<std::size_t>(unit)].kind;
      return PutOn{unit, way};
    }
    return std::nullopt;
  }

  const std::vector<Body>& bodies_;
  const Ties& ties_;
  const std::vector<PutUnit>& units_;
  Links links_;
  std::set<int> left_ = {};
  std::vector<double> heights_ = {};
  std::string last_kind_ = {};
};

}  // namespace

Order order_of(const Resolved& piece, const std::vector<Body>& bodies, const Ties& ties,
               const std::vector<PutUnit>& units) {
  return Undoing(piece, bodies, ties, units).run();
}

}  // namespace kw
