#include "removal.h"

#include <cmath>

#include "lines.h"

namespace kw {
namespace {

constexpr double behind = 2e-3;  // mm behind a face before an edge counts as hidden

// Which screens lie over a patch of the view: a coarse grid of lists.
class Grid {
 public:
  explicit Grid(const std::vector<Screen>& screens) {
    for (const Screen& s : screens) {
      all_.left = std::min(all_.left, s.box.left);
      all_.right = std::max(all_.right, s.box.right);
      all_.low = std::min(all_.low, s.box.low);
      all_.high = std::max(all_.high, s.box.high);
    }
    side_ = std::clamp(static_cast<int>(std::sqrt(static_cast<double>(screens.size()))), 1, 64);
    cells_.resize(static_cast<std::size_t>(side_) * static_cast<std::size_t>(side_));
    seen_.assign(screens.size(), 0);
    for (std::size_t i = 0; i < screens.size(); ++i) {
      each_cell(screens[i].box,
                [&](std::vector<int>& cell) { cell.push_back(static_cast<int>(i)); });
    }
  }

  template <class Use>
  void each_over(const Box& box, Use use) {
    ++stamp_;
    each_cell(box, [&](std::vector<int>& cell) {
      for (const int i : cell) {
        auto& seen = seen_[static_cast<std::size_t>(i)];
        if (seen == stamp_) continue;
        seen = stamp_;
        use(i);
      }
    });
  }

 private:
  [[nodiscard]] int column(double v, double low, double high) const {
    return high > low ? std::clamp(static_cast<int>((v - low) / (high - low) * side_), 0, side_ - 1)
                      : 0;
  }
  template <class Use>
  void each_cell(const Box& box, Use use) {
    const int x1 = column(box.right, all_.left, all_.right),
              y1 = column(box.high, all_.low, all_.high);
    for (int y = column(box.low, all_.low, all_.high); y <= y1; ++y) {
      for (int x = column(box.left, all_.left, all_.right); x <= x1; ++x) {
        use(cells_[static_cast<std::size_t>(y * side_ + x)]);
      }
    }
  }

  Box all_ = {};
  int side_ = 1;
  std::vector<std::vector<int>> cells_ = {};
  std::vector<int> seen_ = {};
  int stamp_ = 0;
};

using Interval = std::pair<double, double>;

// Where along from..to (0..1) the line passes over the face's loops: even-odd crossings.
std::vector<double> crossings(const Screen& screen, Vec3 from, Vec3 to) {
  const Vec2 along = {to.x - from.x, to.y - from.y};
  const double length2 = dot(along, along);
  std::vector<double> ts;
  for (const auto& loop : screen.loops) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Vec3& a = loop[i];
      const Vec3& b = loop[(i + 1) % loop.size()];
      const double side_a = cross(along, Vec2{a.x - from.x, a.y - from.y});
      const double side_b = cross(along, Vec2{b.x - from.x, b.y - from.y});
      if ((side_a <= 0) == (side_b <= 0)) continue;
      const double k = side_a / (side_a - side_b);
      const Vec2 at = {a.x + (b.x - a.x) * k - from.x, a.y + (b.y - a.y) * k - from.y};
      ts.push_back(dot(at, along) / length2);
    }
  }
  std::sort(ts.begin(), ts.end());
  return ts;
}

// The stretch of 0..1 in which from..to lies behind the face's plane.
Interval stretch_behind(const Screen& screen, Vec3 from, Vec3 to) {
  const double a = -screen.plane.distance(from) - behind;
  const double b = -screen.plane.distance(to) - behind;
  if (a <= 0 && b <= 0) return {1, 0};
  if (a > 0 && b > 0) return {0, 1};
  const double t = a / (a - b);
  return a > 0 ? Interval{0, t} : Interval{t, 1};
}

void add_hidden(const Screen& screen, Vec3 from, Vec3 to, std::vector<Interval>& hidden) {
  const Interval back = stretch_behind(screen, from, to);
  if (back.first >= back.second) return;
  const auto ts = crossings(screen, from, to);
  for (std::size_t i = 0; i + 1 < ts.size(); i += 2) {
    const double a = std::max({ts[i], back.first, 0.0});
    const double b = std::min({ts[i + 1], back.second, 1.0});
    if (b > a) hidden.emplace_back(a, b);
  }
}

void emit(std::vector<ViewLine>& lines, Vec3 from, Vec3 to, double a, double b, Pen pen, int body) {
  if (b - a < 1e-9) return;
  const Vec3 p = from + (to - from) * a;
  const Vec3 q = from + (to - from) * b;
  lines.push_back({{p.x, p.y}, {q.x, q.y}, pen, body});
}

void emit_stretches(std::vector<ViewLine>& lines, Vec3 from, Vec3 to, std::vector<Interval>& hidden,
                    Pen pen, int body, bool with_hidden) {
  std::sort(hidden.begin(), hidden.end());
  double at = 0;
  for (const auto& [a, b] : hidden) {
    if (b <= at) continue;
    if (a > at) emit(lines, from, to, at, a, pen, body);
    if (with_hidden) emit(lines, from, to, std::max(a, at), b, Pen::hidden, body);
    at = b;
  }
  emit(lines, from, to, at, 1, pen, body);
}

class Removal {
 public:
  Removal(const std::vector<Screen>& screens, bool with_hidden)
      : with_hidden_(with_hidden), screens_(screens), grid_(screens) {}

  void add(const Candidate& edge) {
    if (norm(Vec2{edge.to.x - edge.from.x, edge.to.y - edge.from.y}) < 1e-6) return;
    if (edge.pen == Pen::hidden) {
      if (with_hidden_) emit(lines_, edge.from, edge.to, 0, 1, Pen::hidden, edge.body);
      return;
    }
    Box box;
    box.add(edge.from);
    box.add(edge.to);
    const double far = std::min(edge.from.z, edge.to.z);
    hidden_.clear();
    grid_.each_over(box, [&](int i) {
      const Screen& screen = screens_[static_cast<std::size_t>(i)];
      if (screen.box.near <= far || screen.box.left >= box.right + behind ||
          screen.box.right <= box.left - behind || screen.box.low >= box.high + behind ||
          screen.box.high <= box.low - behind) {
        return;
      }
      add_hidden(screen, edge.from, edge.to, hidden_);
    });
    emit_stretches(lines_, edge.from, edge.to, hidden_, edge.pen, edge.body, with_hidden_);
  }

  std::vector<ViewLine> take() { return std::move(lines_); }

 private:
  bool with_hidden_;
  const std::vector<Screen>& screens_;
  Grid grid_;
  std::vector<Interval> hidden_ = {};
  std::vector<ViewLine> lines_ = {};
};

}  // namespace

std::vector<ViewLine> lines_before(const std::vector<Screen>& screens,
                                   const std::vector<Candidate>& edges, bool with_hidden) {
  Removal removal(screens, with_hidden);
  for (const Candidate& edge : edges) removal.add(edge);
  return without_shadowed(merged(removal.take()));
}

View boxed(std::vector<ViewLine> lines) {
  View view{.lines = std::move(lines)};
  if (view.lines.empty()) return view;
  view.low = view.high = view.lines.front().from;
  for (const ViewLine& line : view.lines) {
    for (const Vec2 p : {line.from, line.to}) {
      view.low = {std::min(view.low.x, p.x), std::min(view.low.y, p.y)};
      view.high = {std::max(view.high.x, p.x), std::max(view.high.y, p.y)};
    }
  }
  return view;
}

}  // namespace kw
