// SQLite with values: a database and its statements, closed by themselves. Private to store.
#pragma once

#include <memory>
#include <sqlite3.h>
#include <string>
#include <string_view>

namespace kw::storing {

// One statement on its way. Binds in order, from 1; a step that fails is remembered in `state`.
class Query {
 public:
  Query(sqlite3* database, std::string_view sql);
  Query& bind(std::int64_t value);
  Query& bind(std::string_view text);
  Query& bind_blob(std::string_view bytes);
  Query& bind_null();
  // True when there is a row.
  bool step();
  [[nodiscard]] std::int64_t number(int column) const;
  [[nodiscard]] std::string bytes(int column) const;
  [[nodiscard]] bool is_null(int column) const;
  // SQLITE_ROW, SQLITE_DONE, or what went wrong.
  [[nodiscard]] int state() const { return state_; }
  [[nodiscard]] bool is_done() const { return state_ == SQLITE_DONE; }

 private:
  struct Finalize {
    void operator()(sqlite3_stmt* statement) const { sqlite3_finalize(statement); }
  };
  std::unique_ptr<sqlite3_stmt, Finalize> statement_ = {};
  int next_ = 1;
  int state_ = SQLITE_OK;
};

struct Close {
  void operator()(sqlite3* database) const { sqlite3_close_v2(database); }
};
using Database = std::unique_ptr<sqlite3, Close>;

// SQLITE_OK or what went wrong.
int run(sqlite3* database, const char* sql);

// Everything between its making and `commit` or nothing of it.
class Transaction {
 public:
  explicit Transaction(sqlite3* database) : database_(database) {
    is_open_ = run(database_, "BEGIN IMMEDIATE") == SQLITE_OK;
  }
  ~Transaction() {
    if (is_open_) run(database_, "ROLLBACK");
  }
  Transaction(const Transaction&) = delete;
  Transaction& operator=(const Transaction&) = delete;
  bool commit() {
    if (!is_open_ || run(database_, "COMMIT") != SQLITE_OK) return false;
    is_open_ = false;
    return true;
  }

 private:
  sqlite3* database_ = nullptr;
  bool is_open_ = false;
};

}  // namespace kw::storing
