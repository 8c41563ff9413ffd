// Lines that run over one another at slightly different angles: rims of holes that meet
// are polygons of the same circle whose corners differ by what the solids' tolerance lets.
#include <algorithm>
#include <cmath>
#include <unordered_map>

#include "lines.h"

namespace kw {
namespace {

constexpr double cell = 20;        // mm
constexpr double together = 2e-3;  // mm from line to line
constexpr double too_short = 1e-3;

using Cell = std::int64_t;

// The cells that a line passes through; some come twice.
template <class Use>
void each_cell(const ViewLine& line, Use use) {
  const auto index = [](double v) { return static_cast<Cell>(std::floor(v / cell)); };
  const Vec2 d = line.to - line.from;
  const int pieces = 1 + static_cast<int>(norm(d) / cell);
  for (int i = 0; i < pieces; ++i) {
    const Vec2 a = line.from + d * (static_cast<double>(i) / pieces);
    const Vec2 b = line.from + d * (static_cast<double>(i + 1) / pieces);
    for (Cell x = index(std::min(a.x, b.x) - together); x <= index(std::max(a.x, b.x) + together);
         ++x) {
      for (Cell y = index(std::min(a.y, b.y) - together); y <= index(std::max(a.y, b.y) + together);
           ++y)
        use(x * 1'000'003 + y);
    }
  }
}

struct Stretch {
  double from = 0, to = 0;
};

// The stretch of `line` (0..1) over which `over` runs along it; empty when it does not.
Stretch stretch_under(const ViewLine& line, const ViewLine& over) {
  const Vec2 d = line.to - line.from;
  const double length2 = dot(d, d);
  double a = dot(over.from - line.from, d) / length2;
  double b = dot(over.to - line.from, d) / length2;
  if (a > b) std::swap(a, b);
  const Stretch s{std::max(a, 0.0), std::min(b, 1.0)};
  if (s.to - s.from <= 0) return {};
  const Vec2 e = over.to - over.from;
  const double length = norm(e);
  for (const double t : {s.from, s.to}) {
    if (std::abs(cross(e, line.from + d * t - over.from)) > together * length) return {};
  }
  return s;
}

void cut_out(std::vector<Stretch>& left, Stretch gone) {
  std::vector<Stretch> kept;
  for (const Stretch& s : left) {
    if (gone.from > s.from) kept.push_back({s.from, std::min(s.to, gone.from)});
    if (gone.to < s.to) kept.push_back({std::max(s.from, gone.to), s.to});
  }
  left = std::move(kept);
}

}  // namespace

std::vector<ViewLine> without_shadowed(const std::vector<ViewLine>& lines) {
  std::unordered_map<Cell, std::vector<std::size_t>> cells;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    each_cell(lines[i], [&](Cell c) { cells[c].push_back(i); });
  }
  std::vector<ViewLine> out;
  std::vector<std::size_t> near;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const ViewLine& line = lines[i];
    std::vector<Stretch> left = {{0, 1}};
    const auto cut_by = [&](std::size_t k) {
      const bool is_stronger =
          strength_of(lines[k].pen) > strength_of(line.pen) || (lines[k].pen == line.pen && k < i);
      if (k == i || !is_stronger) return;
      const Stretch s = stretch_under(line, lines[k]);
      if (s.to > s.from) cut_out(left, s);
    };
    near.clear();
    each_cell(line, [&](Cell c) { near.insert(near.end(), cells[c].begin(), cells[c].end()); });
    std::sort(near.begin(), near.end());
    near.erase(std::unique(near.begin(), near.end()), near.end());
    for (const std::size_t k : near) cut_by(k);
    const Vec2 d = line.to - line.from;
    for (const Stretch& s : left) {
      const bool is_whole = s.from == 0 && s.to == 1;
      if (!is_whole && (s.to - s.from) * norm(d) < too_short) continue;
      out.push_back({is_whole ? line.from : line.from + d * s.from,
                     is_whole ? line.to : line.from + d * s.to, line.pen, line.body});
    }
  }
  return out;
}

}  // namespace kw
