// The keys of the piece file as data: the very tables that `read_piece` reads by. For completion
// while a piece file is typed, and for the tests that hold docs/piece-file.md and the schema to the
// reader.
//
//   for (const KeyTable& table : piece_keys()) complete(table.name, table.keys);
#pragma once

#include <string>
#include <vector>

namespace kw {

struct KeyFact {
  std::string name = {};  // "stock"
  std::string takes =
      {};  // what stands behind it: a name of the schema's $defs, "formula", "point"
  bool is_needed = false;
};

// One table of the file. `name` is "file" for the file itself, the key of its kind ("board",
// "mirror") for the others, "joint.half-lap" for a joint of that kind, and "board.start" and the
// like for the tables within a table.
struct KeyTable {
  std::string name = {};
  std::vector<KeyFact> keys = {};
};

// Every table, in the order of docs/piece-file.md.
[[nodiscard]] const std::vector<KeyTable>& piece_keys();

}  // namespace kw
