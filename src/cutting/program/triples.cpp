#include "triples.h"

#include <algorithm>
#include <cmath>

namespace kw::cutting::program {
namespace {

constexpr double least_violation = 1e-3;
constexpr std::size_t most_candidates = 200'000;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

// Columns that are not wholly used, by row, and how much of them holds two rows at once.
class Sharing {
 public:
  Sharing(std::size_t rows, const std::vector<Used>& used) : used_(used), by_row_(rows) {
    for (std::size_t j = 0; j < used.size(); ++j) {
      if (used[j].value <= 0) continue;
      for (const auto& [row, count] : used[j].parts)
        by_row_[at(row)].emplace_back(static_cast<int>(j), count);
    }
  }

  // Rows that share a column in part used with `row`, and are beyond it.
  [[nodiscard]] std::vector<int> partners(int row) const {
    std::vector<int> rows;
    for (const auto& [j, count] : by_row_[at(row)]) {
      for (const auto& [other, n] : used_[at(j)].parts) {
        if (other > row) rows.push_back(other);
      }
    }
    std::sort(rows.begin(), rows.end());
    rows.erase(std::unique(rows.begin(), rows.end()), rows.end());
    return rows;
  }

  // What half the row sums, rounded up, come to.
  [[nodiscard]] double left_side(const Triple& rows) {
    ++stamp_;
    sums_.resize(used_.size());
    stamps_.resize(used_.size());
    std::vector<int>& touched = touched_;
    touched.clear();
    for (const int row : rows) {
      for (const auto& [j, count] : by_row_[at(row)]) {
        if (stamps_[at(j)] != stamp_)
          stamps_[at(j)] = stamp_, sums_[at(j)] = 0, touched.push_back(j);
        sums_[at(j)] += count;
      }
    }
    double sum = 0;
    for (const int j : touched)
      sum += static_cast<double>((sums_[at(j)] + 1) / 2) * used_[at(j)].value;
    return sum;
  }

 private:
  const std::vector<Used>& used_;
  std::vector<std::vector<std::pair<int, std::int64_t>>> by_row_ = {};
  std::vector<std::int64_t> sums_ = {};
  std::vector<int> stamps_ = {};
  std::vector<int> touched_ = {};
  int stamp_ = 0;
};

}  // namespace

std::vector<ViolatedTriple> violated_triples(const std::vector<std::int64_t>& sides,
                                             const std::vector<Used>& used, std::size_t most,
                                             int most_each) {
  Sharing sharing(sides.size(), used);
  std::vector<std::vector<int>> partners(sides.size());
  for (std::size_t i = 0; i < sides.size(); ++i) {
    if (sides[i] > 0) partners[i] = sharing.partners(static_cast<int>(i));
  }
  std::vector<ViolatedTriple> found;
  const auto consider = [&](int i, int k, int l) {
    const std::int64_t sum = sides[at(i)] + sides[at(k)] + sides[at(l)];
    if (sides[at(k)] == 0 || sides[at(l)] == 0 || sum % 2 == 0) return;
    const Triple rows{i, k, l};
    const double violation = static_cast<double>((sum + 1) / 2) - sharing.left_side(rows);
    if (violation > least_violation) found.push_back({rows, violation});
  };
  // Triples of which the first row shares columns with both others: the only ones worth a look
  // where each column holds a few rows.
  for (int i = 0; i < static_cast<int>(sides.size()); ++i) {
    const std::vector<int>& near = partners[at(i)];
    for (std::size_t a = 0; a < near.size() && found.size() < most_candidates; ++a) {
      for (std::size_t b = a + 1; b < near.size(); ++b) consider(i, near[a], near[b]);
    }
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const auto& a, const auto& b) { return a.violation > b.violation; });
  std::vector<int> taken(sides.size());
  std::vector<ViolatedTriple> best;
  for (const ViolatedTriple& v : found) {
    if (best.size() >= most) break;
    const auto is_full = [&](int row) { return taken[at(row)] >= most_each; };
    if (std::any_of(v.rows.begin(), v.rows.end(), is_full)) continue;
    for (const int row : v.rows) ++taken[at(row)];
    best.push_back(v);
  }
  return best;
}

}  // namespace kw::cutting::program
