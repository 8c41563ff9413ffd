// What a name in a formula means: `height`, `reach`, `leg.thickness`, `leg-a.length`, `foot.x`.
//
// An assembly sees its own derived values, points, boards and panels, and of the piece the sizes,
// derived values and stocks; not the piece's points and boards, which stand in another frame.
#pragma once

#include <compare>

#include "kerfwright/diag/diagnostic.h"

#include "sites.h"

namespace kw::resolving {

enum class Of : std::uint8_t {
  size,
  derived,
  thickness,     // of a stock, as it comes
  bought_width,  // of a stock, as it comes
  width,         // of a stock, after ripping
  coordinate,    // of a point: the index is 3 * point + axis
  board_length,
  panel_length,
  panel_width
};

// One value. The site is 0 for what only the piece has: sizes and stocks.
struct Node {
  int site = 0;
  Of of = Of::size;
  int index = 0;
  friend auto operator<=>(const Node&, const Node&) = default;
};

struct Meaning {
  std::optional<Node> node = {};
  std::optional<Node> other = {};  // what it could mean as well: a stock beside a board of one name
};

[[nodiscard]] Meaning meaning_of(const Sites& sites, std::string_view name, int site);

// piece.unknown-name, with the nearest name or the way to write what was meant.
[[nodiscard]] Diagnostic unknown_name(const Sites& sites, std::string_view name, Span at, int site);

// "leg.thickness", "foot.x": for messages.
[[nodiscard]] std::string called(const Sites& sites, const Node& node);

}  // namespace kw::resolving
