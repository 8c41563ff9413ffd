#include "runs.h"

#include <algorithm>
#include <map>
#include <numeric>
#include <optional>
#include <set>
#include <utility>

namespace kw::cutting {
namespace {

// Of all rows of all states of a layer; beyond it only the states nearest to the end stay.
constexpr std::size_t most_cells = 40'000;
constexpr std::size_t least_kept = 20;
constexpr std::size_t most_spent = 2'000'000;  // cells looked at, before only those stay
constexpr std::size_t most_rows = 200;         // that are looked at more than one go ahead
constexpr std::int64_t work_of_a_cell = 16;

// [first, second) of each row is left.
using State = std::vector<std::pair<int, int>>;

int left_in(const State& state) {
  return std::accumulate(state.begin(), state.end(), 0,
                         [](int sum, const auto& part) { return sum + part.second - part.first; });
}

class Search {
 public:
  Search(const std::vector<Row>& rows, const Spend& spend) : rows_(rows), spend_(spend) {}

  // None when the work is over.
  std::optional<Runs> run() {
    State start;
    for (const Row& row : rows_) start.emplace_back(0, static_cast<int>(row.size()));
    if (left_in(start) == 0) return Runs{};
    layers_.push_back({{start, {}}});
    while (true) {
      Layer next;
      for (const auto& [state, from] : layers_.back()) {
        if (!go_on()) return std::nullopt;
        for (const int mark : ends_of(state)) {
          next.try_emplace(taken(state, mark), From{state, mark});
          spent_ += rows_.size();
        }
      }
      const auto done = std::find_if(next.begin(), next.end(),
                                     [](const auto& entry) { return left_in(entry.first) == 0; });
      if (done != next.end()) return traced(done->second);
      narrow(next);
      layers_.push_back(std::move(next));
    }
  }

  [[nodiscard]] bool is_exact() const { return is_exact_; }

 private:
  struct From {
    State state = {};
    int mark = -1;
  };
  using Layer = std::map<State, From>;

  bool go_on() {
    const std::size_t more = spent_ - std::exchange(filed_, spent_);
    return !spend_ || spend_(work_of_a_cell * static_cast<std::int64_t>(more + rows_.size()));
  }

  [[nodiscard]] std::set<int> ends_of(const State& state) const {
    std::set<int> marks;
    for (std::size_t r = 0; r < rows_.size(); ++r) {
      const auto [first, second] = state[r];
      if (first == second) continue;
      marks.insert(rows_[r][static_cast<std::size_t>(first)]);
      marks.insert(rows_[r][static_cast<std::size_t>(second - 1)]);
    }
    return marks;
  }

  [[nodiscard]] State taken(State state, int mark) const {
    for (std::size_t r = 0; r < rows_.size(); ++r) {
      auto& [first, second] = state[r];
      while (first < second && rows_[r][static_cast<std::size_t>(first)] == mark) ++first;
      while (first < second && rows_[r][static_cast<std::size_t>(second - 1)] == mark) --second;
    }
    return state;
  }

  void narrow(Layer& layer) {
    const std::size_t widest =
        spent_ > most_spent ? least_kept : std::max(least_kept, most_cells / rows_.size());
    if (layer.size() <= widest) return;
    is_exact_ = false;
    std::vector<std::pair<int, State>> by_left;
    for (const auto& [state, from] : layer) by_left.emplace_back(left_in(state), state);
    std::sort(by_left.begin(), by_left.end());
    for (std::size_t i = widest; i < by_left.size(); ++i) layer.erase(by_left[i].second);
  }

  [[nodiscard]] Runs traced(From from) const {
    Runs runs;
    for (std::size_t l = layers_.size(); l-- > 0;) {
      runs.order.push_back(from.mark);
      if (l > 0) from = layers_[l].at(from.state);
    }
    std::reverse(runs.order.begin(), runs.order.end());
    runs.at_least = static_cast<int>(runs.order.size());
    return runs;
  }

  const std::vector<Row>& rows_;
  const Spend& spend_;
  std::vector<Layer> layers_ = {};
  bool is_exact_ = true;
  std::size_t spent_ = 0, filed_ = 0;  // cells; of those, told
};

std::size_t marks_in(const std::vector<Row>& rows) {
  std::set<int> marks;
  for (const Row& row : rows) marks.insert(row.begin(), row.end());
  return marks.size();
}

// A row and its mirror image come off alike; so do copies.
void drop_twins(std::vector<Row>& rows) {
  for (Row& row : rows) {
    Row turned(row.rbegin(), row.rend());
    if (turned < row) row.swap(turned);
  }
  std::sort(rows.begin(), rows.end());
  rows.erase(std::unique(rows.begin(), rows.end()), rows.end());
}

// Each time the mark that most ends show, where there are too many rows to look further.
class Greedy {
 public:
  explicit Greedy(const std::vector<Row>& rows) : rows_(rows) {
    for (std::size_t r = 0; r < rows.size(); ++r) {
      left_.emplace_back(0, rows[r].size());
      show(r);
    }
  }

  Runs run() {
    Runs runs;
    while (true) {
      const auto most = std::max_element(
          shown_.begin(), shown_.end(),
          [](const auto& a, const auto& b) { return a.second.size() < b.second.size(); });
      if (most == shown_.end() || most->second.empty()) return runs;
      runs.order.push_back(most->first);
      const std::set<std::size_t> rows = most->second;
      for (const std::size_t r : rows) take(r, most->first);
    }
  }

 private:
  void show(std::size_t r) {
    const auto [first, second] = left_[r];
    if (first == second) return;
    shown_[rows_[r][first]].insert(r);
    shown_[rows_[r][second - 1]].insert(r);
  }

  void take(std::size_t r, int mark) {
    auto& [first, second] = left_[r];
    shown_[rows_[r][first]].erase(r);
    shown_[rows_[r][second - 1]].erase(r);
    while (first < second && rows_[r][first] == mark) ++first;
    while (first < second && rows_[r][second - 1] == mark) --second;
    show(r);
  }

  const std::vector<Row>& rows_;
  std::vector<std::pair<std::size_t, std::size_t>> left_ = {};
  std::map<int, std::set<std::size_t>> shown_ = {};
};

Runs one_after_another(const std::vector<Row>& rows) {
  Runs runs = Greedy(rows).run();
  runs.at_least = static_cast<int>(marks_in(rows));
  return runs;
}

// The goes for the marks of one row take that row off; each other mark wants a go of its own.
int least_by_rows(const std::vector<Row>& rows, const Spend& spend) {
  const std::size_t marks = marks_in(rows);
  auto least = static_cast<int>(marks);
  for (const Row& row : rows) {
    const std::vector<Row> alone = {row};
    Search one(alone, spend);
    const auto own = one.run();
    if (!own) break;
    if (!one.is_exact()) continue;
    const std::size_t others = marks - marks_in(alone);
    least = std::max(least, static_cast<int>(own->order.size() + others));
  }
  return least;
}

}  // namespace

Runs fewest_runs(std::vector<Row> rows, const Spend& spend) {
  std::erase_if(rows, [](const Row& row) { return row.empty(); });
  drop_twins(rows);
  if (rows.size() > most_rows) return one_after_another(rows);
  Search search(rows, spend);
  auto runs = search.run();
  if (!runs) return one_after_another(rows);
  if (!search.is_exact()) runs->at_least = least_by_rows(rows, spend);
  return *std::move(runs);
}

}  // namespace kw::cutting
