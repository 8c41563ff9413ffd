#include "table.h"

#include <algorithm>

namespace kw::cutting::sheets {
namespace {

// Plain loops over whole rows, which compilers make wide.
void raise_row(double* into, const double* a, const double* b, int n) {
  for (int i = 0; i < n; ++i) {
    const double sum = a[i] + b[i];
    into[i] = into[i] < sum ? sum : into[i];
  }
}

Worths dearest_part(const Grid& grid, const std::vector<Lying>& lyings,
                    const std::vector<double>& worth, Work& work) {
  Worths best(static_cast<std::size_t>(grid.states()), 0);
  const int ny = grid.y.count();
  for (const Lying& l : lyings) {
    double& at = best[static_cast<std::size_t>(grid.state(l.ix, l.iy))];
    at = std::max(at, worth[static_cast<std::size_t>(l.kind)]);
  }
  for (int ix = 0; ix < grid.x.count() && work.spend(ny); ++ix) {
    double* row = &best[static_cast<std::size_t>(grid.state(ix, 0))];
    for (int iy = 1; iy < ny; ++iy) row[iy] = std::max(row[iy], row[iy - 1]);
    if (ix == 0) continue;
    for (int iy = 0; iy < ny; ++iy) row[iy] = std::max(row[iy], row[iy - ny]);
  }
  return best;
}

class Tracing {
 public:
  Tracing(const Grid& grid, const std::vector<Lying>& lyings, const std::vector<double>& worth,
          const Worths& inside)
      : grid_(grid), lyings_(lyings), worth_(worth), inside_(inside) {}

  Blocks run() {
    blocks_.root = trace(grid_.x.count() - 1, grid_.y.count() - 1);
    return std::move(blocks_);
  }

 private:
  [[nodiscard]] double at(int ix, int iy) const {
    return inside_[static_cast<std::size_t>(grid_.state(ix, iy))];
  }

  int trace(int ix, int iy) {
    const double sought = at(ix, iy);
    if (sought <= 0) return -1;
    for (const auto& [p, q] : grid_.x.cuts[static_cast<std::size_t>(ix)]) {
      if (at(p, iy) + at(q, iy) != sought) continue;
      const int a = trace(p, iy), b = trace(q, iy);
      return blocks_.join(a, b, Way::crosscut);
    }
    for (const auto& [p, q] : grid_.y.cuts[static_cast<std::size_t>(iy)]) {
      if (at(ix, p) + at(ix, q) != sought) continue;
      const int a = trace(ix, p), b = trace(ix, q);
      return blocks_.join(a, b, Way::rip);
    }
    for (const Lying& l : lyings_) {
      if (l.ix <= ix && l.iy <= iy && worth_[static_cast<std::size_t>(l.kind)] == sought)
        return blocks_.add_part(l.kind, l.is_turned, l.size);
    }
    KW_ASSERT(false);
    return -1;
  }

  const Grid& grid_;
  const std::vector<Lying>& lyings_;
  const std::vector<double>& worth_;
  const Worths& inside_;
  Blocks blocks_ = {};
};

}  // namespace

std::vector<Lying> lyings_on(const Model& model, const Board& board, const Grid& grid) {
  std::vector<Lying> lyings;
  for (std::size_t k = 0; k < model.kinds.size(); ++k) {
    for (const bool is_turned : {false, true}) {
      const Kind& kind = model.kinds[k];
      if (is_turned && !kind.turns) continue;
      const Size size = is_turned ? turned(kind.size) : kind.size;
      if (!board.size.holds(size)) continue;
      lyings.push_back(
          {static_cast<int>(k), is_turned, size, grid.x.at_least(size.l), grid.y.at_least(size.w)});
    }
  }
  return lyings;
}

Worths inside_of(const Grid& grid, const std::vector<Lying>& lyings,
                 const std::vector<double>& worth, Work& work) {
  Worths inside = dearest_part(grid, lyings, worth, work);
  const int ny = grid.y.count();
  const std::int64_t cost = grid.work() / grid.x.count();
  for (int ix = 1; ix < grid.x.count() && work.spend(cost); ++ix) {
    double* row = &inside[static_cast<std::size_t>(grid.state(ix, 0))];
    for (const auto& [p, q] : grid.x.cuts[static_cast<std::size_t>(ix)]) {
      raise_row(row, &inside[static_cast<std::size_t>(grid.state(p, 0))],
                &inside[static_cast<std::size_t>(grid.state(q, 0))], ny);
    }
    for (int iy = 1; iy < ny; ++iy) {
      double best = row[iy];
      for (const auto& [p, q] : grid.y.cuts[static_cast<std::size_t>(iy)])
        best = std::max(best, row[p] + row[q]);
      row[iy] = best;
    }
  }
  return inside;
}

Worths outside_of(const Grid& grid, const Worths& inside, Work& work) {
  const std::int64_t cost = 2 * grid.work() / grid.x.count();
  Worths outside(inside.size(), no_worth);
  outside.back() = 0;
  const int ny = grid.y.count();
  for (int ix = grid.x.count(); ix-- > 1 && work.spend(cost);) {
    double* row = &outside[static_cast<std::size_t>(grid.state(ix, 0))];
    const double* in = &inside[static_cast<std::size_t>(grid.state(ix, 0))];
    for (int iy = ny; iy-- > 1;) {
      for (const auto& [p, q] : grid.y.cuts[static_cast<std::size_t>(iy)]) {
        row[p] = std::max(row[p], row[iy] + in[q]);
        row[q] = std::max(row[q], row[iy] + in[p]);
      }
    }
    for (const auto& [p, q] : grid.x.cuts[static_cast<std::size_t>(ix)]) {
      const auto sp = static_cast<std::size_t>(grid.state(p, 0));
      const auto sq = static_cast<std::size_t>(grid.state(q, 0));
      raise_row(&outside[sp], row, &inside[sq], ny);
      raise_row(&outside[sq], row, &inside[sp], ny);
    }
  }
  return outside;
}

Blocks best_blocks(const Grid& grid, const std::vector<Lying>& lyings,
                   const std::vector<double>& worth, const Worths& inside) {
  return Tracing(grid, lyings, worth, inside).run();
}

}  // namespace kw::cutting::sheets
