// What backups and exports share. Private to store.
#pragma once

#include "held.h"
#include "rows.h"

namespace kw::storing {

[[nodiscard]] Diagnostic cannot_copy(const std::filesystem::path& to, const std::string& why);
[[nodiscard]] Diagnostic copy_exists(const std::filesystem::path& to);
[[nodiscard]] Diagnostic not_empty(const Cabinet::Held& held);
// Waits until the file's bytes are on the disk.
[[nodiscard]] bool is_on_disk(const std::filesystem::path& file);

}  // namespace kw::storing
