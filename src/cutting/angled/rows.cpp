#include "angled/rows.h"

#include <algorithm>
#include <limits>

namespace kw::cutting::angled {
namespace {

constexpr std::size_t most_bytes = std::size_t{1} << 27;
constexpr std::int64_t never = std::numeric_limits<std::int64_t>::max() / 4;

}  // namespace

Rows::Rows(const Model& model, const Shapes& shapes) : model_(model), shapes_(shapes) {
  const std::size_t kinds_of_shape = shapes.all.size();
  // Counts twice, links both ways, and what maps and strings take beside.
  most_rows_ = most_bytes / (kinds_of_shape * 10 + at(shapes.ends) * 8 + 160);
  const std::string nothing(kinds_of_shape, '\0');
  known_.emplace(nothing, empty);
  counts_.push_back(nothing);
  next_.assign(kinds_of_shape, none);
  fewer_.assign(kinds_of_shape, none);
  for (const End& end : model.ends) before_.push_back(end.reach);
  joints_.push_back(0);
}

int Rows::with(int row, int shape) {
  const std::size_t place = at(row) * shapes_.all.size() + at(shape);
  if (next_[place] != none) return next_[place];
  std::string counts = counts_[at(row)];
  if (static_cast<unsigned char>(counts[at(shape)]) == 255) return none;
  ++counts[at(shape)];
  const auto known = known_.find(counts);
  const int more = known != known_.end() ? known->second : make(std::move(counts), row, shape);
  next_[place] = more;
  return more;
}

// `row` and one part of `shape`. What the new row has without another part is that row without it,
// and one of `shape`.
int Rows::make(std::string counts, int row, int shape) {
  std::vector<int> fewer(counts.size(), none);
  for (std::size_t s = 0; s < counts.size(); ++s) {
    if (counts[s] == '\0') continue;
    fewer[s] = s == at(shape) ? row : with(without(row, s), shape);
    if (fewer[s] == none) return none;
  }
  if (counts_.size() >= most_rows_) return none;
  const int made = static_cast<int>(counts_.size());
  known_.emplace(counts, made);
  counts_.push_back(std::move(counts));
  fewer_.insert(fewer_.end(), fewer.begin(), fewer.end());
  next_.resize(next_.size() + shapes_.all.size(), none);
  before_.resize(before_.size() + at(shapes_.ends), never);
  joints_.push_back(never);
  reckon(made);
  return made;
}

void Rows::reckon(int row) {
  std::vector<std::int64_t> behind(at(shapes_.ends), never);  // by right end of the last part
  for (std::size_t s = 0; s < shapes_.all.size(); ++s) {
    if (without(row, s) == none) continue;
    const std::int64_t* const up_to = before(without(row, s));
    for (const Way& way : shapes_.all[s])
      behind[at(way.right)] = std::min(behind[at(way.right)], up_to[way.left]);
    work_ += 40;
  }
  std::int64_t* const up_to = before(row);
  for (int right = 0; right < shapes_.ends; ++right) {
    if (behind[at(right)] == never) continue;
    const std::int64_t* const gaps = shapes_.gaps.data() + at(right) * at(shapes_.ends);
    for (int left = 0; left < shapes_.ends; ++left)
      up_to[left] = std::min(up_to[left], behind[at(right)] + gaps[left]);
    joints_[at(row)] = std::min(joints_[at(row)], behind[at(right)] + model_.ends[at(right)].reach);
    work_ += shapes_.ends;
  }
}

std::vector<Cut> Rows::order_of(const PartCounts& parts) {
  std::vector<std::vector<int>> kinds(shapes_.all.size());  // of each shape, to be handed out
  int row = empty;
  for (const auto& [kind, count] : parts) {
    const int shape = shapes_.of_kind[at(kind)];
    kinds[at(shape)].insert(kinds[at(shape)].end(), at(count), kind);
    for (int n = 0; n < count && row != none; ++n) row = with(row, shape);
  }
  if (row == none) return {};
  std::vector<Cut> cuts;
  // From the right end backwards: the part whose right end leaves least, tip or gap included.
  for (int left = none; row != empty;) {
    std::int64_t least = never;
    std::size_t shape = 0;
    Way best;
    for (std::size_t s = 0; s < shapes_.all.size(); ++s) {
      if (without(row, s) == none) continue;
      const std::int64_t* const up_to = before(without(row, s));
      for (const Way& way : shapes_.all[s]) {
        const std::int64_t behind =
            left == none ? model_.ends[at(way.right)].reach : shapes_.gap(way.right, left);
        if (up_to[way.left] + behind < least)
          least = up_to[way.left] + behind, shape = s, best = way;
      }
    }
    const int kind = kinds[shape].back();
    const auto& poses = model_.kinds[at(kind)].poses;
    const auto pose = std::find_if(poses.begin(), poses.end(), [&](const Pose& p) {
      return p.left == best.left && p.right == best.right;
    });
    cuts.push_back({kind, static_cast<int>(pose - poses.begin())});
    kinds[shape].pop_back();
    row = without(row, shape);
    left = best.left;
  }
  std::reverse(cuts.begin(), cuts.end());
  return cuts;
}

}  // namespace kw::cutting::angled
