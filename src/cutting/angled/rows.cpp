#include "angled/rows.h"

#include <algorithm>
#include <limits>

namespace kw::cutting::angled {
namespace {

constexpr std::size_t most_bytes = std::size_t{1} << 27;
constexpr std::int64_t never = std::numeric_limits<std::int64_t>::max() / 4;
constexpr int most_left_after = 10'000;
constexpr std::int64_t work_of_a_row = 60, work_of_a_shape = 60;

}  // namespace

Rows::Rows(const Model& model, const Shapes& shapes, Work& work)
    : model_(model),
      shapes_(shapes),
      work_(work),
      left_after_(most_left_after),
      slots_(1'024, none),
      heads_(1),
      counts_(shapes.all.size()),
      next_(shapes.all.size()),
      before_(at(shapes.ends)) {
  const std::size_t a_row = shapes.all.size() * (sizeof(Count) + sizeof(int)) +
                            at(shapes.ends) * sizeof(std::int64_t) + sizeof(Head) + 4 * sizeof(int);
  most_rows_ = most_bytes / a_row;
  Random random(1);
  for (std::size_t s = 0; s < shapes.all.size(); ++s) marks_.push_back(random.next());
  heads_.add({});
  counts_.add(0);
  next_.add(none);
  std::int64_t* const reach = before_.add(never);
  for (std::size_t e = 0; e < model.ends.size(); ++e) reach[e] = model.ends[e].reach;
  keep(empty, 0);
}

int Rows::with(int row, int shape) {
  int& next = next_[row][shape];
  if (next != none) return next;
  Counts counts(counts_[row], counts_[row] + shapes_.all.size());
  if (counts[at(shape)] == std::numeric_limits<Count>::max()) return none;
  ++counts[at(shape)];
  return next = row_of(counts, heads_[row]->mark + marks_[at(shape)]);
}

std::uint64_t Rows::mark_of(const Counts& counts) const {
  std::uint64_t mark = 0;
  for (std::size_t s = 0; s < counts.size(); ++s) mark += counts[s] * marks_[s];
  return mark;
}

int Rows::known(const Counts& counts, std::uint64_t mark) const {
  for (std::size_t i = mark & (slots_.size() - 1);; i = (i + 1) & (slots_.size() - 1)) {
    const int row = slots_[i];
    if (row == none) return none;
    if (heads_[row]->mark == mark && std::equal(counts.begin(), counts.end(), counts_[row]))
      return row;
  }
}

void Rows::keep(int row, std::uint64_t mark) {
  const auto put = [&](int r, std::uint64_t m) {
    std::size_t i = m & (slots_.size() - 1);
    while (slots_[i] != none) i = (i + 1) & (slots_.size() - 1);
    slots_[i] = r;
  };
  if (2 * heads_.size() > slots_.size()) {
    slots_.assign(4 * slots_.size(), none);
    for (int r = 0; r < row; ++r) put(r, heads_[r]->mark);
  }
  put(row, mark);
}

int Rows::row_of(Counts& counts, std::uint64_t mark) {
  const int row = known(counts, mark);
  return row != none ? row : make(counts, mark);
}

// A little may still be made when the work is over, so that what was found can be laid out.
bool Rows::may_make() {
  return heads_.size() < most_rows_ && (!work_.is_over() || left_after_-- > 0);
}

// All rows with a part less are made first.
int Rows::make(Counts& counts, std::uint64_t mark) {
  for (std::size_t s = 0; s < counts.size(); ++s) {
    if (counts[s] == 0) continue;
    --counts[s];
    const int fewer = row_of(counts, mark - marks_[s]);
    ++counts[s];
    if (fewer == none) return none;
  }
  if (!may_make()) return none;
  const int row = static_cast<int>(heads_.size());
  *heads_.add({}) = {mark, never};
  std::copy(counts.begin(), counts.end(), counts_.add(0));
  next_.add(none);
  before_.add(never);
  keep(row, mark);
  reckon(row, counts, mark);
  return row;
}

void Rows::reckon(int row, Counts& counts, std::uint64_t mark) {
  std::int64_t work = work_of_a_row;
  std::vector<std::int64_t> behind(at(shapes_.ends), never);  // by right end of the last part
  for (std::size_t s = 0; s < counts.size(); ++s) {
    if (counts[s] == 0) continue;
    --counts[s];
    const std::int64_t* const up_to = before_[known(counts, mark - marks_[s])];
    ++counts[s];
    for (const Way& way : shapes_.all[s])
      behind[at(way.right)] = std::min(behind[at(way.right)], up_to[way.left]);
    work += work_of_a_shape;
  }
  std::int64_t* const up_to = before_[row];
  std::int64_t& joints = heads_[row]->joints;
  for (int right = 0; right < shapes_.ends; ++right) {
    if (behind[at(right)] == never) continue;
    const std::int64_t* const gaps = shapes_.gaps.data() + at(right) * at(shapes_.ends);
    for (int left = 0; left < shapes_.ends; ++left)
      up_to[left] = std::min(up_to[left], behind[at(right)] + gaps[left]);
    joints = std::min(joints, behind[at(right)] + model_.ends[at(right)].reach);
    work += shapes_.ends;
  }
  work_.spend(work);
}

std::vector<Cut> Rows::order_of(const PartCounts& parts) {
  std::vector<std::vector<int>> kinds(shapes_.all.size());  // of each shape, to be handed out
  Counts counts(shapes_.all.size());
  for (const auto& [kind, count] : parts) {
    const int shape = shapes_.of_kind[at(kind)];
    kinds[at(shape)].insert(kinds[at(shape)].end(), at(count), kind);
    if (kinds[at(shape)].size() > 255) return {};
    counts[at(shape)] = static_cast<Count>(kinds[at(shape)].size());
  }
  std::uint64_t mark = mark_of(counts);
  if (row_of(counts, mark) == none) return {};
  std::vector<Cut> cuts;
  // From the right end backwards: the part whose right end leaves least, tip or gap included.
  std::size_t parts_left = 0;
  for (const auto& of_shape : kinds) parts_left += of_shape.size();
  for (int left = none; parts_left > 0; --parts_left) {
    std::int64_t least = never;
    std::size_t shape = 0;
    Way best;
    for (std::size_t s = 0; s < counts.size(); ++s) {
      if (counts[s] == 0) continue;
      --counts[s];
      const std::int64_t* const up_to = before_[known(counts, mark - marks_[s])];
      ++counts[s];
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
    --counts[shape];
    mark -= marks_[shape];
    left = best.left;
  }
  std::reverse(cuts.begin(), cuts.end());
  return cuts;
}

}  // namespace kw::cutting::angled
