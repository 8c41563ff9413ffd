// What store asks of a database, whichever it is. SQL is written once, in what both understand:
// $1, $2 ... for values, RETURNING, ON CONFLICT (after a SELECT only behind a WHERE: SQLite would
// take it for a join's ON); what must differ is here. Private to store.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "kerfwright/store/cabinet.h"

namespace kw::storing {

struct Blob {
  std::string bytes = {};
};
// Nothing, a number, a text, bytes. Text may hold any bytes; it is ordered by them.
using Value = std::variant<std::monostate, std::int64_t, std::string, Blob>;

struct Cell {
  bool is_null = true;
  std::int64_t number = 0;
  std::string bytes = {};
};
using Row = std::vector<Cell>;

enum class Trouble : std::uint8_t {
  none,
  again,  // others were in the way: do the whole transaction again
  taken,  // a key that is there already
  busy,   // others hold it
  lost,   // the connection broke
  damaged,
  not_known,  // it cannot do that
  other
};

struct Answer {
  Trouble trouble = Trouble::none;
  std::vector<Row> rows = {};
  std::int64_t changed = 0;  // rows
};

// How the tables are declared, and what else differs in words.
struct Dialect {
  std::string_view integer, text, bytes;
  std::string_view skip_locked;  // behind a SELECT of rows that others may be working on
};

class Driver {
 public:
  Driver() = default;
  Driver(const Driver&) = delete;
  Driver& operator=(const Driver&) = delete;
  virtual ~Driver() = default;
  [[nodiscard]] virtual const Dialect& dialect() const = 0;
  virtual Answer ask(const std::string& sql, const std::vector<Value>& values) = 0;
  // Several statements without values or rows.
  virtual Trouble run(const std::string& sql) = 0;
  // What begins sees nothing of others until it ends, and ends as if it had been alone.
  virtual Trouble begin() = 0;
  virtual Trouble commit() = 0;
  virtual void roll_back() = 0;
  // Form of the tables: 0 when there are none. `begin_form` is a transaction that one program at a
  // time is in.
  virtual Trouble begin_form() = 0;
  [[nodiscard]] virtual int form() = 0;
  virtual Trouble set_form(int form) = 0;
  // A copy of the whole as a file of SQLite, where it can be had without going through the rows.
  virtual Trouble copy_whole(const std::filesystem::path& file) = 0;
  // What the database itself finds wrong with what it holds.
  virtual std::vector<std::string> damages() = 0;
  // What went wrong last, in the database's words and in ours; in ours, since `begin`.
  [[nodiscard]] virtual std::string words() const = 0;
  [[nodiscard]] virtual Trouble trouble() const = 0;
};

// One statement on its way. Binds in order, from $1.
class Query {
 public:
  Query(Driver& driver, std::string sql) : driver_(driver), sql_(std::move(sql)) {}
  Query& bind(std::int64_t value);
  Query& bind(std::string_view text);
  Query& bind_blob(std::string_view bytes);
  Query& bind_null();
  // True when it was carried out.
  bool run();
  // Runs at the first call. True when there is a (further) row.
  bool step();
  [[nodiscard]] std::int64_t number(std::size_t column) const;
  [[nodiscard]] const std::string& bytes(std::size_t column) const;
  [[nodiscard]] bool is_null(std::size_t column) const;
  [[nodiscard]] std::int64_t changed() const { return answer_.changed; }
  [[nodiscard]] Trouble trouble() const { return answer_.trouble; }

 private:
  Driver& driver_;
  std::string sql_;
  std::vector<Value> values_ = {};
  Answer answer_ = {};
  std::size_t next_row_ = 0;
  bool is_run_ = false;
};

enum class Verdict : std::uint8_t { keep, drop, failed };
// Does `work` in a transaction; again, a bounded number of times, when others were in its way. So
// `work` must begin from nothing each time. `keep` is on the disk when `none` comes back.
[[nodiscard]] Trouble transact(Driver& driver, const std::function<Verdict()>& work);

using Opened = Outcome<std::unique_ptr<Driver>>;
// Errors and warnings as of Cabinet::open.
[[nodiscard]] Opened open_sqlite(const std::filesystem::path& file, Hands hands);
[[nodiscard]] Opened open_postgres(const Place& place, Hands hands);

// forms.cpp: makes the tables, or brings them up to date.
extern const int newest_form;
[[nodiscard]] Trouble bring_up_to_date(Driver& driver);
[[nodiscard]] Trouble make_form(Driver& driver, int form);

// cabinet.cpp
[[nodiscard]] Diagnostic cannot_open(const Place& place, const std::string& why);
[[nodiscard]] Diagnostic in_use(const Place& place);
[[nodiscard]] Diagnostic newer(const Place& place, int form);

}  // namespace kw::storing
