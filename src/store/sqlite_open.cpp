// Opening the file: what it must be, and what is done when it is not.
#include <fcntl.h>
#include <fmt/core.h>
#include <optional>
#include <unistd.h>

#include "sqlite.h"

namespace kw::storing {
namespace fs = std::filesystem;

namespace {

// How long one of many waits for the others, milliseconds.
constexpr int wait_for_others = 10'000;

struct File {
  Database database = {};
  int state = SQLITE_OK;
};

File open_file(const fs::path& file, Hands hands) {
  File opened;
  sqlite3* database = nullptr;
  opened.state =
      sqlite3_open_v2(file.c_str(), &database, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, nullptr);
  opened.database.reset(database);
  if (opened.state == SQLITE_OK && hands == Hands::many)
    opened.state = sqlite3_busy_timeout(database, wait_for_others);
  for (const char* setting :
       {hands == Hands::one ? "PRAGMA locking_mode = EXCLUSIVE" : "PRAGMA locking_mode = NORMAL",
        "PRAGMA journal_mode = WAL", "PRAGMA synchronous = FULL", "PRAGMA foreign_keys = ON",
        // One alone takes the lock now, not with the first edit.
        hands == Hands::one ? "BEGIN EXCLUSIVE; COMMIT" : "BEGIN; COMMIT"}) {
    if (opened.state == SQLITE_OK)
      opened.state = sqlite3_exec(database, setting, nullptr, nullptr, nullptr);
  }
  return opened;
}

// Bytes of the log that are there before they are needed: as many as it grows to before SQLite
// begins it anew (1000 pages, and those of the last change).
constexpr ::off_t room_of_log = 4'600'000;

// Lengthens the log by zeros, which no reader takes for frames (their checksums fail): a change
// that need not lengthen it waits for one write of the disk and not for its directory too. Without
// this room all works, only slower.
void make_room(const fs::path& log) {
  const int handle = ::open(log.c_str(), O_WRONLY | O_CLOEXEC);
  if (handle < 0) return;
  const ::off_t before = ::lseek(handle, 0, SEEK_END);
  const std::string zeros(65'536, '\0');
  ::off_t end = before;
  while (end >= 0 && end < room_of_log) {
    const ::ssize_t written = ::write(handle, zeros.data(), zeros.size());
    if (written <= 0) break;
    end += written;
  }
  const bool is_whole = end >= room_of_log && ::fdatasync(handle) == 0;
  // A disk that is full needs its last bytes for changes.
  if (!is_whole && before >= 0 && ::ftruncate(handle, before) != 0) end = before;
  ::close(handle);
}

// Moves the file and what SQLite keeps beside it to the first free name.
std::optional<fs::path> put_aside(const fs::path& file) {
  std::error_code error;
  for (int i = 1; i < 10'000; ++i) {
    const fs::path aside = file.string() + fmt::format(".damaged-{}", i);
    if (fs::exists(aside, error)) continue;
    fs::rename(file, aside, error);
    if (error) return std::nullopt;
    for (const char* suffix : {"-wal", "-shm"}) {
      const fs::path beside = file.string() + suffix;
      if (fs::exists(beside, error)) fs::rename(beside, aside.string() + suffix, error);
    }
    return aside;
  }
  return std::nullopt;
}

Diagnostic damaged(const fs::path& file, const fs::path& aside) {
  return {
      .code = "store.damaged",
      .severity = Severity::warning,
      .message = fmt::format("the history in `{}` is damaged; it was put aside as `{}` and a new "
                             "one begun",
                             file.string(), aside.filename().string()),
      .hint = "the pieces themselves are not touched; keep the file if you want it looked into"};
}

bool is_damage(int state) {
  return state == SQLITE_CORRUPT || state == SQLITE_NOTADB;
}

// A copy beside it, under the first free name, before its form is changed.
bool copy_before(Sqlite& driver, const fs::path& file, int form) {
  std::error_code error;
  for (int i = 1; i < 10'000; ++i) {
    const fs::path copy = file.string() + fmt::format(".form-{}-{}", form, i);
    if (fs::exists(copy, error)) continue;
    return driver.copy_whole(copy) == Trouble::none;
  }
  return false;
}

Diagnostics made_ready(Sqlite& driver, const fs::path& file) {
  const int form = driver.form();
  if (form > 0 && form < newest_form && !copy_before(driver, file, form))
    return {cannot_open({file}, "it cannot be copied before it is changed: " + driver.words())};
  if (bring_up_to_date(driver) != Trouble::none) return {cannot_open({file}, driver.words())};
  return {};
}

// Whether it is out of order so that nothing can be had from it.
bool is_broken(const File& opened, Sqlite& driver) {
  return is_damage(opened.state) || (opened.state == SQLITE_OK && !driver.is_whole());
}

}  // namespace

Opened open_sqlite(const fs::path& file, Hands hands) {
  std::error_code error;
  fs::create_directories(file.parent_path(), error);
  if (error) return cannot_open({file}, error.message());
  Diagnostics warnings;
  for (int attempt = 0; attempt < 2; ++attempt) {
    File opened = open_file(file, hands);
    if (opened.state == SQLITE_BUSY || opened.state == SQLITE_LOCKED) return in_use({file});
    auto driver = std::make_unique<Sqlite>(std::move(opened.database));
    const int form = opened.state == SQLITE_OK ? driver->form() : 0;
    if (form > newest_form) return newer({file}, form);
    if (is_broken(opened, *driver)) {
      driver.reset();
      // Only one that is alone may move it.
      if (hands == Hands::many && open_file(file, Hands::one).state == SQLITE_BUSY)
        return in_use({file});
      const auto aside = attempt == 0 ? put_aside(file) : std::nullopt;
      if (!aside) return cannot_open({file}, "it is damaged and cannot be put aside");
      warnings.push_back(damaged(file, *aside));
      continue;
    }
    if (opened.state != SQLITE_OK) return cannot_open({file}, sqlite3_errstr(opened.state));
    const Diagnostics why = made_ready(*driver, file);
    if (!why.empty()) return why;
    if (hands == Hands::one) make_room(file.string() + "-wal");
    return {std::unique_ptr<Driver>(std::move(driver)), std::move(warnings)};
  }
  return cannot_open({file}, "it is damaged again");
}

}  // namespace kw::storing
