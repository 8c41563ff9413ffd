// Where a test keeps things: a new file, or new tables in PostgreSQL.
#pragma once

#include <fstream>
#include <gtest/gtest.h>
#include <sqlite3.h>

#include "kerfwright/store/cabinet.h"

#include "postgres_server.h"

namespace kw::testing_store {

struct Folder {
  std::filesystem::path path = {};
  Folder() {
    std::string pattern = (std::filesystem::temp_directory_path() / "kw-store-XXXXXX").string();
    path = mkdtemp(pattern.data());
  }
  ~Folder() { std::filesystem::remove_all(path); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  [[nodiscard]] std::filesystem::path file() const { return path / "deep" / "history.db"; }
};

enum class Kind : std::uint8_t { file, postgres };
inline void PrintTo(Kind kind, std::ostream* out) {
  *out << (kind == Kind::file ? "a file" : "PostgreSQL");
}

// Tests of OnBoth run twice: as InAFile/... and as InPostgres/...
class OnBoth : public testing::TestWithParam<Kind> {
 protected:
  void SetUp() override {
    if (GetParam() == Kind::postgres && !PostgresServer::quick().is_running())
      GTEST_SKIP() << PostgresServer::quick().why_not();
    place = another_place();
  }
  Place another_place() {
    if (GetParam() == Kind::postgres) return {.address = PostgresServer::quick().new_address()};
    return {.file = folder.path / ("cabinet-" + std::to_string(++files_) + ".db")};
  }
  Cabinet opened(Hands hands = Hands::many) { return opened(place, hands); }
  static Cabinet opened(const Place& there, Hands hands = Hands::many) {
    auto cabinet = Cabinet::open(there, hands);
    if (!cabinet) throw std::runtime_error(cabinet.diagnostics().front().message);
    return *cabinet;
  }

  // By the database's own means, as another program might.
  void run_sql(const std::string& of_sqlite, const std::string& of_postgres) const {
    if (GetParam() == Kind::postgres) {
      const std::size_t at = place.address.rfind("%3D");
      PostgresServer::quick().run(place.address.substr(at + 3), of_postgres);
      return;
    }
    sqlite3* database = nullptr;
    ASSERT_EQ(sqlite3_open(place.file.c_str(), &database), SQLITE_OK);
    EXPECT_EQ(sqlite3_exec(database, of_sqlite.c_str(), nullptr, nullptr, nullptr), SQLITE_OK);
    sqlite3_close(database);
  }
  void run_sql(const std::string& sql) const { run_sql(sql, sql); }

  Folder folder = {};
  Place place = {};

 private:
  int files_ = 0;
};

inline std::string code_of(const Diagnostics& diagnostics) {
  return diagnostics.empty() ? "" : std::string(diagnostics.front().code);
}

}  // namespace kw::testing_store

// NOLINTNEXTLINE(cppcoreguidelines-macro-usage): as those of the framework
#define KW_ON_BOTH(suite)                                                                         \
  INSTANTIATE_TEST_SUITE_P(InAFile, suite, testing::Values(kw::testing_store::Kind::file),        \
                           [](const auto&) { return std::string("It"); });                        \
  INSTANTIATE_TEST_SUITE_P(InPostgres, suite, testing::Values(kw::testing_store::Kind::postgres), \
                           [](const auto&) { return std::string("It"); })
