#include <algorithm>
#include <limits>

#include "stick.h"

namespace kw::cutting {
namespace {

constexpr std::size_t most_states = 4'096;  // of the exact way
constexpr std::size_t most_present = 12;    // kinds: so many make most_states already
constexpr std::size_t most_moved = 100;     // parts that the other way takes on

constexpr std::int64_t never = std::numeric_limits<std::int64_t>::max();

// Shortest row of given parts: a shortest path over (how many of each kind lie, end of the last
// one). What starts sooner never ends later, so that is right past faulty zones too.
class ShortestRow {
 public:
  ShortestRow(const Model& model, const Stick& stick) : model_(model), bar_(bar_of(model, stick)) {
    for (const Cut& cut : stick.cuts) {
      count(cut.kind);
      if (present_.size() > most_present) return;
    }
    for (Present& p : present_) {
      p.stride = states_;
      states_ *= static_cast<std::size_t>(p.count) + 1;
      if (states_ > most_states) return;
    }
    is_small_ = states_ * ends_.size() <= most_states;
  }

  [[nodiscard]] bool is_small() const { return is_small_; }

  // About; each step is dearer than the cell of a table.
  [[nodiscard]] std::int64_t work() const {
    return static_cast<std::int64_t>(steps_.size() * present_.size()) * 16;
  }

  [[nodiscard]] std::vector<Cut> find() {
    steps_.assign(states_ * ends_.size(), Step{});
    extend_all(0, 0, 0, true);
    for (std::size_t state = 1; state + 1 < states_; ++state) {
      for (std::size_t e = 0; e < ends_.size(); ++e) {
        const std::int64_t length = at(state, e).length;
        if (length != never) extend_all(state, e, length, false);
      }
    }
    return traced();
  }

 private:
  struct Present {
    int kind = 0, count = 0;
    std::size_t stride = 0;
  };
  struct Step {
    std::int64_t length = never;
    Cut cut = {};
    std::size_t state = 0, end = 0;  // where it came from
  };

  Step& at(std::size_t state, std::size_t e) { return steps_[state * ends_.size() + e]; }

  void count(int kind) {
    const auto is_it = [&](const Present& p) { return p.kind == kind; };
    const auto found = std::find_if(present_.begin(), present_.end(), is_it);
    if (found != present_.end()) {
      ++found->count;
      return;
    }
    present_.push_back({kind, 1, 0});
    for (const Pose& pose : model_.kinds[static_cast<std::size_t>(kind)].poses) {
      if (std::find(ends_.begin(), ends_.end(), pose.right) == ends_.end()) {
        ends_.push_back(pose.right);
      }
    }
  }

  void extend_all(std::size_t state, std::size_t e, std::int64_t length, bool is_first) {
    for (const Present& p : present_) {
      const std::size_t lying = state / p.stride % (static_cast<std::size_t>(p.count) + 1);
      if (lying < static_cast<std::size_t>(p.count)) extend(state, e, length, is_first, p);
    }
  }

  void extend(std::size_t state, std::size_t e, std::int64_t length, bool is_first,
              const Present& p) {
    const Kind& kind = model_.kinds[static_cast<std::size_t>(p.kind)];
    for (int i = 0; i < static_cast<int>(kind.poses.size()); ++i) {
      const Pose& pose = kind.poses[static_cast<std::size_t>(i)];
      const std::int64_t before = is_first ? model_.ends[static_cast<std::size_t>(pose.left)].reach
                                           : gap(model_, ends_[e], pose.left);
      const auto to = std::find(ends_.begin(), ends_.end(), pose.right) - ends_.begin();
      Step& step = at(state + p.stride, static_cast<std::size_t>(to));
      const std::int64_t now = start_of(model_, bar_, length + before, {p.kind, i}) + kind.length;
      if (now < step.length) step = {now, {p.kind, i}, state, e};
    }
  }

  [[nodiscard]] std::vector<Cut> traced() {
    std::size_t state = states_ - 1, e = 0;
    std::int64_t least = never;
    for (std::size_t i = 0; i < ends_.size(); ++i) {
      const Step& step = at(state, i);
      if (step.length == never) continue;
      const std::int64_t length =
          step.length + model_.ends[static_cast<std::size_t>(ends_[i])].reach;
      if (length < least) least = length, e = i;
    }
    std::vector<Cut> cuts;
    while (state != 0) {
      const Step& step = at(state, e);
      cuts.push_back(step.cut);
      state = step.state;
      e = step.end;
    }
    std::reverse(cuts.begin(), cuts.end());
    return cuts;
  }

  const Model& model_;
  const Bar& bar_;
  std::vector<Present> present_ = {};
  std::vector<int> ends_ = {};  // right ends that a part can show
  std::size_t states_ = 1;
  bool is_small_ = false;
  std::vector<Step> steps_ = {};
};

// Takes each part out in turn and puts it back where it takes least, until that gains nothing.
std::int64_t move_single_parts(const Model& model, Stick& stick) {
  std::int64_t moves = 0;
  for (std::size_t still = 0, at = 0; still < stick.cuts.size();
       at = (at + 1) % stick.cuts.size()) {
    Stick moved = stick;
    moved.cuts.erase(moved.cuts.begin() + static_cast<std::ptrdiff_t>(at));
    moved.used = length_of(model, moved);
    add(model, moved, stick.cuts[at].kind);
    ++still;
    ++moves;
    if (moved.used >= stick.used) continue;
    stick = std::move(moved);
    still = 0;
  }
  return moves * static_cast<std::int64_t>(stick.cuts.size()) * 16;
}

}  // namespace

std::int64_t nest(const Model& model, Stick& stick) {
  if (is_free(model, stick) || stick.cuts.size() < 2) return 0;
  ShortestRow row(model, stick);
  if (row.is_small()) {
    stick.cuts = row.find();
    stick.used = length_of(model, stick);
    return row.work();
  }
  return stick.cuts.size() <= most_moved ? move_single_parts(model, stick) : 0;
}

}  // namespace kw::cutting
