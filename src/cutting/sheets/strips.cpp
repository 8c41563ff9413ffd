#include "strips.h"

#include <algorithm>
#include <set>

namespace kw::cutting::sheets {
namespace {

constexpr std::int64_t unknown = std::int64_t{1} << 60;
constexpr std::size_t most_states = 3'000'000;

struct Item {
  std::int64_t size = 0, worth = 0;
  int count = 0;
};

// Fillings of a length of which none is both longer and worth no more than another.
class Row {
 public:
  Row(std::vector<Item> items, std::int64_t room, Work& work) : items_(std::move(items)) {
    states_.push_back({});
    std::vector<int> front{0};
    for (std::size_t i = 0; i < items_.size(); ++i) {
      const Item& item = items_[i];
      if (item.worth <= 0 || item.size > room) continue;
      std::vector<int> last = front;
      for (std::int64_t n = 1; n <= std::min<std::int64_t>(item.count, room / item.size); ++n) {
        std::vector<int> more;
        for (const int s : last) add(s, static_cast<int>(i), room, more);
        if (more.empty()) break;
        if (!work.spend(static_cast<std::int64_t>(front.size() + more.size()) * 4) ||
            states_.size() > most_states) {
          is_complete_ = false;
          return;
        }
        front = merged(front, more);
        last = std::move(more);
      }
    }
    best_ = front.back();
  }

  // At most; unknown when there were too many to look through.
  [[nodiscard]] std::int64_t worth() const { return is_complete_ ? at(best_).worth : unknown; }

  [[nodiscard]] std::vector<int> chosen() const {  // items, one entry a copy
    std::vector<int> items;
    for (int s = best_; at(s).item >= 0; s = at(s).before) items.push_back(at(s).item);
    return items;
  }

 private:
  struct State {
    std::int64_t used = 0, worth = 0;
    int before = -1, item = -1;
  };

  [[nodiscard]] const State& at(int s) const { return states_[static_cast<std::size_t>(s)]; }

  void add(int before, int i, std::int64_t room, std::vector<int>& more) {
    const Item& item = items_[static_cast<std::size_t>(i)];
    const State from = at(before);
    if (from.used + item.size > room) return;
    more.push_back(static_cast<int>(states_.size()));
    states_.push_back({from.used + item.size, from.worth + item.worth, before, i});
  }

  // By length, and worth more the longer.
  [[nodiscard]] std::vector<int> merged(const std::vector<int>& a,
                                        const std::vector<int>& b) const {
    std::vector<int> all(a.size() + b.size());
    std::merge(a.begin(), a.end(), b.begin(), b.end(), all.begin(), [&](int x, int y) {
      return at(x).used != at(y).used ? at(x).used < at(y).used : at(x).worth > at(y).worth;
    });
    std::vector<int> front;
    for (const int s : all) {
      if (front.empty() || at(s).worth > at(front.back()).worth) front.push_back(s);
    }
    return front;
  }

  bool is_complete_ = true;
  std::vector<Item> items_ = {};
  std::vector<State> states_ = {};
  int best_ = 0;
};

// A part in a strip, along it and across.
struct Lie {
  int kind = 0;
  bool is_turned = false;
  std::int64_t along = 0, across = 0;
};

struct Strip {
  std::int64_t width = 0;
  std::vector<Lie> lies = {};
};

class Stripping {
 public:
  Stripping(const Model& model, int board, Way first, const std::vector<std::int64_t>& worth,
            const std::vector<int>& counts, std::int64_t known, Work& work)
      : model_(model),
        board_(board),
        first_(first),
        worth_(worth),
        counts_(counts),
        known_(known),
        work_(work) {
    const Size size = model.boards[static_cast<std::size_t>(board)].size;
    length_ = first == Way::rip ? size.l : size.w;
    width_ = first == Way::rip ? size.w : size.l;
  }

  void run(Strips& into) {
    std::vector<Strip> kinds;
    std::vector<Item> items;
    for (const std::int64_t w : widths()) {
      std::int64_t worth = 0;
      Strip strip = filled(w, counts_, &worth);
      if (worth == 0) continue;
      if (worth == unknown) {
        into.bound = unknown;
        return;
      }
      items.push_back({w, worth, static_cast<int>(width_ / w)});
      kinds.push_back(std::move(strip));
    }
    const Row row(items, width_, work_);
    into.bound = std::max(into.bound, row.worth());
    if (row.worth() <= known_) return;
    std::vector<Strip> strips;
    for (const int s : row.chosen()) strips.push_back(kinds[static_cast<std::size_t>(s)]);
    offer(std::move(strips), into);
    offer(one_by_one(), into);
  }

 private:
  [[nodiscard]] std::set<std::int64_t> widths() const {
    std::set<std::int64_t> all;
    for (std::size_t k = 0; k < model_.kinds.size(); ++k) {
      if (worth_[k] == 0) continue;
      for (const Lie& l : lies_of(static_cast<int>(k)))
        if (l.along <= length_ && l.across <= width_) all.insert(l.across);
    }
    return all;
  }

  [[nodiscard]] std::vector<Lie> lies_of(int k) const {
    const Kind& kind = model_.kinds[static_cast<std::size_t>(k)];
    const Size s = first_ == Way::rip ? kind.size : turned(kind.size);
    std::vector<Lie> lies{{k, false, s.l, s.w}};
    if (kind.turns) lies.push_back({k, true, s.w, s.l});
    return lies;
  }

  // The strip of most worth, of parts that are as wide, or with trimming no wider.
  Strip filled(std::int64_t width, const std::vector<int>& counts, std::int64_t* most = nullptr) {
    std::vector<Lie> lies;
    std::vector<Item> items;
    for (std::size_t k = 0; k < model_.kinds.size(); ++k) {
      if (counts[k] == 0 || worth_[k] == 0) continue;
      const Lie* best = nullptr;
      const std::vector<Lie> both = lies_of(static_cast<int>(k));
      for (const Lie& l : both) {
        const bool may_lie =
            model_.stages == SheetStages::two ? l.across == width : l.across <= width;
        if (may_lie && l.along <= length_ && (best == nullptr || l.along < best->along)) best = &l;
      }
      if (best == nullptr) continue;
      lies.push_back(*best);
      items.push_back({best->along, worth_[k], counts[k]});
    }
    Strip strip{.width = width};
    const Row row(items, length_, work_);
    if (most != nullptr) *most = row.worth();
    for (const int i : row.chosen()) strip.lies.push_back(lies[static_cast<std::size_t>(i)]);
    return strip;
  }

  [[nodiscard]] std::int64_t worth_of(const Strip& strip) const {
    std::int64_t worth = 0;
    for (const Lie& l : strip.lies) worth += worth_[static_cast<std::size_t>(l.kind)];
    return worth;
  }

  // Strip after strip, each the most worth for its width of what is left.
  std::vector<Strip> one_by_one() {
    std::vector<Strip> strips;
    std::vector<int> left = counts_;
    for (std::int64_t room = width_; !work_.is_over();) {
      Strip best;
      double best_rate = 0;
      for (const std::int64_t w : widths()) {
        if (w > room) break;
        Strip strip = filled(w, left);
        const double rate = static_cast<double>(worth_of(strip)) / static_cast<double>(w);
        if (rate > best_rate) best_rate = rate, best = std::move(strip);
      }
      if (best_rate == 0) break;
      for (const Lie& l : best.lies) --left[static_cast<std::size_t>(l.kind)];
      room -= best.width;
      strips.push_back(std::move(best));
    }
    return strips;
  }

  // Without what it has too much of.
  void offer(std::vector<Strip> strips, Strips& into) {
    std::vector<int> left = counts_;
    std::int64_t worth = 0;
    for (Strip& strip : strips) {
      std::erase_if(strip.lies,
                    [&](const Lie& l) { return left[static_cast<std::size_t>(l.kind)]-- <= 0; });
      worth += worth_of(strip);
    }
    if (worth > known_ && begins_as_told(strips)) into.patterns.push_back(pattern_of(strips));
  }

  // A strip that is the whole board is not sawn off, so that the first cut is one across it; where
  // the first cut is laid down, that is no plan, though still within the bound.
  [[nodiscard]] bool begins_as_told(const std::vector<Strip>& strips) const {
    if (model_.first == FirstCut::either || strips.empty()) return true;
    const Strip& strip = strips.front();
    return strip.width < width_ || strip.lies.empty() || strip.lies.front().along >= length_;
  }

  [[nodiscard]] Pattern pattern_of(const std::vector<Strip>& strips) const {
    Pattern pattern{board_, {Node{}}};
    const Way second = first_ == Way::rip ? Way::crosscut : Way::rip;
    int rest = 0;
    for (const Strip& strip : strips) {
      int place = cut(pattern, rest, first_, strip.width);
      for (const Lie& l : strip.lies) {
        int leaf = cut(pattern, place, second, l.along);
        if (l.across < strip.width) {
          int trimmed = leaf;
          leaf = cut(pattern, trimmed, first_, l.across);
        }
        pattern.nodes[static_cast<std::size_t>(leaf)].kind = l.kind;
        pattern.nodes[static_cast<std::size_t>(leaf)].turned = l.is_turned;
      }
    }
    return pattern;
  }

  // What lies below the cut; `from` becomes what lies beyond.
  static int cut(Pattern& pattern, int& from, Way way, std::int64_t at) {
    const int below = static_cast<int>(pattern.nodes.size());
    pattern.nodes.resize(pattern.nodes.size() + 2);
    Node& node = pattern.nodes[static_cast<std::size_t>(from)];
    node.way = way;
    node.at = at;
    node.below = below;
    node.beyond = from = below + 1;
    return below;
  }

  const Model& model_;
  int board_ = 0;
  Way first_ = Way::rip;
  const std::vector<std::int64_t>& worth_;
  const std::vector<int>& counts_;
  std::int64_t known_ = 0;
  Work& work_;
  std::int64_t length_ = 0, width_ = 0;
};

}  // namespace

Strips strips_on(const Model& model, int board, const std::vector<std::int64_t>& worth,
                 const std::vector<int>& counts, std::int64_t known, Work& work) {
  Strips strips;
  for (const Way first : {Way::rip, Way::crosscut}) {
    if (is_allowed(model, {}, first))
      Stripping(model, board, first, worth, counts, known, work).run(strips);
  }
  return strips;
}

}  // namespace kw::cutting::sheets
