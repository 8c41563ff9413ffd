#include "angled/sizes.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "program/master.h"

namespace kw::cutting::angled {
namespace {

using program::endless;
using program::Entry;
using program::Master;
using program::Status;

constexpr double unit = 1e6;  // ticks; brings what the programme sees near to 1

// Which ends there are on which side of a part.
struct Sides {
  std::vector<bool> is_left = {}, is_right = {};
};

Sides sides_of(const Shapes& shapes) {
  Sides sides{std::vector<bool>(at(shapes.ends)), std::vector<bool>(at(shapes.ends))};
  for (const Shape& shape : shapes.all) {
    for (const Way& way : shape) sides.is_left[at(way.left)] = sides.is_right[at(way.right)] = true;
  }
  return sides;
}

std::int64_t gap_at_least(const Model& model, const Shapes& shapes, int right, int left) {
  return shapes.gap(right, left) - rounding_of_a_joint(model);
}

std::int64_t reach_at_least(const Model& model, int end) {
  return model.ends[at(end)].reach - rounding_of_a_joint(model);
}

// The programme: maximise the sizes of all parts and what the sticks' own shares add. The share of
// the stick's left end may be 0, since adding the same to all u and taking it from all v changes
// nothing. Columns: u by right end, v by left end, v_0, then the least share of each shape.
std::vector<double> shares_by_programme(const Model& model, const Shapes& shapes, int sticks) {
  const int ends = shapes.ends, stick_end = 2 * ends;
  std::vector<double> counts(shapes.all.size());
  std::vector<double> least(shapes.all.size(), std::numeric_limits<double>::max());
  for (std::size_t k = 0; k < model.kinds.size(); ++k) {
    const std::size_t s = at(shapes.of_kind[k]);
    counts[s] += model.kinds[k].count;
    least[s] = std::min(least[s], static_cast<double>(model.kinds[k].length));
  }
  Master master;
  for (int i = 0; i < 2 * ends; ++i)
    master.add_column({.cost = 0, .lower = -endless, .upper = endless});
  master.add_column({.cost = -static_cast<double>(sticks), .lower = -endless, .upper = endless});
  for (std::size_t s = 0; s < shapes.all.size(); ++s)
    master.add_column({.cost = -counts[s], .lower = (8 - least[s]) / unit, .upper = endless});
  const Sides sides = sides_of(shapes);
  const auto limit = [&](std::vector<Entry> entries, std::int64_t most) {
    master.add_row({-endless, static_cast<double>(most) / unit}, entries);
  };
  for (int e = 0; e < ends; ++e) {
    if (sides.is_left[at(e)]) limit({{ends + e, 1}}, reach_at_least(model, e));
    if (!sides.is_right[at(e)]) continue;
    limit({{e, 1}, {stick_end, 1}}, reach_at_least(model, e));
    for (int left = 0; left < ends; ++left) {
      if (sides.is_left[at(left)])
        limit({{e, 1}, {ends + left, 1}}, gap_at_least(model, shapes, e, left));
    }
  }
  for (std::size_t s = 0; s < shapes.all.size(); ++s) {
    for (const Way& way : shapes.all[s]) {
      limit({{way.right, -1}, {ends + way.left, -1}, {stick_end + 1 + static_cast<int>(s), 1}}, 0);
    }
  }
  if (master.solve() != Status::optimal) return {};
  const auto x = master.primal();
  return {x.begin(), x.begin() + stick_end + 1};
}

// Whole shares near those given, each as large as the others allow: right whatever was given.
struct Shares {
  std::vector<std::int64_t> right = {}, left = {};
  std::int64_t stick_left = 0, stick_right = 0;
};

Shares whole(const Model& model, const Shapes& shapes, const std::vector<double>& given) {
  const int ends = shapes.ends;
  const auto share = [&](int column) {
    return given.empty() ? 0 : static_cast<std::int64_t>(std::floor(given[at(column)] * unit));
  };
  const Sides sides = sides_of(shapes);
  Shares shares;
  shares.left.resize(at(ends));
  shares.right.resize(at(ends));
  shares.stick_right = share(2 * ends);
  shares.stick_left = std::numeric_limits<std::int64_t>::max();
  for (int l = 0; l < ends; ++l) {
    if (!sides.is_left[at(l)]) continue;
    shares.left[at(l)] = share(ends + l);
    shares.stick_left = std::min(shares.stick_left, reach_at_least(model, l) - shares.left[at(l)]);
  }
  for (int r = 0; r < ends; ++r) {
    std::int64_t& right = shares.right[at(r)];
    right = reach_at_least(model, r) - shares.stick_right;
    for (int l = 0; l < ends; ++l) {
      if (sides.is_left[at(l)])
        right = std::min(right, gap_at_least(model, shapes, r, l) - shares.left[at(l)]);
    }
  }
  return shares;
}

}  // namespace

Sizes sizes_of(const Model& model, const Shapes& shapes, int sticks) {
  const Shares shares = whole(model, shapes, shares_by_programme(model, shapes, sticks));
  Sizes sizes{.margin = -(shares.stick_left + shares.stick_right), .is_sound = true};
  for (std::size_t k = 0; k < model.kinds.size(); ++k) {
    std::int64_t least = std::numeric_limits<std::int64_t>::max();
    for (const Way& way : shapes.all[at(shapes.of_kind[k])])
      least = std::min(least, shares.left[at(way.left)] + shares.right[at(way.right)]);
    sizes.of_kind.push_back(model.kinds[k].length + least);
    if (sizes.of_kind.back() < 1) sizes.is_sound = false;
  }
  return sizes;
}

}  // namespace kw::cutting::angled
