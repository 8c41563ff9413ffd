#include "kerfwright/store/copies.h"

#include <fmt/core.h>

#include "copying.h"

namespace kw {
namespace fs = std::filesystem;
using namespace storing;

namespace storing {

Diagnostic cannot_copy(const fs::path& to, const std::string& why) {
  return {.code = "store.cannot-copy",
          .message = fmt::format("`{}` cannot be made: {}", to.string(), why),
          .hint = "make room on the disk, or give yourself leave to write there"};
}

Diagnostic copy_exists(const fs::path& to) {
  return {.code = "store.copy-exists",
          .message = fmt::format("`{}` is there already", to.string()),
          .hint = "choose another name: no copy is written over another"};
}

Diagnostic not_empty(const Cabinet::Held& held) {
  return {.code = "store.not-empty",
          .message = fmt::format("`{}` is not empty", words_of(held.place)),
          .hint = "put copies back into a new file or a new database"};
}

}  // namespace storing

namespace {

fs::path draft_of(const fs::path& file) {
  return file.string() + ".part";
}

// All rows of `from`, as they are at one moment, into `to`, which is empty.
Trouble copied(Driver& from, Driver& to) {
  return transact(to, [&] {
    bool is_copied = false;
    const Trouble trouble = transact(from, [&] {
      is_copied = copy_rows(from, to);
      return Verdict::drop;
    });
    return is_copied && trouble == Trouble::none ? Verdict::keep : Verdict::failed;
  });
}

std::string copy_in(const Cabinet::Held& from, const fs::path& draft) {
  const Trouble trouble = from.driver->copy_whole(draft);
  if (trouble == Trouble::none) return {};
  if (trouble != Trouble::not_known) return from.driver->words();
  auto made = open_sqlite(draft, Hands::one);
  if (!made) return made.diagnostics().front().message;
  if (copied(*from.driver, **made) == Trouble::none) return {};
  const std::string words = from.driver->words() + (*made)->words();
  return words.empty() ? "the rows cannot be copied" : words;
}

}  // namespace

Diagnostics back_up(const Cabinet& cabinet, const fs::path& file) {
  Cabinet::Held& held = cabinet.held();
  const std::lock_guard lock(held.mutex);
  std::error_code error;
  if (fs::exists(file, error)) return {copy_exists(file)};
  const fs::path draft = draft_of(file);
  fs::remove(draft, error);
  std::string why = copy_in(held, draft);
  if (why.empty() && !is_on_disk(draft)) why = "the disk did not take it";
  if (why.empty()) fs::rename(draft, file, error);
  if (why.empty() && error) why = error.message();
  if (why.empty()) return {};
  for (const char* beside : {"", "-wal", "-shm"}) fs::remove(draft.string() + beside, error);
  return {cannot_copy(file, why)};
}

Diagnostics restore(const fs::path& file, const Cabinet& into) {
  Cabinet::Held& held = into.held();
  const std::lock_guard lock(held.mutex);
  if (!is_empty(*held.driver)) return {not_empty(held)};
  // A copy of it is opened: it may have to be brought up to date.
  std::string pattern = (fs::temp_directory_path() / "kw-restore-XXXXXX").string();
  if (::mkdtemp(pattern.data()) == nullptr) return {cannot_copy(pattern, "no temporary folder")};
  const fs::path folder = pattern;
  std::error_code error;
  Diagnostics why;
  if (!fs::copy_file(file, folder / "copy.db", error)) {
    why = {
        cannot_copy(words_of(held.place), fmt::format("`{}`: {}", file.string(), error.message()))};
  } else {
    const auto from = open_sqlite(folder / "copy.db", Hands::one);
    if (!from) {
      why = from.diagnostics();
    } else if (!from.diagnostics().empty()) {
      why = {cannot_copy(words_of(held.place), fmt::format("`{}` is damaged", file.string()))};
    } else if (copied(**from, *held.driver) != Trouble::none) {
      why = {cannot_keep(held)};
    }
  }
  fs::remove_all(folder, error);
  return why;
}

}  // namespace kw
