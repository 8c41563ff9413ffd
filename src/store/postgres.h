// PostgreSQL as a Driver, over libpq. Numbers and bytes go to and fro in binary; text is kept as
// BYTEA, so that it may hold what SQLite's may and is ordered alike. Private to store.
#pragma once

#include "driver.h"
#include "libpq.h"

namespace kw::storing {

class Postgres final : public Driver {
 public:
  Postgres(std::string address, Hands hands) : address_(std::move(address)), hands_(hands) {}
  // The first connection; what is wrong is in `words`.
  Trouble connect();
  [[nodiscard]] const Dialect& dialect() const override;
  Answer ask(const std::string& sql, const std::vector<Value>& values) override;
  Trouble run(const std::string& sql) override;
  Trouble begin() override;
  Trouble commit() override;
  void roll_back() override;
  Trouble begin_form() override;
  [[nodiscard]] int form() override;
  Trouble set_form(int form) override;
  Trouble copy_whole(const std::filesystem::path& file) override;
  std::vector<std::string> damages() override;
  [[nodiscard]] std::string words() const override { return words_; }
  [[nodiscard]] Trouble trouble() const override { return trouble_; }

 private:
  struct Finish {
    void operator()(PGconn* connection) const { libpq().finish(connection); }
  };
  struct Clear {
    void operator()(PGresult* result) const { libpq().clear(result); }
  };
  using Result = std::unique_ptr<PGresult, Clear>;
  Answer answered(Result result);
  Trouble noted(Trouble trouble, const char* words);
  Trouble set_up();
  Trouble take_hands();
  // Connects anew where the connection is broken and no transaction was in it.
  Trouble mended();
  Answer ask_once(const std::string& sql, const std::vector<Value>& values);

  std::string address_;
  Hands hands_;
  std::unique_ptr<PGconn, Finish> connection_ = {};
  bool is_in_transaction_ = false;
  Trouble trouble_ = Trouble::none;
  std::string words_ = {};
};

}  // namespace kw::storing
