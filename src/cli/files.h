// Reading and writing files: whole, atomic, never losing what stood there before.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "kerfwright/diag/outcome.h"
#include "kerfwright/workbench/recompute.h"

namespace kw::cli {

// Errors: io.cannot-read, io.too-large (over `most` bytes).
[[nodiscard]] Outcome<Text> read_file(const std::filesystem::path& path, std::uintmax_t most);

// Writes beside the file and renames it into place; folders are made. A file of that name with
// other content is kept as NAME~ (the one before that is dropped). Error: io.cannot-write.
[[nodiscard]] Diagnostics write_file(const std::filesystem::path& path, const std::string& bytes);

// All of them, below `folder`.
[[nodiscard]] Diagnostics write_all(const std::vector<File>& files,
                                    const std::filesystem::path& folder);

}  // namespace kw::cli
