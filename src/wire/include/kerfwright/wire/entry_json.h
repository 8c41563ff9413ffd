// An entry of the trade's books as JSON, on one line: what `store` keeps and the page sends.
//
//   {"form":1,"day":"2026-11-30","event":"boards-gone","boards":[12],"why":"rot"}
//
// Lengths are whole ticks, money whole coins, days as in ISO 8601. What is as it begins (0, no
// text, an empty list) is left out, but for what an event is about. docs/trade.md has all keys.
#pragma once

#include <string>
#include <string_view>

#include "kerfwright/trade/events.h"

namespace kw {

// Of entries as they are written now. What earlier programs wrote is read for ever.
inline constexpr int entry_form = 1;

[[nodiscard]] std::string entry_json(const trade::Entry& entry);

// Strictly: exact types, no unknown and no doubled keys. A length may also be text with its unit
// ("8 ft", "2400 mm"). Errors: wire.bad-entry, its message with the JSON pointer (RFC 6901) to what
// is wrong; wire.newer-entry. Whether the books take it is not asked here.
[[nodiscard]] Outcome<trade::Entry> read_entry(std::string_view json);

}  // namespace kw
