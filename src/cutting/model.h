// A problem brought to whole ticks for the optimiser: equal demands merged, every way a part may
// lie listed once, ends with their reach and their cut. NOTES.md has the formulas behind it.
#pragma once

#include <cstdint>
#include <vector>

#include "kerfwright/cutting/problem.h"

#include "zones.h"

namespace kw::cutting {

// A cut across the stick. All ends of all parts in all their poses, ordered by slope; square is
// one.
struct End {
  double slope = 0;
  std::int64_t reach = 0;  // how far its tip stands out from the middle line, rounded up
  std::int64_t cut = 0;    // what the saw takes along the stick, kerf / cos, rounded up
};

struct Pose {
  int left = 0, right = 0;  // indices into Model::ends
  bool flipped = false, turned = false;
};

struct Kind {
  std::int64_t length = 0;
  int count = 0;
  std::vector<Pose> poses = {};   // at least one
  std::vector<int> demands = {};  // that were merged into this kind
  // No less is taken of a stick by one of these, when a stick of usable length u is counted as
  // u + Model::margin: the relaxation on which the bound and the filling of sticks rest.
  std::int64_t size = 0;
  // Nor more of a begun stick, whatever lies there, when put behind it.
  std::int64_t most = 0;
  std::int64_t alone = 0;  // between two square ends
  int cells = 0;           // size in whole cells, rounded down
};

struct Bar {
  int stock = 0;  // index into Problem::stocks
  std::int64_t length = 0, usable = 0, price = 0;
  int copies = 0;  // never more than there are parts
  int cells = 0;   // capacity in whole cells, rounded down
  // The sizes (see Kind) of what lies on it sum up to no more.
  std::int64_t capacity = 0;
  std::int64_t longest = 0;         // part of it that is clear
  std::vector<Stretch> zones = {};  // where no part may lie, in order and apart
  std::vector<Stretch> clear = {};  // between them, as far as a part can lie there
};

struct Model {
  std::vector<End> ends = {};
  std::vector<std::int64_t> gaps = {};  // right end * ends + left end; none where there are many
  std::vector<Kind> kinds = {};         // longest first
  std::vector<Bar> bars = {};           // largest first; only those that can hold a part
  double half_width = 0;                // ticks
  std::int64_t margin = 0;
  std::int64_t divisor = 1;  // common to all sizes
  std::int64_t cell = 1;     // ticks; the divisor, or more where that would need too many cells
  std::int64_t shortest_offcut = 0;
  std::int64_t end_trim = 0;
  int parts = 0;
  bool is_square = true;  // all ends are
  bool has_zones = false;
};

// Needs a problem that `validate` has no error for.
[[nodiscard]] Model model_of(const Problem& problem);

// What lies between the middle lines of two neighbours, in ticks: indices of the right end of the
// one and of the left end of the other.
[[nodiscard]] std::int64_t gap(const Model& model, int right, int left);

// A length in ticks, at least `exact` and enough above it to cover the rounding of the few double
// operations that made it.
[[nodiscard]] std::int64_t ticks_above(double exact);

// half_width * |a - b| rounded up, exactly.
[[nodiscard]] std::int64_t lean_above(double half_width, double a, double b);

}  // namespace kw::cutting
