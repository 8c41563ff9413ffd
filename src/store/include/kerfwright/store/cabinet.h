// A cabinet: one SQLite file or one PostgreSQL database, opened. What is kept in it has a header
// each: Store (histories of pieces), Log, JobTable, Published; copies.h makes backups of the whole.
//
// Guarantees: what is said to be kept is on the disk (SQLite: synchronous = full; PostgreSQL:
// synchronous_commit = on, and a warning where the server itself does not wait for its disk). An
// older form of the tables is brought up to date at opening, in one transaction; a file is copied
// first. May be used by several threads at once; each call waits for the one before.
// Will not do: read the clock; the callers say when.
#pragma once

#include <cstdint>
#include <filesystem>
#include <memory>
#include <string>
#include <string_view>

#include "kerfwright/diag/outcome.h"

namespace kw {

// Where: a file, or the address of a database (then `file` is empty).
struct Place {
  std::filesystem::path file = {};
  std::string address = {};
};
// `postgresql://...` (or `postgres://...`) is an address, anything else the path of a file.
[[nodiscard]] Place place_of(std::string_view words);
// As it may be shown: without a password.
[[nodiscard]] std::string words_of(const Place& place);

// `one`: no other program may open it meanwhile. `many`: any number of programs with `many`.
enum class Hands : std::uint8_t { one, many };

class Cabinet {
 public:
  // Makes what is not there yet. With warnings: store.damaged (the file was put aside, a new one
  // made), store.not-durable. Errors: store.in-use, store.newer, store.cannot-open.
  [[nodiscard]] static Outcome<Cabinet> open(const Place& place, Hands hands);

  struct Held;  // private to store
  explicit Cabinet(std::shared_ptr<Held> held) : held_(std::move(held)) {}
  [[nodiscard]] Held& held() const { return *held_; }

 private:
  std::shared_ptr<Held> held_;
};

}  // namespace kw
