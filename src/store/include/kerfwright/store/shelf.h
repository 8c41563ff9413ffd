// The shelf: a folder with a piece file each for its pieces, a bin beside them, and the starters
// that the program carries. A piece is named by its file's name without .toml.
//
// Guarantees: a file is written whole beside its place and moved into it, so that a reader finds
// the old or the new; nothing is overwritten that the caller did not name.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "kerfwright/diag/outcome.h"
#include "kerfwright/measure/length.h"

namespace kw {

struct ShelfPiece {
  std::string name = {}, title = {};
  std::int64_t changed = 0;  // milliseconds since 1970, UTC
  int errors = 0;            // of reading the file
};
struct Starter {
  std::string name = {}, title = {}, words = {};
};
struct Binned {
  std::string id = {}, name = {};
  std::int64_t at = 0;
};
struct ShelfList {
  std::string folder = {};
  std::vector<ShelfPiece> pieces = {};  // by name
  std::vector<Starter> starters = {};
  std::vector<Binned> binned = {};  // newest first
};

// A file as it was when it was looked at; two that differ may be of other content.
struct FileMark {
  std::int64_t size = -1, changed = 0;  // nanoseconds
  std::uint64_t number = 0;             // of the file on its disk
  friend bool operator==(const FileMark&, const FileMark&) = default;
};
[[nodiscard]] FileMark mark_of(const std::filesystem::path& file);

// At most 10,000 pieces are listed.
[[nodiscard]] ShelfList list_of(const std::filesystem::path& folder);
[[nodiscard]] std::filesystem::path file_of(const std::filesystem::path& folder,
                                            const std::string& piece);

// Errors: io.cannot-read, io.too-large.
[[nodiscard]] Outcome<std::string> read_piece_file(const std::filesystem::path& file);
// Error: io.cannot-write.
[[nodiscard]] Diagnostics write_piece_file(const std::filesystem::path& file,
                                           const std::string& bytes);
// As above; shelf.name-taken when there is such a file already.
[[nodiscard]] Diagnostics make_piece_file(const std::filesystem::path& file,
                                          const std::string& bytes);
// Errors: shelf.no-such-piece, shelf.name-taken, io.cannot-write.
[[nodiscard]] Diagnostics rename_piece_file(const std::filesystem::path& folder,
                                            const std::string& from, const std::string& to);
[[nodiscard]] Outcome<Binned> bin_piece(const std::filesystem::path& folder,
                                        const std::string& piece, std::int64_t now);
// The piece's name: that it had, or with a figure behind it when that is taken.
[[nodiscard]] Outcome<std::string> take_back(const std::filesystem::path& folder,
                                             const std::string& id);

// The text of a starter. Error: shelf.no-such-starter.
[[nodiscard]] Outcome<std::string> starter_text(const std::string& name);
// A piece with nothing in it but a title and a unit.
[[nodiscard]] std::string empty_piece(const std::string& title, LengthUnit unit);

}  // namespace kw
