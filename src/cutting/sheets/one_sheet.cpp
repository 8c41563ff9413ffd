#include "one_sheet.h"

#include <algorithm>
#include <cmath>

#include "labels.h"

namespace kw::cutting::sheets {
namespace {

constexpr double largest_whole = 0x1p50;
constexpr double finest = 0x1p20;

class Filling1 {
 public:
  Filling1(const Model& model, const Grid& grid, const std::vector<Lying>& lyings,
           const std::vector<std::int64_t>& worth, const std::vector<int>& counts,
           const FillingEffort& effort, Work& work)
      : model_(model),
        grid_(grid),
        lyings_(lyings),
        worth_(worth),
        counts_(counts),
        effort_(effort),
        work_(work) {
    best_.worth = effort.known;
  }

  // False when the worths are too large.
  bool begin() {
    full_.assign(worth_.begin(), worth_.end());
    for (std::size_t k = 0; k < counts_.size(); ++k)
      if (counts_[k] == 0) full_[k] = 0;
    whole_ = inside(full_).back();
    if (work_.is_over()) return false;
    if (whole_ > largest_whole || *std::max_element(full_.begin(), full_.end()) > largest_whole)
      return false;
    scale_ = std::clamp(std::floor(largest_whole / std::max(whole_, 1.0)), 1.0, finest);
    for (double& f : full_) f *= scale_;
    best_.bound = static_cast<std::int64_t>(whole_);
    return true;
  }

  Filling run(std::vector<double>& multipliers) {
    multipliers.resize(full_.size());
    lambda_.clear();
    for (const double m : multipliers) lambda_.push_back(std::floor(m * whole_ * scale_));
    best_lambda_ = lambda_;
    find_multipliers();
    for (std::size_t k = 0; k < lambda_.size(); ++k)
      multipliers[k] = best_lambda_[k] / std::max(whole_ * scale_, 1.0);
    if (!is_done() && !will_do()) use_labels();
    best_.bound = std::max(best_.bound, best_.worth);
    return std::move(best_);
  }

  std::optional<std::vector<Blocks>> all(const std::vector<double>& multipliers, std::int64_t least,
                                         std::size_t most) {
    lambda_.clear();
    for (std::size_t k = 0; k < full_.size(); ++k) {
      const double m = k < multipliers.size() ? multipliers[k] : 0;
      lambda_.push_back(std::clamp(std::floor(m * whole_ * scale_), 0.0, full_[k]));
    }
    const std::vector<double> worth = reduced();
    inside_ = inside(worth);
    outside_ = outside_of(grid_, inside_, work_);
    if (work_.is_over()) return std::nullopt;
    Labelled labelled = label(worth, std::vector<bool>(full_.size(), true), least, 0, most);
    if (!labelled.is_complete || labelled.best.size() >= most) return std::nullopt;
    return std::move(labelled.best);
  }

 private:
  Worths inside(const std::vector<double>& worth) {
    return inside_of(grid_, lyings_, worth, work_);
  }

  [[nodiscard]] bool is_done() const { return best_.bound <= best_.worth || work_.is_over(); }

  [[nodiscard]] bool will_do() const { return effort_.any_will_do && best_.worth > effort_.known; }

  [[nodiscard]] std::vector<double> reduced() const {
    std::vector<double> worth = full_;
    for (std::size_t k = 0; k < worth.size(); ++k) worth[k] -= lambda_[k];
    return worth;
  }

  [[nodiscard]] double given() const {  // what the multipliers pay for the counts
    double sum = 0;
    for (std::size_t k = 0; k < lambda_.size(); ++k) sum += lambda_[k] * counts_[k];
    return sum;
  }

  void find_multipliers() {
    double step = 1, best = 1e300;
    int idle = 0;
    for (int round = 0; round < effort_.rounds && !is_done() && step > 0.01; ++round) {
      const std::vector<double> worth = reduced();
      const Worths table = inside(worth);
      if (work_.is_over()) break;
      const double value = given() + table.back();
      if (value < best) {
        if (value < best * (1 - 1e-5)) idle = 0;
        best = value;
        best_lambda_ = lambda_;
        lower_bound(value);
      }
      if (++idle > 12) idle = 0, step /= 2;
      const Blocks blocks = best_blocks(grid_, lyings_, worth, table);
      offer(blocks);
      if (!move(counts_of(model_, blocks), step * (value - low() * scale_))) break;
    }
    lambda_ = best_lambda_;
  }

  [[nodiscard]] double low() const { return static_cast<double>(best_.worth); }

  void lower_bound(double scaled) {
    best_.bound = std::min(best_.bound, static_cast<std::int64_t>(std::floor(scaled / scale_)));
  }

  // False when the counts are all kept, and the multipliers lose nothing: both are best.
  bool move(const std::vector<int>& made, double length) {
    double norm = 0;
    std::vector<double> slope(made.size());
    for (std::size_t k = 0; k < made.size(); ++k) {
      slope[k] = made[k] - counts_[k];
      if (slope[k] < 0 && lambda_[k] <= 0) slope[k] = 0;
      norm += slope[k] * slope[k];
    }
    if (norm == 0) return false;
    for (std::size_t k = 0; k < made.size(); ++k)
      lambda_[k] = std::clamp(std::round(lambda_[k] + length / norm * slope[k]), 0.0, full_[k]);
    return true;
  }

  // Takes the filling without what it has too much of.
  void offer(const Blocks& blocks) {
    Blocks cut;
    std::vector<int> left = counts_;
    cut.root = without_surplus(blocks, blocks.root, left, cut);
    std::int64_t worth = 0;
    for (std::size_t k = 0; k < left.size(); ++k) worth += worth_[k] * (counts_[k] - left[k]);
    if (effort_.any_will_do && worth > effort_.known) best_.others.push_back(cut);
    if (worth <= best_.worth) return;
    best_.worth = worth;
    best_.blocks = std::move(cut);
  }

  static int without_surplus(const Blocks& from, int index, std::vector<int>& left, Blocks& into) {
    if (index < 0) return -1;
    const Block& b = from.all[static_cast<std::size_t>(index)];
    if (b.way != Way::none) {
      const int first = without_surplus(from, b.first, left, into);
      const int second = without_surplus(from, b.second, left, into);
      return into.join(first, second, b.way);
    }
    if (left[static_cast<std::size_t>(b.kind)]-- > 0)
      return into.add_part(b.kind, b.is_turned, b.size);
    ++left[static_cast<std::size_t>(b.kind)];
    return -1;
  }

  void use_labels() {
    const std::vector<double> worth = reduced();
    inside_ = inside(worth);
    outside_ = outside_of(grid_, inside_, work_);
    if (work_.is_over()) return;
    std::vector<bool> is_watched(full_.size());
    for (std::size_t k = 0; k < full_.size(); ++k) is_watched[k] = full_[k] > 0;
    for (const std::size_t kept : {8u, 40u}) {
      if (is_done() || will_do()) return;
      for (const Blocks& b : label(worth, is_watched, best_.worth + 1, kept).best) offer(b);
    }
    for (std::size_t k = 0; k < full_.size(); ++k) is_watched[k] = lambda_[k] > 0;
    for (int part = 16; part >= 1 && !is_done() && !will_do(); part /= 2) {
      const std::int64_t least =
          part == 1 ? best_.worth + 1
                    : std::max(best_.worth + 1, best_.bound - (best_.bound - best_.worth) / part);
      if (!close(worth, is_watched, least)) return;
    }
  }

  Labelled label(const std::vector<double>& worth, const std::vector<bool>& is_watched,
                 std::int64_t least, std::size_t kept, std::size_t answers = 0) {
    return fillings({.grid = grid_,
                     .lyings = lyings_,
                     .inside = inside_,
                     .outside = outside_,
                     .reduced = worth,
                     .full = full_,
                     .counts = counts_,
                     .is_watched = is_watched,
                     .least = static_cast<double>(least) * scale_ - given(),
                     .most_labels = effort_.labels,
                     .most_at_a_state = kept,
                     .keep_all_sets = answers > 0,
                     .most_answers = answers > 0 ? answers : (effort_.any_will_do ? 20u : 1u)},
                    work_);
  }

  // Settles whether anything is worth `least`, watching more kinds as they are overdone. False when
  // the labels are too many.
  bool close(const std::vector<double>& worth, std::vector<bool>& is_watched, std::int64_t least) {
    while (!is_done() && !will_do()) {
      const Labelled labelled = label(worth, is_watched, least, 0);
      if (!labelled.is_complete) return false;
      if (labelled.best.empty()) {
        best_.bound = std::min(best_.bound, least - 1);
        return true;
      }
      const std::vector<int> made = counts_of(model_, labelled.best.front());
      std::int64_t relaxed = 0;
      for (std::size_t k = 0; k < made.size(); ++k) relaxed += worth_[k] * made[k];
      for (const Blocks& b : labelled.best) offer(b);
      best_.bound = std::min(best_.bound, std::max(relaxed, least - 1));
      if (relaxed < least) return true;
      for (std::size_t k = 0; k < made.size(); ++k)
        if (made[k] > counts_[k]) is_watched[k] = true;
    }
    return true;
  }

  const Model& model_;
  const Grid& grid_;
  const std::vector<Lying>& lyings_;
  const std::vector<std::int64_t>& worth_;
  const std::vector<int>& counts_;
  const FillingEffort& effort_;
  Work& work_;
  std::vector<double> full_ = {}, lambda_ = {}, best_lambda_ = {};  // times scale_
  double whole_ = 0, scale_ = 1;
  Worths inside_ = {}, outside_ = {};
  Filling best_ = {};
};

}  // namespace

OneSheet::OneSheet(const Model& model, int board, Work& work) : model_(model) {
  const Board& b = model.boards[static_cast<std::size_t>(board)];
  grid_ = grid_of(model, b, work);
  if (grid_) lyings_ = lyings_on(model, b, *grid_);
}

std::optional<Filling> OneSheet::fill(const std::vector<std::int64_t>& worth,
                                      const std::vector<int>& counts, const FillingEffort& effort,
                                      Work& work) {
  Filling1 filling(model_, *grid_, lyings_, worth, counts, effort, work);
  if (!filling.begin()) return std::nullopt;
  return filling.run(multipliers_);
}

std::optional<std::vector<Blocks>> OneSheet::all(const std::vector<std::int64_t>& worth,
                                                 const std::vector<int>& counts, std::int64_t least,
                                                 std::size_t most, Work& work) {
  const FillingEffort effort;
  Filling1 filling(model_, *grid_, lyings_, worth, counts, effort, work);
  if (!filling.begin()) return std::nullopt;
  return filling.all(multipliers_, least, most);
}

}  // namespace kw::cutting::sheets
