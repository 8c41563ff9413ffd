// Which parts fit on a stick with faulty zones: some in each clear stretch, each row short enough.
//
// Tried stretch by stretch. Taking a part out of a row never makes it longer (NOTES.md), so a
// stretch need only be given sets to which no part can be added.
#pragma once

#include <cstdint>
#include <set>
#include <string>
#include <unordered_map>
#include <utility>
#include <vector>

#include "angled/rows.h"

namespace kw::cutting::angled {

enum class Fit : std::uint8_t {
  no,
  maybe,  // only if no joint had been rounded up, or the search for it was cut short
  yes,
};

class Stretches {
 public:
  // All must outlive this.
  Stretches(const Model& model, const Shapes& shapes, Rows& rows);

  [[nodiscard]] Fit fit(int bar, const PartCounts& parts);

  // The parts from left to right; none where they do not fit for certain.
  [[nodiscard]] std::vector<Cut> order_of(int bar, const PartCounts& parts);

  // Steps taken so far, beside those of the rows.
  [[nodiscard]] std::int64_t work() const { return work_; }

 private:
  using Counts = std::vector<int>;  // of each kind of the parts asked about

  // How exactly rows are measured: as they are laid, or as short as they can be in truth.
  struct Measure {
    std::int64_t rounding = 0, slack = 0;
  };

  void begin(int bar, const PartCounts& parts, Measure measure);
  [[nodiscard]] bool lay(std::size_t stretch, const Counts& left);
  [[nodiscard]] bool choose(std::size_t stretch, const Counts& left, Counts& chosen,
                            std::size_t from);
  [[nodiscard]] bool is_within(std::size_t stretch, const Counts& counts);
  [[nodiscard]] bool can_grow(std::size_t stretch, const Counts& left, Counts& chosen);

  const Model& model_;
  const Shapes& shapes_;
  Rows& rows_;
  std::int64_t work_ = 0;
  std::unordered_map<std::string, Fit> known_ = {};
  // Of the search that is on.
  const Bar* bar_ = nullptr;
  PartCounts parts_ = {};
  Measure measure_ = {};
  int nodes_left_ = 0;
  bool is_cut_short_ = false;  // then a `no` means nothing
  std::set<std::pair<std::size_t, Counts>> failed_ = {};
  std::vector<Counts> laid_ = {};  // by stretch
};

}  // namespace kw::cutting::angled
