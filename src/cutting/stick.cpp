#include "stick.h"

#include <algorithm>

namespace kw::cutting {
namespace {

constexpr std::size_t most_scanned = 100;

struct Place {
  std::size_t at = 0;
  int pose = 0;
  std::int64_t added = 0;
};

const End& end(const Model& model, int index) {
  return model.ends[static_cast<std::size_t>(index)];
}

// What lies between the middle lines at place `at` of a row: before the first part, between two, or
// behind the last one.
std::int64_t joint(const Model& model, const Cut* before, const Cut* behind) {
  if (before == nullptr && behind == nullptr) return 0;
  if (before == nullptr) return end(model, pose_of(model, *behind).left).reach;
  if (behind == nullptr) return end(model, pose_of(model, *before).right).reach;
  return gap(model, pose_of(model, *before).right, pose_of(model, *behind).left);
}

// Where there are zones, one part more may move all those behind it past one.
Place best_place_among_zones(const Model& model, const Stick& stick, int kind) {
  Place best{0, 0, -1};
  const Kind& k = model.kinds[static_cast<std::size_t>(kind)];
  const std::size_t first = stick.cuts.size() - std::min(stick.cuts.size(), most_scanned);
  for (std::size_t at = first; at <= stick.cuts.size(); ++at) {
    for (int pose = 0; pose < static_cast<int>(k.poses.size()); ++pose) {
      Stick more = stick;
      more.cuts.insert(more.cuts.begin() + static_cast<std::ptrdiff_t>(at), Cut{kind, pose});
      const std::int64_t added = length_of(model, more) - stick.used;
      if (best.added < 0 || added < best.added) best = {at, pose, added};
    }
  }
  return best;
}

Place best_place(const Model& model, const Stick& stick, int kind) {
  if (!bar_of(model, stick).zones.empty()) return best_place_among_zones(model, stick, kind);
  Place best{0, 0, -1};
  const std::vector<Cut>& cuts = stick.cuts;
  const Kind& k = model.kinds[static_cast<std::size_t>(kind)];
  // Square parts take the same everywhere; on a very full stick the last few places have to do.
  const std::size_t scanned = model.is_square ? 0 : most_scanned;
  const std::size_t first = cuts.size() - std::min(cuts.size(), scanned);
  for (std::size_t at = first; at <= cuts.size(); ++at) {
    const Cut* const before = at == 0 ? nullptr : &cuts[at - 1];
    const Cut* const behind = at == cuts.size() ? nullptr : &cuts[at];
    const std::int64_t freed = joint(model, before, behind);
    for (int pose = 0; pose < static_cast<int>(k.poses.size()); ++pose) {
      const Cut cut{kind, pose};
      const std::int64_t added =
          k.length + joint(model, before, &cut) + joint(model, &cut, behind) - freed;
      if (best.added < 0 || added < best.added) best = {at, pose, added};
    }
  }
  return best;
}

void put(Stick& stick, const Place& place, int kind) {
  stick.cuts.insert(stick.cuts.begin() + static_cast<std::ptrdiff_t>(place.at),
                    Cut{kind, place.pose});
  stick.used += place.added;
}

}  // namespace

const Bar& bar_of(const Model& model, const Stick& stick) {
  return model.bars[static_cast<std::size_t>(stick.bar)];
}

const Pose& pose_of(const Model& model, Cut cut) {
  return model.kinds[static_cast<std::size_t>(cut.kind)].poses[static_cast<std::size_t>(cut.pose)];
}

std::int64_t start_of(const Model& model, const Bar& bar, std::int64_t from, Cut cut) {
  if (bar.zones.empty()) return from;
  const Pose& pose = pose_of(model, cut);
  const std::int64_t left = end(model, pose.left).reach, right = end(model, pose.right).reach;
  const std::int64_t length = model.kinds[static_cast<std::size_t>(cut.kind)].length;
  for (const Stretch& zone : bar.zones) {
    if (from - left < zone.to && from + length + right > zone.from) from = zone.to + left;
  }
  return from;
}

std::vector<std::int64_t> starts_of(const Model& model, const Stick& stick) {
  std::vector<std::int64_t> starts;
  std::int64_t at = 0;
  const Cut* before = nullptr;
  for (const Cut& cut : stick.cuts) {
    at = start_of(model, bar_of(model, stick), at + joint(model, before, &cut), cut);
    starts.push_back(at);
    at += model.kinds[static_cast<std::size_t>(cut.kind)].length;
    before = &cut;
  }
  return starts;
}

std::int64_t length_of(const Model& model, const Stick& stick) {
  if (stick.cuts.empty()) return 0;
  const Cut& last = stick.cuts.back();
  return starts_of(model, stick).back() + model.kinds[static_cast<std::size_t>(last.kind)].length +
         joint(model, &last, nullptr);
}

std::optional<Stick> on_bar(const Model& model, const Stick& stick, int bar) {
  const Bar& other = model.bars[static_cast<std::size_t>(bar)];
  const bool is_clear = bar_of(model, stick).zones.empty() && other.zones.empty();
  if (is_clear && other.usable < stick.used) return std::nullopt;
  Stick moved = stick;
  moved.bar = bar;
  if (is_clear) return moved;
  moved.used = length_of(model, moved);
  if (room_on(model, moved) < 0) nest(model, moved);
  if (room_on(model, moved) < 0) return std::nullopt;
  return moved;
}

std::int64_t room_on(const Model& model, const Stick& stick) {
  return bar_of(model, stick).usable - stick.used;
}

std::int64_t offcut_of(const Model& model, const Stick& stick) {
  if (stick.cuts.empty()) return 0;
  const std::int64_t cut = end(model, pose_of(model, stick.cuts.back()).right).cut;
  const Bar& bar = bar_of(model, stick);
  std::int64_t from = stick.used + cut;
  if (!bar.zones.empty()) from = std::max(from, bar.zones.back().to);
  return std::max<std::int64_t>(bar.usable - from, 0);
}

bool insert(const Model& model, Stick& stick, int kind) {
  const Place place = best_place(model, stick, kind);
  if (place.added > room_on(model, stick)) return false;
  put(stick, place, kind);
  return true;
}

void add(const Model& model, Stick& stick, int kind) {
  put(stick, best_place(model, stick, kind), kind);
}

}  // namespace kw::cutting
