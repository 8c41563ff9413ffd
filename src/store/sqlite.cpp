#include "sqlite.h"

#include <fmt/core.h>

namespace kw::storing {

namespace {

constexpr Dialect words_of_sqlite = {"INTEGER", "TEXT", "BLOB", ""};

struct Finalize {
  void operator()(sqlite3_stmt* statement) const { sqlite3_finalize(statement); }
};
using Statement = std::unique_ptr<sqlite3_stmt, Finalize>;

void bind(sqlite3_stmt* statement, int at, const Value& value) {
  if (const auto* number = std::get_if<std::int64_t>(&value)) {
    sqlite3_bind_int64(statement, at, *number);
  } else if (const auto* text = std::get_if<std::string>(&value)) {
    sqlite3_bind_text64(statement, at, text->data(), text->size(), SQLITE_STATIC, SQLITE_UTF8);
  } else if (const auto* blob = std::get_if<Blob>(&value)) {
    sqlite3_bind_blob64(statement, at, blob->bytes.data(), blob->bytes.size(), SQLITE_STATIC);
  } else {
    sqlite3_bind_null(statement, at);
  }
}

Row row_of(sqlite3_stmt* statement) {
  Row row(static_cast<std::size_t>(sqlite3_column_count(statement)));
  for (std::size_t i = 0; i < row.size(); ++i) {
    const int column = static_cast<int>(i);
    const int type = sqlite3_column_type(statement, column);
    row[i].is_null = type == SQLITE_NULL;
    if (type == SQLITE_INTEGER) {
      row[i].number = sqlite3_column_int64(statement, column);
    } else if (!row[i].is_null) {
      const auto* bytes = static_cast<const char*>(sqlite3_column_blob(statement, column));
      const auto size = static_cast<std::size_t>(sqlite3_column_bytes(statement, column));
      if (bytes != nullptr) row[i].bytes.assign(bytes, size);
    }
  }
  return row;
}

Trouble trouble_of(int state, int extended) {
  switch (state) {
    case SQLITE_OK:
    case SQLITE_ROW:
    case SQLITE_DONE:
      return Trouble::none;
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return Trouble::busy;
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
      return Trouble::damaged;
    case SQLITE_CONSTRAINT:
      return extended == SQLITE_CONSTRAINT_UNIQUE || extended == SQLITE_CONSTRAINT_PRIMARYKEY
                 ? Trouble::taken
                 : Trouble::other;
    default:
      return Trouble::other;
  }
}

}  // namespace

const Dialect& Sqlite::dialect() const {
  return words_of_sqlite;
}

Trouble Sqlite::noted(int state) {
  const Trouble trouble = trouble_of(state & 0xFF, sqlite3_extended_errcode(database_.get()));
  if (trouble != Trouble::none) {
    trouble_ = trouble;
    words_ = sqlite3_errmsg(database_.get());
  }
  return trouble;
}

Answer Sqlite::ask(const std::string& sql, const std::vector<Value>& values) {
  Answer answer;
  sqlite3_stmt* made = nullptr;
  const int size = static_cast<int>(sql.size());
  answer.trouble = noted(sqlite3_prepare_v2(database_.get(), sql.data(), size, &made, nullptr));
  const Statement statement(made);
  if (answer.trouble != Trouble::none) return answer;
  for (std::size_t i = 0; i < values.size(); ++i) {
    const int at = sqlite3_bind_parameter_index(made, fmt::format("${}", i + 1).c_str());
    if (at != 0) bind(made, at, values[i]);
  }
  int state = sqlite3_step(made);
  for (; state == SQLITE_ROW; state = sqlite3_step(made)) answer.rows.push_back(row_of(made));
  answer.trouble = noted(state);
  answer.changed = sqlite3_changes64(database_.get());
  return answer;
}

Trouble Sqlite::run(const std::string& sql) {
  return noted(sqlite3_exec(database_.get(), sql.c_str(), nullptr, nullptr, nullptr));
}

Trouble Sqlite::begin() {
  trouble_ = Trouble::none;
  return run("BEGIN IMMEDIATE");
}

Trouble Sqlite::commit() {
  return run("COMMIT");
}

void Sqlite::roll_back() {
  if (sqlite3_get_autocommit(database_.get()) == 0)
    sqlite3_exec(database_.get(), "ROLLBACK", nullptr, nullptr, nullptr);
}

int Sqlite::form() {
  const Answer answer = ask("PRAGMA user_version", {});
  return answer.rows.empty() ? 0 : static_cast<int>(answer.rows[0][0].number);
}

Trouble Sqlite::set_form(int form) {
  return run(fmt::format("PRAGMA user_version = {}", form));
}

bool Sqlite::is_whole() {
  const Answer answer = ask("PRAGMA quick_check(1)", {});
  return answer.rows.size() == 1 && answer.rows[0][0].bytes == "ok";
}

Trouble Sqlite::copy_whole(const std::filesystem::path& file) {
  return ask("VACUUM INTO $1", {file.string()}).trouble;
}

std::vector<std::string> Sqlite::damages() {
  std::vector<std::string> all;
  for (const Row& row : ask("PRAGMA integrity_check(100)", {}).rows) {
    if (row[0].bytes != "ok") all.push_back(row[0].bytes);
  }
  for (const Row& row : ask("PRAGMA foreign_key_check", {}).rows)
    all.push_back(fmt::format("a row of `{}` refers to none of `{}`", row[0].bytes, row[2].bytes));
  return all;
}

}  // namespace kw::storing
