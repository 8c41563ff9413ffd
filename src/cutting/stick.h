// Parts on one stick: what they take, and in which order and pose they take least.
#pragma once

#include <cstdint>
#include <vector>

#include "model.h"

namespace kw::cutting {

// A part as it lies.
struct Cut {
  int kind = 0, pose = 0;
  friend auto operator<=>(const Cut&, const Cut&) = default;
};

struct Stick {
  int bar = 0;
  std::int64_t used = 0;       // of the bar's usable length, from the left trim to the last tip
  std::vector<Cut> cuts = {};  // left to right
};

[[nodiscard]] const Bar& bar_of(const Model& model, const Stick& stick);
[[nodiscard]] const Pose& pose_of(const Model& model, Cut cut);

// What a row of parts takes, from the first tip to the last.
[[nodiscard]] std::int64_t length_of(const Model& model, const std::vector<Cut>& cuts);

[[nodiscard]] std::int64_t room_on(const Model& model, const Stick& stick);

// Usable length left at the right end; 0 where the last kerf takes it all.
[[nodiscard]] std::int64_t offcut_of(const Model& model, const Stick& stick);

// Puts one more part where it takes least; false, and nothing done, when it does not fit anywhere.
bool insert(const Model& model, Stick& stick, int kind);

// The same for a stick that may overflow: always puts the part.
void add(const Model& model, Stick& stick, int kind);

// Rearranges the parts to take less: exactly where they are few, else by moving one part at a time
// (and not at all beyond a hundred parts). An overflowing stick is welcome. Returns the work it
// took.
std::int64_t nest(const Model& model, Stick& stick);

}  // namespace kw::cutting
