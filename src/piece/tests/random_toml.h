// Random TOML files in every style that people write: headers, dotted keys, braces, lists over
// several lines, comments, letters beyond ASCII, both line ends, a byte-order mark, no line end at
// the end.
#pragma once

#include <rapidcheck.h>
#include <string>
#include <vector>

namespace kw::testing_piece {

using Path = std::vector<std::string>;

// A value on one line or, for a list, on several: what stands behind an equals sign.
rc::Gen<std::string> random_value();

// A whole file. toml++ reads it; no key of it is "new-key" or "new-table".
rc::Gen<std::string> random_file();

}  // namespace kw::testing_piece
