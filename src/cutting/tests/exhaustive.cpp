#include "exhaustive.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

namespace kw {
namespace {

constexpr std::int64_t dear = std::numeric_limits<std::int64_t>::max() / 4;
constexpr double never = std::numeric_limits<double>::infinity();

struct Lying {
  double left = 0, right = 0, length = 0;
};

class Exhaustive {
 public:
  explicit Exhaustive(const Problem& problem) : problem_(problem) {
    for (const Demand& d : problem.demands) {
      for (int i = 0; i < d.count; ++i) parts_.push_back(lyings_of(d));
    }
    fill_rows();
    fill_fits();
  }

  [[nodiscard]] double row(std::size_t mask) const { return rows_[mask]; }
  [[nodiscard]] std::size_t everything() const { return (std::size_t{1} << parts_.size()) - 1; }

  // What each set of parts costs on endless stock, then with one scarce stick more at a time.
  [[nodiscard]] std::optional<std::int64_t> cheapest() const {
    std::vector<std::int64_t> least(rows_.size(), dear);
    least[0] = 0;
    for (std::size_t set = 1; set < rows_.size(); ++set) {
      const std::size_t lowest = set & (~set + 1);
      for (std::size_t on = set; on > 0; on = (on - 1) & set) {
        if ((on & lowest) == 0) continue;
        least[set] = std::min(least[set], least[set & ~on] + on_endless_stock(on));
      }
    }
    for (const Stock& stock : problem_.stocks) {
      const int sticks = std::min(stock.count.value_or(0), static_cast<int>(parts_.size()));
      for (int i = 0; i < sticks; ++i) least = with_one_more(least, stock);
    }
    if (least.back() >= dear) return std::nullopt;
    return least.back();
  }

 private:
  static std::vector<Lying> lyings_of(const Demand& d) {
    const auto length = static_cast<double>(d.length.in_ticks());
    const double l = d.left_slope, r = d.right_slope;
    std::vector<Lying> all = {{l, r, length}};
    if (d.may_turn) all.push_back({r, l, length});
    if (d.may_flip) all.push_back({-l, -r, length});
    if (d.may_turn && d.may_flip) all.push_back({-r, -l, length});
    return all;
  }

  [[nodiscard]] bool fits(std::size_t set, const Stock& stock) const {
    return fits_[static_cast<std::size_t>(&stock - problem_.stocks.data())][set];
  }

  // The clear stretches of a stick: what no fault covers, each as long as the widest cut at least.
  [[nodiscard]] std::vector<double> stretches_of(const Stock& stock) const {
    double widest = kerf_along(0);
    for (const auto& lyings : parts_) {
      for (const Lying& l : lyings)
        widest = std::max({widest, kerf_along(l.left), kerf_along(l.right)});
    }
    const auto trim = static_cast<double>(problem_.saw.end_trim.in_ticks());
    const double end = static_cast<double>(stock.length.in_ticks()) - trim;
    std::vector<std::pair<double, double>> faults;
    for (const FaultyZone& f : stock.faults) {
      const auto from = static_cast<double>(f.from.in_ticks());
      faults.emplace_back(from, from + std::max(static_cast<double>(f.length.in_ticks()), widest));
    }
    std::sort(faults.begin(), faults.end());
    std::vector<double> stretches;
    double from = trim;
    for (const auto& [begin, to] : faults) {
      stretches.push_back(std::min(begin, end) - from);
      from = std::max(from, to);
    }
    stretches.push_back(end - from);
    return stretches;
  }

  // Every way to share a set out over the stretches of each stick.
  void fill_fits() {
    for (const Stock& stock : problem_.stocks) {
      std::vector<bool> fits(rows_.size());
      fits[0] = true;
      for (const double stretch : stretches_of(stock)) {
        std::vector<bool> now = fits;
        for (std::size_t set = 1; set < rows_.size(); ++set) {
          for (std::size_t on = set; on > 0 && !now[set]; on = (on - 1) & set)
            now[set] = fits[set & ~on] && rows_[on] <= stretch + 1.0 / 16;
        }
        fits = std::move(now);
      }
      fits_.push_back(std::move(fits));
    }
  }

  [[nodiscard]] std::int64_t on_endless_stock(std::size_t set) const {
    std::int64_t least = dear;
    for (const Stock& stock : problem_.stocks) {
      if (!stock.count && fits(set, stock)) least = std::min(least, stock.price.coins);
    }
    return least;
  }

  [[nodiscard]] std::vector<std::int64_t> with_one_more(const std::vector<std::int64_t>& least,
                                                        const Stock& stock) const {
    std::vector<std::int64_t> now = least;
    for (std::size_t set = 1; set < now.size(); ++set) {
      for (std::size_t on = set; on > 0; on = (on - 1) & set) {
        if (fits(on, stock)) now[set] = std::min(now[set], least[set & ~on] + stock.price.coins);
      }
    }
    return now;
  }

  // The shortest row of every set of parts, over all orders and lyings: by set, last part, lying.
  void fill_rows() {
    const std::size_t sets = std::size_t{1} << parts_.size(), ends = parts_.size() * 4;
    std::vector<double> row(sets * ends, never);
    rows_.assign(sets, never);
    rows_[0] = 0;
    for (std::size_t set = 1; set < sets; ++set) {
      for (std::size_t p = 0; p < parts_.size(); ++p) {
        if ((set >> p & 1) == 0) continue;
        for (std::size_t v = 0; v < parts_[p].size(); ++v) {
          const std::size_t before = set & ~(std::size_t{1} << p);
          const double length = shortest(row, before, parts_[p][v]) + parts_[p][v].length;
          row[set * ends + p * 4 + v] = length;
          rows_[set] = std::min(rows_[set], length + lean(parts_[p][v].right, 0));
        }
      }
    }
  }

  // Up to the left end of `next`, behind the parts of `set`.
  double shortest(const std::vector<double>& row, std::size_t set, const Lying& next) const {
    if (set == 0) return lean(0, next.left);
    double least = never;
    for (std::size_t p = 0; p < parts_.size(); ++p) {
      for (std::size_t v = 0; v < parts_[p].size(); ++v) {
        const double length = row[(set * parts_.size() + p) * 4 + v];
        if (length == never) continue;
        const double right = parts_[p][v].right;
        const double kerf = std::max(kerf_along(right), kerf_along(next.left));
        least = std::min(least, length + lean(right, next.left) + kerf);
      }
    }
    return least;
  }

  [[nodiscard]] double lean(double a, double b) const {
    return static_cast<double>(problem_.width.in_ticks()) / 2 * std::abs(a - b);
  }
  [[nodiscard]] double kerf_along(double slope) const {
    return static_cast<double>(problem_.saw.kerf.in_ticks()) * std::hypot(1.0, slope);
  }

  const Problem& problem_;
  std::vector<std::vector<Lying>> parts_ = {};
  std::vector<double> rows_ = {};
  std::vector<std::vector<bool>> fits_ = {};  // by stock, by set
};

}  // namespace

std::optional<std::int64_t> cheapest(const Problem& problem) {
  return Exhaustive(problem).cheapest();
}

double shortest_row(const Problem& problem) {
  const Exhaustive all(problem);
  return all.row(all.everything());
}

}  // namespace kw
