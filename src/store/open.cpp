// Opening the file: what it must be, and what is done when it is not.
#include <fcntl.h>
#include <fmt/core.h>
#include <unistd.h>

#include "held.h"

namespace kw {
namespace fs = std::filesystem;
using namespace storing;

namespace {

constexpr int newest_schema = 1;

constexpr const char* schema = R"(
CREATE TABLE piece (
  id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE, saved INTEGER NOT NULL DEFAULT 0);
CREATE TABLE revision (
  piece INTEGER NOT NULL REFERENCES piece(id), number INTEGER NOT NULL, at INTEGER NOT NULL,
  kind INTEGER NOT NULL, words TEXT NOT NULL, joined TEXT NOT NULL, delta BLOB NOT NULL,
  whole BLOB, PRIMARY KEY (piece, number));
CREATE TABLE tick (
  piece INTEGER NOT NULL REFERENCES piece(id), number INTEGER PRIMARY KEY, id TEXT NOT NULL,
  cut TEXT NOT NULL, did TEXT NOT NULL, words TEXT NOT NULL, at TEXT NOT NULL,
  UNIQUE (piece, id));
PRAGMA user_version = 1;
)";

struct Opened {
  Database database = {};
  int state = SQLITE_OK;
};

Opened open_file(const fs::path& file) {
  Opened opened;
  sqlite3* database = nullptr;
  opened.state =
      sqlite3_open_v2(file.c_str(), &database, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, nullptr);
  opened.database.reset(database);
  for (const char* setting : {"PRAGMA locking_mode = EXCLUSIVE", "PRAGMA journal_mode = WAL",
                              "PRAGMA synchronous = FULL", "PRAGMA foreign_keys = ON"}) {
    if (opened.state == SQLITE_OK) opened.state = run(database, setting);
  }
  // Takes the lock now, not with the first edit.
  if (opened.state == SQLITE_OK) opened.state = run(database, "BEGIN EXCLUSIVE; COMMIT");
  return opened;
}

bool is_whole(sqlite3* database) {
  Query query(database, "PRAGMA quick_check(1)");
  return query.step() && query.bytes(0) == "ok";
}

int schema_of(sqlite3* database) {
  Query query(database, "PRAGMA user_version");
  return query.step() ? static_cast<int>(query.number(0)) : 0;
}

bool make_schema(sqlite3* database) {
  Transaction transaction(database);
  return run(database, schema) == SQLITE_OK && transaction.commit();
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

Diagnostic cannot_open(const fs::path& file, const std::string& why) {
  return {.code = "store.cannot-open",
          .message = fmt::format("the history in `{}` cannot be opened: {}", file.string(), why),
          .hint = "check that the folder can be written to and that the disk has room"};
}

Diagnostic in_use(const fs::path& file) {
  return {.code = "store.in-use",
          .message = fmt::format("another program holds the history in `{}`", file.string()),
          .hint = "the workbench may be open already for this folder: use that one, or close it"};
}

Diagnostic newer(const fs::path& file, int schema_number) {
  return {
      .code = "store.newer",
      .message = fmt::format("the history in `{}` was made by a newer program (form {}, this one "
                             "knows {})",
                             file.string(), schema_number, newest_schema),
      .hint = "use the newer program, or move the file away to begin a new history"};
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

}  // namespace

Outcome<Store> Store::open(const fs::path& file) {
  std::error_code error;
  fs::create_directories(file.parent_path(), error);
  if (error) return cannot_open(file, error.message());
  Diagnostics warnings;
  for (int attempt = 0; attempt < 2; ++attempt) {
    Opened opened = open_file(file);
    if (opened.state == SQLITE_BUSY || opened.state == SQLITE_LOCKED) return in_use(file);
    const bool is_read = opened.state == SQLITE_OK;
    const int form = is_read ? schema_of(opened.database.get()) : 0;
    if (form > newest_schema) return newer(file, form);
    if (is_damage(opened.state) || (is_read && !is_whole(opened.database.get()))) {
      opened.database.reset();
      const auto aside = attempt == 0 ? put_aside(file) : std::nullopt;
      if (!aside) return cannot_open(file, "it is damaged and cannot be put aside");
      warnings.push_back(damaged(file, *aside));
      continue;
    }
    if (!is_read) return cannot_open(file, sqlite3_errstr(opened.state));
    if (form == 0 && !make_schema(opened.database.get())) {
      return cannot_open(file, sqlite3_errmsg(opened.database.get()));
    }
    make_room(file.string() + "-wal");
    auto held = std::make_shared<Held>();
    held->database = std::move(opened.database);
    held->file = file;
    return {Store(std::move(held)), std::move(warnings)};
  }
  return cannot_open(file, "it is damaged again");
}

}  // namespace kw
