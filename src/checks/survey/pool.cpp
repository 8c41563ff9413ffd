#include "kerfwright/checks/pool.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <queue>

#include "survey/scene.h"

namespace kw {
namespace {

using surveying::at;
using surveying::Wood;

constexpr double most_cells = 120'000;
constexpr double least_volume = 2e5;  // mm^3: 0.2 litre
constexpr std::size_t least_cells = 30;

std::vector<Vec3> clipped(const std::vector<Vec3>& loop, const Plane& plane) {
  std::vector<Vec3> kept;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const Vec3 a = loop[i], b = loop[(i + 1) % loop.size()];
    const double da = plane.distance(a), db = plane.distance(b);
    if (da <= 0) kept.push_back(a);
    if ((da < 0 && db > 0) || (da > 0 && db < 0)) kept.push_back(a + (b - a) * (da / (da - db)));
  }
  return kept;
}

double area_of(const std::vector<Vec3>& loop, Vec3 normal) {
  Vec3 sum;
  for (std::size_t i = 0; i < loop.size(); ++i) sum += cross(loop[i], loop[(i + 1) % loop.size()]);
  return dot(sum, normal) / 2;
}

// Cells of air and wood; one layer of air around.
class Grid {
 public:
  explicit Grid(const std::vector<Wood>& woods) : woods_(woods) {
    low_ = woods.front().low;
    Vec3 high = woods.front().high;
    for (const Wood& w : woods) {
      low_ = {std::min(low_.x, w.low.x), std::min(low_.y, w.low.y), std::min(low_.z, w.low.z)};
      high = {std::max(high.x, w.high.x), std::max(high.y, w.high.y), std::max(high.z, w.high.z)};
    }
    const Vec3 size = high - low_;
    cell_ = std::max(3.0, std::cbrt(size.x * size.y * size.z / most_cells));
    low_ = low_ - Vec3{cell_, cell_, cell_};
    count_ = {static_cast<int>(size.x / cell_) + 3, static_cast<int>(size.y / cell_) + 3,
              static_cast<int>(size.z / cell_) + 3};
    wood_.assign(at(count_[0]) * at(count_[1]) * at(count_[2]), -1);
    for (std::size_t i = 0; i < woods.size(); ++i) fill(static_cast<int>(i));
    flood();
  }

  [[nodiscard]] std::vector<Pool> pools();

 private:
  [[nodiscard]] int index(int x, int y, int z) const { return (z * count_[1] + y) * count_[0] + x; }
  [[nodiscard]] std::array<int, 3> cell_of(int i) const {
    return {i % count_[0], i / count_[0] % count_[1], i / (count_[0] * count_[1])};
  }
  [[nodiscard]] Vec3 middle(const std::array<int, 3>& c) const {
    return low_ + Vec3{c[0] + 0.5, c[1] + 0.5, c[2] + 0.5} * cell_;
  }
  [[nodiscard]] int place(double value, double low, int axis) const {
    return std::clamp(static_cast<int>((value - low) / cell_), 0, count_[at(axis)] - 1);
  }
  void fill(int body) {
    const Wood& w = woods_[at(body)];
    for (int z = place(w.low.z, low_.z, 2); z <= place(w.high.z, low_.z, 2); ++z)
      for (int y = place(w.low.y, low_.y, 1); y <= place(w.high.y, low_.y, 1); ++y)
        for (int x = place(w.low.x, low_.x, 0); x <= place(w.high.x, low_.x, 0); ++x)
          if (wood_[at(index(x, y, z))] < 0 && w.is_in_stick(middle({x, y, z})))
            wood_[at(index(x, y, z))] = body;
  }
  template <class Each>
  void beside(int i, Each each) const {
    const auto c = cell_of(i);
    for (int axis = 0; axis < 3; ++axis)
      for (const int step : {-1, 1}) {
        auto n = c;
        n[at(axis)] += step;
        if (n[at(axis)] < 0 || n[at(axis)] >= count_[at(axis)]) continue;
        each(index(n[0], n[1], n[2]));
      }
  }
  // How high water in each cell must rise to run out: the least, over all ways out, of the highest
  // cell on the way.
  void flood() {
    rise_.assign(wood_.size(), 1 << 30);
    using Entry = std::pair<int, int>;
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue;
    for (int i = 0; i < static_cast<int>(wood_.size()); ++i) {
      const auto c = cell_of(i);
      bool is_border = false;
      for (int axis = 0; axis < 3; ++axis)
        is_border = is_border || c[at(axis)] == 0 || c[at(axis)] == count_[at(axis)] - 1;
      if (!is_border || wood_[at(i)] >= 0) continue;
      rise_[at(i)] = c[2];
      queue.emplace(c[2], i);
    }
    while (!queue.empty()) {
      const auto [level, i] = queue.top();
      queue.pop();
      if (level > rise_[at(i)]) continue;
      beside(i, [&, high = level](int n) {
        const int next = std::max(high, cell_of(n)[2]);
        if (wood_[at(n)] >= 0 || next >= rise_[at(n)]) return;
        rise_[at(n)] = next;
        queue.emplace(next, n);
      });
    }
  }
  [[nodiscard]] bool is_wet(int i) const {
    return wood_[at(i)] < 0 && rise_[at(i)] > cell_of(i)[2] && rise_[at(i)] < (1 << 30);
  }
  [[nodiscard]] Pool pool_from(int first, std::vector<bool>& seen);
  [[nodiscard]] Plane wall_between(int wet, int wood) const;
  [[nodiscard]] double rim_of(const std::vector<int>& bodies, double about) const;

  const std::vector<Wood>& woods_;
  Vec3 low_ = {};
  double cell_ = 0;
  std::array<int, 3> count_ = {};
  std::vector<int> wood_ = {};
  std::vector<int> rise_ = {};
};

// The face of the wood that stands between a wet cell and one of wood, as a half-space of the room.
Plane Grid::wall_between(int wet, int wood) const {
  const Vec3 a = middle(cell_of(wet)), b = middle(cell_of(wood));
  const Vec3 out = unit(b - a);
  Plane best{};
  double nearest = 1e18;
  for (const Plane& plane : woods_[at(wood_[at(wood)])].trims) {
    if (dot(plane.normal, out) > -0.05) continue;
    const double off = std::abs(plane.distance((a + b) * 0.5));
    if (off >= nearest) continue;
    nearest = off;
    best = {-plane.normal, -plane.offset};
  }
  return best;
}

// Water runs out over the lowest of the walls that end near the grid's level, each at its highest
// corner there; the grid's level where none does.
double Grid::rim_of(const std::vector<int>& bodies, double about) const {
  double rim = 1e18;
  for (const int body : bodies) {
    double top = -1e18;
    for (const Face& face : woods_[at(body)].shape->faces)
      for (const auto& loop : face.loops)
        for (const Vec3& corner : loop) {
          const double z = woods_[at(body)].frame.to_world(corner).z;
          if (std::abs(z - about) < 1.5 * cell_) top = std::max(top, z);
        }
    if (top > -1e18) rim = std::min(rim, top);
  }
  return rim < 1e18 ? rim : about;
}

Pool Grid::pool_from(int first, std::vector<bool>& seen) {
  Pool pool{.cell = cell_, .low = middle(cell_of(first)), .high = middle(cell_of(first))};
  std::vector<int> stack = {first};
  std::vector<Plane> walls;
  std::size_t cells = 0;
  int rise = 0;
  seen[at(first)] = true;
  while (!stack.empty()) {
    const int i = stack.back();
    stack.pop_back();
    ++cells;
    rise = std::max(rise, rise_[at(i)]);
    const Vec3 p = middle(cell_of(i));
    pool.low = {std::min(pool.low.x, p.x), std::min(pool.low.y, p.y), std::min(pool.low.z, p.z)};
    pool.high = {std::max(pool.high.x, p.x), std::max(pool.high.y, p.y),
                 std::max(pool.high.z, p.z)};
    beside(i, [&](int n) {
      if (wood_[at(n)] >= 0) {
        const Plane wall = wall_between(i, n);
        const bool is_known = std::any_of(walls.begin(), walls.end(), [&](const Plane& w) {
          return dot(w.normal, wall.normal) > 0.99999 && std::abs(w.offset - wall.offset) < 0.1;
        });
        if (!is_known) walls.push_back(wall);
        if (std::find(pool.bodies.begin(), pool.bodies.end(), wood_[at(n)]) == pool.bodies.end())
          pool.bodies.push_back(wood_[at(n)]);
      } else if (is_wet(n) && !seen[at(n)]) {
        seen[at(n)] = true;
        stack.push_back(n);
      }
    });
  }
  if (cells < least_cells) return {};
  pool.volume = static_cast<double>(cells) * cell_ * cell_ * cell_;
  pool.floor = pool.low.z - cell_ / 2;
  const double about = low_.z + (rise + 0.0) * cell_;
  pool.rim = rim_of(pool.bodies, about);
  walls.push_back({{0, 0, 1}, pool.rim});
  const double exact = convex_volume(walls);
  pool.is_exact = walls.size() <= 16 && std::abs(exact - pool.volume) < 0.15 * pool.volume;
  if (pool.is_exact) pool.volume = exact;
  return pool;
}

std::vector<Pool> Grid::pools() {
  std::vector<Pool> pools;
  std::vector<bool> seen(wood_.size(), false);
  for (int i = 0; i < static_cast<int>(wood_.size()); ++i) {
    if (seen[at(i)] || !is_wet(i)) continue;
    Pool pool = pool_from(i, seen);
    if (pool.volume >= least_volume) pools.push_back(std::move(pool));
  }
  std::stable_sort(pools.begin(), pools.end(),
                   [](const Pool& a, const Pool& b) { return a.volume > b.volume; });
  return pools;
}

bool is_near(const Pool& pool, Vec3 p) {
  const double slack = 1.5 * pool.cell;
  return p.x > pool.low.x - slack && p.x < pool.high.x + slack && p.y > pool.low.y - slack &&
         p.y < pool.high.y + slack && p.z > pool.floor - slack &&
         p.z < pool.floor + 2.5 * pool.cell;
}

bool is_drained(const Pool& pool, const std::vector<Wood>& woods, const std::vector<Body>& bodies) {
  constexpr double right_through = 1e5;
  for (const int body : pool.bodies) {
    const Wood& wood = woods[at(body)];
    for (const Feature& feature : wood.shape->features) {
      if (feature.kind != FeatureKind::hole || feature.depth < right_through) continue;
      const Vec3 mouth = wood.frame.to_world(feature.mouth);
      const double thick = norm(wood.high - wood.low);
      const Vec3 way = wood.frame.direction_to_world(feature.direction);
      for (double t = 0; t <= thick; t += pool.cell / 2)
        if (is_near(pool, mouth + way * t)) return true;
    }
  }
  constexpr double opens = 1.5;  // mm: narrower gaps silt up (common practice)
  for (const Contact& c : contacts_in(bodies, pool.cell * 1.5))
    if (c.gap > opens && is_near(pool, c.centre)) return true;
  return false;
}

}  // namespace

double convex_volume(const std::vector<Plane>& planes) {
  constexpr double far_off = 10'000;  // mm
  Vec3 about{};
  double volume = 0;
  for (std::size_t i = 0; i < planes.size(); ++i) {
    const Vec3 n = planes[i].normal;
    const Vec3 u = unit(cross(std::abs(n.z) < 0.9 ? Vec3{0, 0, 1} : Vec3{1, 0, 0}, n)),
               v = cross(n, u);
    const Vec3 o = n * planes[i].offset;
    std::vector<Vec3> loop = {o - u * far_off - v * far_off, o + u * far_off - v * far_off,
                              o + u * far_off + v * far_off, o - u * far_off + v * far_off};
    for (std::size_t j = 0; j < planes.size() && !loop.empty(); ++j)
      if (j != i) loop = clipped(loop, planes[j]);
    if (loop.size() < 3) continue;
    volume += area_of(loop, n) * (planes[i].offset - dot(n, about)) / 3;
  }
  return std::max(0.0, volume);
}

std::vector<Pool> pools_in(const std::vector<Body>& bodies) {
  if (bodies.empty()) return {};
  std::vector<Wood> woods;
  for (const Body& body : bodies) woods.push_back(surveying::wood_of(body));
  std::vector<Pool> pools = Grid(woods).pools();
  for (Pool& pool : pools) pool.is_drained = is_drained(pool, woods, bodies);
  return pools;
}

}  // namespace kw
