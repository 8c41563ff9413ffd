// Copies of a whole cabinet: backups, exports as open files, and what is wrong in one.
//
// Guarantees: a copy is of one moment, while others go on; it is whole under its name or is not
// there. A cabinet that something is put into gets all of it or nothing.
//
// An export is a folder of a file for each table, `piece.jsonl` and so on: a line of JSON for each
// row, ordered by its keys, so that what is the same is the same byte for byte, whichever database
// it was in; `about.json`, which says the form; and, to be read only, `pieces/NAME.toml` with the
// newest text of each piece and `published/NAME-VERSION.toml`.
#pragma once

#include "kerfwright/store/cabinet.h"

namespace kw {

// Into a file of SQLite, from either. Errors: store.copy-exists (nothing is written over),
// store.cannot-copy.
[[nodiscard]] Diagnostics back_up(const Cabinet& cabinet, const std::filesystem::path& file);
// From a backup, or any cabinet's file, of this form or an older one; it is only read. Errors:
// store.not-empty, store.cannot-copy, store.newer, store.cannot-keep.
[[nodiscard]] Diagnostics restore(const std::filesystem::path& file, const Cabinet& into);

// Errors: store.copy-exists, store.cannot-copy.
[[nodiscard]] Diagnostics export_all(const Cabinet& cabinet, const std::filesystem::path& folder);
// Errors: store.not-empty, store.bad-export (the place is told in words), store.cannot-keep.
[[nodiscard]] Diagnostics import_all(const std::filesystem::path& folder, const Cabinet& into);

// Looks through all that is kept: pages and keys (SQLite), numbers without gaps, texts that can be
// put together. Each fault is a store.not-whole; at most 100 are told. Error: store.cannot-read.
[[nodiscard]] Diagnostics faults_in(const Cabinet& cabinet);

}  // namespace kw
