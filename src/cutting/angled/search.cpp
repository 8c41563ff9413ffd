#include "angled/search.h"

#include <algorithm>

namespace kw::cutting::angled {
namespace {

constexpr std::size_t table_entries = std::size_t{1} << 21;
constexpr std::int64_t most_cells = 8'192;
constexpr std::int64_t node_work = 40, work_of_a_try = 10;

// What lies on a bar is one row, and one in each stretch.
std::int64_t capacity_of(const Bar& bar, const Sizes& sizes) {
  std::int64_t sum = 0;
  for (const Stretch& s : bar.clear) sum += s.length() + sizes.margin;
  return std::min(sum, bar.usable + sizes.margin);
}

}  // namespace

Search::Search(const Model& model, const Shapes& shapes, const Sizes& sizes, Rows& rows,
               Stretches& stretches, Work& work)
    : model_(model),
      shapes_(shapes),
      sizes_(sizes),
      rows_(rows),
      stretches_(stretches),
      work_(work),
      rounding_(rounding_of_a_joint(model)),
      slack_of_prefix_(slack_of_prefix(model)) {}

Pricing Search::price(const Worths& worths, const Available& available, std::int64_t nodes) {
  prepare(worths, available);
  is_listing_ = false;
  Pricing pricing{.is_complete = true};
  for (std::size_t first = 0; first < items_.size(); ++first) {
    best_ = {};
    least_surplus_ = 1;
    nodes_left_ = nodes;
    is_cut_short_ = false;
    if (!is_hopeful({}, first)) break;
    if (is_given_up_) {
      leave_open({}, first);
    } else {
      take({}, first);
    }
    if (is_cut_short_) pricing.is_complete = false;
    if (best_.surplus > 0) found_.push_back(best_);
  }
  pricing.found = std::move(found_);
  pricing.most = most_;
  return pricing;
}

Listing Search::list(const Worths& worths, const Available& available, std::size_t most,
                     std::int64_t nodes) {
  prepare(worths, available);
  is_listing_ = true;
  is_cut_short_ = false;
  least_surplus_ = 0;
  nodes_left_ = nodes;
  most_found_ = most;
  extend({}, 0);
  return {std::move(found_), !is_cut_short_};
}

void Search::prepare(const Worths& worths, const Available& available) {
  items_.clear();
  rooms_.clear();
  found_.clear();
  is_given_up_ = false;
  most_ = worths.threshold;
  for (int k = 0; k < static_cast<int>(model_.kinds.size()); ++k) {
    const int count = available.counts[at(k)];
    if (count > 0) items_.push_back({k, count, 0, sizes_.of_kind[at(k)], worths.part[at(k)]});
  }
  for (int b = 0; b < static_cast<int>(model_.bars.size()); ++b) {
    const Bar& bar = model_.bars[at(b)];
    if (available.copies[at(b)] > 0)
      rooms_.push_back(
          {b, capacity_of(bar, sizes_), bar.usable, worths.threshold[at(b)], !bar.zones.empty()});
  }
  fill_table();
}

void Search::fill_table() {
  cells_ = 0;
  if (rooms_.empty() || items_.empty()) return;
  std::int64_t longest = 1;
  for (const Room& room : rooms_) longest = std::max(longest, room.capacity);
  const auto fitting = static_cast<std::int64_t>(table_entries / (items_.size() + 1));
  cell_ = longest / std::clamp<std::int64_t>(fitting, 256, most_cells) + 1;
  cells_ = static_cast<std::size_t>(longest / cell_) + 1;
  table_.assign((items_.size() + 1) * cells_, 0);
  for (std::size_t i = items_.size(); i-- > 0;) {
    const Item& item = items_[i];
    const std::int64_t* const later = table_.data() + (i + 1) * cells_;
    std::int64_t* const now = table_.data() + i * cells_;
    std::copy_n(later, cells_, now);
    const auto size = static_cast<std::size_t>(item.size / cell_);
    for (std::size_t n = 1, taken = size; n <= static_cast<std::size_t>(item.count); ++n) {
      if (taken >= cells_) break;
      const std::int64_t worth = item.worth * static_cast<std::int64_t>(n);
      for (std::size_t c = taken; c < cells_; ++c)
        now[c] = std::max(now[c], later[c - taken] + worth);
      taken += size;
      work_.spend(static_cast<std::int64_t>(cells_));
    }
  }
}

// What this item and later ones can add at most.
std::int64_t Search::ahead(std::size_t item, std::int64_t room) const {
  return table_[item * cells_ + static_cast<std::size_t>(room / cell_)];
}

bool Search::is_hopeful(const Chosen& chosen, std::size_t item) const {
  for (const Room& room : rooms_) {
    if (chosen.size > room.capacity) continue;
    const std::int64_t most = chosen.worth + ahead(item, room.capacity - chosen.size);
    if (most - room.threshold >= least_surplus_) return true;
  }
  return false;
}

// What is not looked at bounds what a stick can be worth.
void Search::leave_open(const Chosen& chosen, std::size_t item) {
  is_cut_short_ = true;
  for (const Room& room : rooms_) {
    if (chosen.size > room.capacity) continue;
    most_[at(room.bar)] =
        std::max(most_[at(room.bar)], chosen.worth + ahead(item, room.capacity - chosen.size));
  }
}

void Search::extend(const Chosen& chosen, std::size_t first) {
  for (std::size_t i = first; i < items_.size(); ++i) {
    if (!is_hopeful(chosen, i)) return;
    if (nodes_left_ <= 0 || is_given_up_) return leave_open(chosen, i);
    take(chosen, i);
  }
}

void Search::take(const Chosen& chosen, std::size_t i) {
  Item& item = items_[i];
  if (item.taken == item.count) return;
  --nodes_left_;
  const std::int64_t row_work = stretches_.work();
  Chosen more{rows_.with(chosen.row, shapes_.of_kind[at(item.kind)]), chosen.parts + 1,
              chosen.size + item.size, chosen.length + model_.kinds[at(item.kind)].length,
              chosen.worth + item.worth};
  if (!work_.spend(node_work + stretches_.work() - row_work)) is_given_up_ = true;
  if (more.row == Rows::none) return leave_open(chosen, i);
  const std::int64_t row = row_length(more);
  ++item.taken;
  if (has_place(more, row)) {
    file(more, row);
    extend(more, i);
  }
  --item.taken;
}

// The shortest that the row can be in truth.
std::int64_t Search::row_length(const Chosen& chosen) const {
  return chosen.length + rows_.joints(chosen.row) - rounding_ * (chosen.parts + 1);
}

Fit Search::fit(const Chosen& chosen, const Room& room, std::int64_t row) {
  if (row > room.usable) return Fit::no;
  if (room.has_zones)
    return chosen.size > room.capacity ? Fit::no : stretches_.fit(room.bar, parts());
  return row + rounding_ * (chosen.parts + 1) <= room.usable ? Fit::yes : Fit::maybe;
}

// Whether it fits somewhere, or something larger may. The rooms without zones come cheaper.
bool Search::has_place(const Chosen& chosen, std::int64_t row) {
  const auto is_long = [&](const Room& room) { return row <= room.usable + slack_of_prefix_; };
  if (std::any_of(rooms_.begin(), rooms_.end(),
                  [&](const Room& room) { return !room.has_zones && is_long(room); }))
    return true;
  return std::any_of(rooms_.begin(), rooms_.end(), [&](const Room& room) {
    return room.has_zones && is_long(room) && chosen.size <= room.capacity &&
           stretches_.fit(room.bar, parts()) != Fit::no;
  });
}

void Search::file(const Chosen& chosen, std::int64_t row) {
  for (const Room& room : rooms_) {
    const std::int64_t surplus = chosen.worth - room.threshold;
    if (surplus < least_surplus_) continue;
    const Fit how = fit(chosen, room, row);
    if (how == Fit::no) continue;
    if (!is_listing_) {
      best_ = {{room.bar, parts()}, surplus, how == Fit::yes};
      least_surplus_ = surplus + 1;
      most_[at(room.bar)] = std::max(most_[at(room.bar)], chosen.worth);
    } else if (!can_grow(chosen, room)) {
      if (found_.size() >= most_found_) is_given_up_ = true;
      found_.push_back({{room.bar, parts()}, surplus, how == Fit::yes});
    }
  }
}

bool Search::can_grow(const Chosen& chosen, const Room& room) {
  std::vector<bool> is_tried(shapes_.all.size());
  for (std::size_t i = items_.size(); i-- > 0;) {  // the shortest first
    Item& item = items_[i];
    const int shape = shapes_.of_kind[at(item.kind)];
    if (is_tried[at(shape)] || item.taken == item.count) continue;
    is_tried[at(shape)] = true;
    work_.spend(work_of_a_try);
    const int row = rows_.with(chosen.row, shape);
    if (row == Rows::none) continue;
    const std::int64_t length = model_.kinds[at(item.kind)].length;
    if (chosen.length + length + rows_.joints(row) > room.usable) continue;
    if (!room.has_zones) return true;
    ++item.taken;
    const Fit how = stretches_.fit(room.bar, parts());
    --item.taken;
    if (how == Fit::yes) return true;
  }
  return false;
}

PartCounts Search::parts() const {
  PartCounts parts;
  for (const Item& item : items_) {
    if (item.taken > 0) parts.emplace_back(item.kind, item.taken);
  }
  return parts;
}

}  // namespace kw::cutting::angled
