#include "kerfwright/parts/assembly.h"

#include <algorithm>
#include <set>

#include "order.h"
#include "set_out.h"

namespace kw {
namespace {

constexpr double spread = 0.18;  // of a step in an exploded view: share of the work's diagonal

// The word of `path` behind `parent`, up to the next slash: the group one level down.
std::string group_below(const std::string& path, const std::string& parent) {
  const std::size_t from = parent.empty() ? 0 : parent.size() + 1;
  return path.substr(0, path.find('/', from));
}

bool is_below(const std::string& path, const std::string& parent) {
  return parent.empty() ? !path.empty()
                        : path.size() > parent.size() && path.starts_with(parent + "/");
}

class Builder {
 public:
  Builder(const Resolved& piece, const std::vector<Body>& bodies, const CutList& cut_list,
          const std::vector<Contact>& contacts)
      : piece_(piece),
        bodies_(bodies),
        cut_list_(cut_list),
        contacts_(contacts),
        ties_(ties_of(piece, bodies, contacts)) {
    made_.apart.resize(bodies.size());
    made_.apart_in_whole.resize(bodies.size());
    made_.step_of_body.assign(bodies.size(), 0);
  }

  Assembly build() {
    std::vector<int> all;
    for (std::size_t i = 0; i < bodies_.size(); ++i) all.push_back(static_cast<int>(i));
    put_together(units_at("", all), -1, true);
    return std::move(made_);
  }

 private:
  const ResolvedBoard& board(int body) const {
    return piece_.boards[static_cast<std::size_t>(bodies_[static_cast<std::size_t>(body)].board)];
  }
  int part_of(int body) const { return cut_list_.part_of_body[static_cast<std::size_t>(body)]; }

  std::string kind_of(const std::vector<int>& bodies) const {
    std::vector<int> parts;
    for (const int b : bodies) parts.push_back(part_of(b));
    std::sort(parts.begin(), parts.end());
    std::string kind;
    for (const int p : parts) kind += std::to_string(p) + ".";
    return kind;
  }

  std::string letters_of(const std::vector<int>& bodies) const {
    std::string name;
    std::set<int> parts;
    for (const int b : bodies) parts.insert(part_of(b));
    for (const int p : parts)
      name += (name.empty() ? "" : "-") + cut_list_.parts[static_cast<std::size_t>(p)].letter;
    return name;
  }

  // What is put together at a level of the file: its boards, its groups, and what it has twice.
  std::vector<PutUnit> units_at(const std::string& path, const std::vector<int>& bodies) {
    std::vector<int> own;
    std::map<std::string, std::vector<int>> groups;
    for (const int b : bodies) {
      const std::string& group = board(b).group;
      is_below(group, path) ? groups[group_below(group, path)].push_back(b) : own.push_back(b);
    }
    std::vector<PutUnit> units;
    std::map<std::string, std::vector<std::pair<std::string, std::vector<int>>>> alike;
    for (auto& [name, set] : groups) alike[kind_of(set)].push_back({name, set});
    for (auto& [kind, sets] : alike) {
      for (std::size_t i = 0; i < sets.size(); ++i)
        units.push_back(made_apart(sets[i].first, sets[i].second, i == 0));
    }
    const auto twins = twins_in(own, cut_list_, ties_);
    std::set<int> taken;
    for (const auto& sets : twins) {
      for (std::size_t i = 0; i < sets.size(); ++i) {
        units.push_back(twin(sets[i], i == 0));
        taken.insert(sets[i].begin(), sets[i].end());
      }
    }
    for (const int b : own) {
      if (!taken.contains(b)) units.push_back({{b}, -1, kind_of({b}), board(b).id});
    }
    return with_loose_apart(bodies, std::move(units));
  }

  // What no joint holds to the largest joined set, as a lid, is made apart too.
  std::vector<PutUnit> with_loose_apart(const std::vector<int>& bodies,
                                        std::vector<PutUnit> units) {
    auto sets = joined_sets(bodies, ties_);
    const auto largest = std::max_element(
        sets.begin(), sets.end(), [](const auto& a, const auto& b) { return a.size() < b.size(); });
    for (auto set = sets.begin(); set != sets.end(); ++set) {
      if (set == largest || set->size() < 2) continue;
      const auto is_inside = [&](const PutUnit& u) {
        return std::binary_search(set->begin(), set->end(), u.bodies.front());
      };
      std::vector<PutUnit> inside;
      std::copy_if(units.begin(), units.end(), std::back_inserter(inside), is_inside);
      if (inside.size() < 2) continue;
      std::erase_if(units, is_inside);
      units.push_back(closed(letters_of(*set), *set, inside, true));
    }
    return units;
  }

  PutUnit made_apart(const std::string& name, const std::vector<int>& bodies, bool is_told) {
    return closed(name, bodies, units_at(name, bodies), is_told);
  }

  PutUnit twin(const std::vector<int>& bodies, bool is_told) {
    std::vector<PutUnit> boards;
    for (const int b : bodies) boards.push_back({{b}, -1, kind_of({b}), board(b).id});
    return closed(letters_of(bodies), bodies, boards, is_told);
  }

  PutUnit closed(const std::string& name, const std::vector<int>& bodies,
                 const std::vector<PutUnit>& units, bool is_told) {
    const std::string kind = kind_of(bodies);
    const auto same = std::find_if(made_.subs.begin(), made_.subs.end(), [&](const SubAssembly& s) {
      return kind_of(s.copies.front()) == kind;
    });
    const int sub = static_cast<int>(same - made_.subs.begin());
    if (same == made_.subs.end()) made_.subs.push_back({name, {}});
    made_.subs[static_cast<std::size_t>(sub)].copies.push_back(bodies);
    put_together(units, sub, is_told && units.size() > 1);
    return {bodies, sub, kind, name};
  }

  void put_together(const std::vector<PutUnit>& units, int sub, bool is_told) {
    const Order order = order_of(piece_, bodies_, ties_, units);
    std::vector<int> work;
    draw_apart(units, order, sub < 0);
    std::size_t next = 0;
    while (next < order.puts.size()) {
      const std::size_t count = next == 0 ? first_puts(order) : alike_puts(units, order, next);
      AssemblyStep step = step_for(units, order, next, count, work);
      step.sub = sub;
      step.is_first = next == 0;
      step.is_at_once = next == 0 && order.at_once > 1;
      for (const int b : step.adds) {
        if (sub < 0)
          made_.step_of_body[static_cast<std::size_t>(b)] = static_cast<int>(made_.steps.size());
      }
      work.insert(work.end(), step.adds.begin(), step.adds.end());
      std::sort(work.begin(), work.end());
      if (is_told) made_.steps.push_back(std::move(step));
      next += count;
    }
  }

  // A step needs two things: what is first takes the second with it.
  static std::size_t first_puts(const Order& order) {
    const std::size_t locked = static_cast<std::size_t>(order.at_once);
    return std::min(order.puts.size(), std::max<std::size_t>(2, locked));
  }

  // Equal units in a row that are put onto the work and not onto one another.
  std::size_t alike_puts(const std::vector<PutUnit>& units, const Order& order,
                         std::size_t from) const {
    const auto unit = [&](std::size_t i) -> const PutUnit& {
      return units[static_cast<std::size_t>(order.puts[i].unit)];
    };
    std::size_t count = 1;
    while (from + count < order.puts.size() && unit(from + count).kind == unit(from).kind) {
      bool is_tied = false;
      for (std::size_t i = from; i < from + count; ++i)
        is_tied = is_tied || are_tied(unit(i).bodies, unit(from + count).bodies);
      if (is_tied) break;
      ++count;
    }
    return count;
  }

  bool are_tied(const std::vector<int>& a, const std::vector<int>& b) const {
    return std::any_of(a.begin(), a.end(), [&](int x) {
      return std::any_of(b.begin(), b.end(),
                         [&](int y) { return joints_between(ties_, x, y) != nullptr; });
    });
  }

  AssemblyStep step_for(const std::vector<PutUnit>& units, const Order& order, std::size_t from,
                        std::size_t count, const std::vector<int>& work) const {
    AssemblyStep step;
    step.name = units[static_cast<std::size_t>(order.puts[from].unit)].name;
    std::vector<int> there = work;
    std::set<int> onto;
    for (std::size_t i = from; i < from + count; ++i) {
      const PutOn& put = order.puts[i];
      const PutUnit& unit = units[static_cast<std::size_t>(put.unit)];
      for (const int b : unit.bodies) {
        for (const int t : there) tie(step, b, t, work, onto);
      }
      there.insert(there.end(), unit.bodies.begin(), unit.bodies.end());
      step.adds.insert(step.adds.end(), unit.bodies.begin(), unit.bodies.end());
      if (unit.sub >= 0) step.frames.push_back(unit.sub);
      const Vec3 way = put.from.value_or(Vec3{});
      const bool is_same = i == from || norm(step.from - way) < 1e-6 || norm(step.from) < 0.5;
      step.from = is_same && put.from ? way : i == from ? way : Vec3{};
    }
    step.onto.assign(onto.begin(), onto.end());
    add_checks(step, work, there);
    return step;
  }

  void tie(AssemblyStep& step, int added, int there, const std::vector<int>& work,
           std::set<int>& onto) const {
    const auto* joints = joints_between(ties_, added, there);
    const auto& touches = ties_.touches[static_cast<std::size_t>(added)];
    const bool do_touch = std::any_of(touches.begin(), touches.end(),
                                      [&](const Ties::Touch& t) { return t.other == there; });
    if (joints == nullptr && !do_touch) return;
    if (std::binary_search(work.begin(), work.end(), there)) onto.insert(there);
    if (joints != nullptr) step.joints.insert(step.joints.end(), joints->begin(), joints->end());
    if (joints != nullptr && is_marked(joints->front())) return;
    for (const SetOut& m : set_out(bodies_, cut_list_, contacts_, there, added)) add_mark(step, m);
    for (const SetOut& m : set_out(bodies_, cut_list_, contacts_, added, there)) add_mark(step, m);
  }

  // Whether the joint takes wood away, so that its place is marked before it is sawn.
  bool is_marked(int joint) const {
    switch (piece_.joints[static_cast<std::size_t>(joint)].kind) {
      case JointKind::butt:
      case JointKind::mitre:
      case JointKind::dowel:
      case JointKind::pocket_screw:
      case JointKind::toe_nail:
      case JointKind::screw:
      case JointKind::glue:
        return false;
      default:
        return true;
    }
  }

  // Equal boards on equal boards are told once.
  void add_mark(AssemblyStep& step, const SetOut& mark) const {
    const auto same = [&](const SetOut& m) {
      return part_of(m.on) == part_of(mark.on) && part_of(m.of) == part_of(mark.of) &&
             m.from.printed == mark.from.printed && m.to.printed == mark.to.printed;
    };
    if (std::none_of(step.marks.begin(), step.marks.end(), same)) step.marks.push_back(mark);
  }

  // A frame is closed when two equal boards are held apart by two others that both meet.
  void add_checks(AssemblyStep& step, const std::vector<int>& before,
                  const std::vector<int>& now) const {
    const auto rungs = [&](const std::vector<int>& among, int a, int b) {
      return std::count_if(among.begin(), among.end(), [&](int r) {
        return r != a && r != b && joints_between(ties_, r, a) && joints_between(ties_, r, b);
      });
    };
    for (std::size_t i = 0; i < now.size(); ++i) {
      for (std::size_t j = i + 1; j < now.size(); ++j) {
        if (part_of(now[i]) != part_of(now[j]) || came_together(step, now[i], now[j])) continue;
        if (rungs(now, now[i], now[j]) < 2 || rungs(before, now[i], now[j]) >= 2) continue;
        for (const Diagonals& d : diagonals_between(bodies_, cut_list_.rule, now[i], now[j]))
          add_check(step, d);
      }
    }
  }

  // In something that was made apart, and checked there.
  bool came_together(const AssemblyStep& step, int a, int b) const {
    return std::any_of(step.frames.begin(), step.frames.end(), [&](int f) {
      const auto& copies = made_.subs[static_cast<std::size_t>(f)].copies;
      return std::any_of(copies.begin(), copies.end(), [&](const std::vector<int>& copy) {
        return std::find(copy.begin(), copy.end(), a) != copy.end() &&
               std::find(copy.begin(), copy.end(), b) != copy.end();
      });
    });
  }

  void add_check(AssemblyStep& step, const Diagonals& check) const {
    const auto same = [&](const Diagonals& d) {
      return part_of(d.a) == part_of(check.a) && d.one.printed == check.one.printed &&
             d.other.printed == check.other.printed;
    };
    if (std::none_of(step.checks.begin(), step.checks.end(), same)) step.checks.push_back(check);
  }

  void draw_apart(const std::vector<PutUnit>& units, const Order& order, bool is_whole) {
    Extent all;
    for (const PutUnit& u : units) all = joined(all, extent_of(ties_, u.bodies));
    const double step = spread * norm(all.high - all.low);
    std::vector<Vec3> moved(bodies_.size());
    for (std::size_t i = 1; i < order.puts.size(); ++i) {
      const PutUnit& unit = units[static_cast<std::size_t>(order.puts[i].unit)];
      const Extent box = extent_of(ties_, unit.bodies);
      const Vec3 outward = unit_of((box.low + box.high) - (all.low + all.high));
      const Vec3 way = order.puts[i].from.value_or(outward);
      double reach = 0;  // of what it stands on, along the way
      for (const int b : unit.bodies) {
        for (const Ties::Touch& t : ties_.touches[static_cast<std::size_t>(b)])
          reach = std::max(reach, dot(moved[static_cast<std::size_t>(t.other)], way));
      }
      for (const int b : unit.bodies) moved[static_cast<std::size_t>(b)] = way * (reach + step);
    }
    for (std::size_t b = 0; b < moved.size(); ++b) {
      made_.apart[b] += moved[b];
      if (is_whole) made_.apart_in_whole[b] += moved[b];
    }
  }

  static Vec3 unit_of(Vec3 v) { return norm(v) < 1e-9 ? Vec3{0, 0, 1} : kw::unit(v); }

  const Resolved& piece_;
  const std::vector<Body>& bodies_;
  const CutList& cut_list_;
  const std::vector<Contact>& contacts_;
  Ties ties_;
  Assembly made_ = {};
};

}  // namespace

Assembly assembly_of(const Resolved& piece, const std::vector<Body>& bodies,
                     const CutList& cut_list, const std::vector<Contact>& contacts) {
  if (bodies.empty()) return {};
  return Builder(piece, bodies, cut_list, contacts).build();
}

}  // namespace kw
