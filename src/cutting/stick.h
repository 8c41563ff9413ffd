// Parts on one stick: what they take, and in which order and pose they take least.
#pragma once

#include <cstdint>
#include <optional>
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

// Whether parts may change places on it: square ends, no faulty zone.
[[nodiscard]] inline bool is_free(const Model& model, const Stick& stick) {
  return model.is_square && bar_of(model, stick).zones.empty();
}

// Where the middle line of a part starts that may not start before `from`: there, or behind the
// zones that it would reach into.
[[nodiscard]] std::int64_t start_of(const Model& model, const Bar& bar, std::int64_t from, Cut cut);

// Where each part of a row starts when it lies as far left as it can.
[[nodiscard]] std::vector<std::int64_t> starts_of(const Model& model, const Stick& stick);

// How far the row reaches then, from the left trim to the last tip.
[[nodiscard]] std::int64_t length_of(const Model& model, const Stick& stick);

// The same parts on another bar, laid anew where they must be; none when they found no place.
[[nodiscard]] std::optional<Stick> on_bar(const Model& model, const Stick& stick, int bar);

[[nodiscard]] std::int64_t room_on(const Model& model, const Stick& stick);

// Usable length left at the right end, behind the last fault; 0 where the last kerf takes it all.
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
