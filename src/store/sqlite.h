// SQLite as a Driver. Private to store.
#pragma once

#include <sqlite3.h>

#include "driver.h"

namespace kw::storing {

struct Close {
  void operator()(sqlite3* database) const { sqlite3_close_v2(database); }
};
using Database = std::unique_ptr<sqlite3, Close>;

class Sqlite final : public Driver {
 public:
  explicit Sqlite(Database database) : database_(std::move(database)) {}
  [[nodiscard]] const Dialect& dialect() const override;
  Answer ask(const std::string& sql, const std::vector<Value>& values) override;
  Trouble run(const std::string& sql) override;
  Trouble begin() override;
  Trouble commit() override;
  void roll_back() override;
  Trouble begin_form() override { return begin(); }
  [[nodiscard]] int form() override;
  Trouble set_form(int form) override;
  Trouble copy_whole(const std::filesystem::path& file) override;
  std::vector<std::string> damages() override;
  [[nodiscard]] std::string words() const override { return words_; }
  [[nodiscard]] Trouble trouble() const override { return trouble_; }
  // No page is broken.
  [[nodiscard]] bool is_whole();
  [[nodiscard]] sqlite3* database() const { return database_.get(); }

 private:
  Trouble noted(int state);
  Database database_;
  Trouble trouble_ = Trouble::none;
  std::string words_ = {};
};

}  // namespace kw::storing
