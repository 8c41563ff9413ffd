// A PostgreSQL server of the tests' own, from Debian's package, in a temporary folder with a socket
// in it. Where the package is not installed there is none.
#pragma once

#include <filesystem>
#include <string>
#include <sys/types.h>

namespace kw::testing_store {

class PostgresServer {
 public:
  // `settings`: further arguments of the server. Ends with the object, or with this program.
  explicit PostgresServer(std::string settings);
  ~PostgresServer();
  PostgresServer(const PostgresServer&) = delete;
  PostgresServer& operator=(const PostgresServer&) = delete;

  // One for the whole program, which does not wait for its disk. Started when first asked for.
  static PostgresServer& quick();

  [[nodiscard]] bool is_running() const { return server_ > 0; }
  [[nodiscard]] const std::string& why_not() const { return why_not_; }
  void start();
  // kill -9 of the server and all that it started.
  void kill();
  // An address whose tables are apart from those of other names.
  [[nodiscard]] std::string address(const std::string& schema) const;
  // A schema that is new and empty.
  [[nodiscard]] std::string new_address();
  void run(const std::string& schema, const std::string& sql) const;

 private:
  std::filesystem::path programs_ = {}, folder_ = {};
  std::string settings_ = {}, why_not_ = {};
  pid_t server_ = 0;
  int schemas_ = 0;
};

}  // namespace kw::testing_store
