#include "database.h"

namespace kw::storing {

Query::Query(sqlite3* database, std::string_view sql) {
  sqlite3_stmt* statement = nullptr;
  state_ =
      sqlite3_prepare_v2(database, sql.data(), static_cast<int>(sql.size()), &statement, nullptr);
  statement_.reset(statement);
}

Query& Query::bind(std::int64_t value) {
  if (statement_) sqlite3_bind_int64(statement_.get(), next_++, value);
  return *this;
}

Query& Query::bind(std::string_view text) {
  if (statement_) {
    sqlite3_bind_text64(statement_.get(), next_++, text.data(), text.size(), SQLITE_TRANSIENT,
                        SQLITE_UTF8);
  }
  return *this;
}

Query& Query::bind_blob(std::string_view bytes) {
  if (statement_) {
    sqlite3_bind_blob64(statement_.get(), next_++, bytes.data(), bytes.size(), SQLITE_TRANSIENT);
  }
  return *this;
}

Query& Query::bind_null() {
  if (statement_) sqlite3_bind_null(statement_.get(), next_++);
  return *this;
}

bool Query::step() {
  if (!statement_) return false;
  state_ = sqlite3_step(statement_.get());
  return state_ == SQLITE_ROW;
}

std::int64_t Query::number(int column) const {
  return sqlite3_column_int64(statement_.get(), column);
}

std::string Query::bytes(int column) const {
  const auto* bytes = static_cast<const char*>(sqlite3_column_blob(statement_.get(), column));
  const int size = sqlite3_column_bytes(statement_.get(), column);
  return bytes == nullptr ? std::string() : std::string(bytes, static_cast<std::size_t>(size));
}

bool Query::is_null(int column) const {
  return sqlite3_column_type(statement_.get(), column) == SQLITE_NULL;
}

int run(sqlite3* database, const char* sql) {
  return sqlite3_exec(database, sql, nullptr, nullptr, nullptr);
}

}  // namespace kw::storing
