#include "postgres_server.h"

#include <chrono>
#include <csignal>
#include <cstdlib>
#include <fcntl.h>
#include <fstream>
#include <iterator>
#include <libpq-fe.h>
#include <memory>
#include <pwd.h>
#include <sstream>
#include <stdexcept>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>
#include <vector>

namespace kw::testing_store {
namespace fs = std::filesystem;

namespace {

// The newest that Debian has installed, or nothing.
fs::path programs_of_postgres() {
  fs::path newest;
  std::error_code error;
  for (const auto& version : fs::directory_iterator("/usr/lib/postgresql", error)) {
    const fs::path programs = version.path() / "bin";
    if (fs::exists(programs / "initdb", error) && programs > newest) newest = programs;
  }
  return newest;
}

// PostgreSQL refuses to run as root.
const passwd* other_user() {
  if (::geteuid() != 0) return nullptr;
  const passwd* user = ::getpwnam("postgres");
  return user != nullptr ? user : ::getpwnam("nobody");
}

[[noreturn]] void become(const std::vector<std::string>& command, const fs::path& log) {
  if (const passwd* user = other_user()) {
    if (::setgid(user->pw_gid) != 0 || ::setuid(user->pw_uid) != 0) ::_exit(126);
  }
  ::prctl(PR_SET_PDEATHSIG, SIGQUIT);
  if (::chdir("/") != 0) ::_exit(126);
  const int out = ::open(log.c_str(), O_WRONLY | O_CREAT | O_APPEND, 0600);
  ::dup2(out, 1);
  ::dup2(out, 2);
  std::vector<char*> words;
  for (const std::string& word : command) words.push_back(const_cast<char*>(word.c_str()));
  words.push_back(nullptr);
  ::execv(words[0], words.data());
  ::_exit(127);
}

pid_t begun(const std::vector<std::string>& command, const fs::path& log) {
  const pid_t child = ::fork();
  if (child == 0) become(command, log);
  return child;
}

std::vector<pid_t> children_of(pid_t parent) {
  std::ifstream list("/proc/" + std::to_string(parent) + "/task/" + std::to_string(parent) +
                     "/children");
  return {std::istream_iterator<pid_t>(list), {}};
}

struct Finish {
  void operator()(PGconn* connection) const { PQfinish(connection); }
};

}  // namespace

PostgresServer::PostgresServer(std::string settings)
    : programs_(programs_of_postgres()), settings_(std::move(settings)) {
  if (programs_.empty()) {
    why_not_ = "PostgreSQL is not installed here (tools/setup installs it)";
    return;
  }
  std::string pattern = (fs::temp_directory_path() / "kw-postgres-XXXXXX").string();
  if (::mkdtemp(pattern.data()) == nullptr) throw std::runtime_error("no temporary folder");
  folder_ = pattern;
  if (const passwd* user = other_user()) {
    if (::chown(folder_.c_str(), user->pw_uid, user->pw_gid) != 0)
      throw std::runtime_error("the folder cannot be given away");
  }
  const pid_t child = begun({programs_ / "initdb", "-D", folder_ / "data", "-U", "kerfwright", "-A",
                             "trust", "-E", "UTF8", "--locale=C", "--no-sync", "--no-instructions"},
                            folder_ / "log");
  int status = 0;
  if (::waitpid(child, &status, 0) != child || status != 0)
    throw std::runtime_error("initdb failed; its words are in " + (folder_ / "log").string());
  start();
}

PostgresServer::~PostgresServer() {
  if (server_ > 0) {
    ::kill(server_, SIGQUIT);
    ::waitpid(server_, nullptr, 0);
  }
  std::error_code error;
  if (!folder_.empty()) fs::remove_all(folder_, error);
}

PostgresServer& PostgresServer::quick() {
  static PostgresServer server("-c fsync=off -c full_page_writes=off");
  return server;
}

void PostgresServer::start() {
  std::vector<std::string> command = {programs_ / "postgres", "-D", folder_ / "data", "-k",
                                      folder_};
  std::istringstream words(
      "-c listen_addresses= -c max_connections=40 -c shared_buffers=16MB "
      "-c autovacuum=off " +
      settings_);
  for (std::string word; words >> word;) command.push_back(word);
  for (int i = 0; i < 1000; ++i) {
    // One that was killed may still hold the folder for a moment.
    if (server_ > 0 && ::waitpid(server_, nullptr, WNOHANG) == server_) server_ = 0;
    if (server_ == 0) server_ = begun(command, folder_ / "log");
    if (PQping(address("public").c_str()) == PQPING_OK) return;
    std::this_thread::sleep_for(std::chrono::milliseconds(10));
  }
  throw std::runtime_error("PostgreSQL does not start; see " + (folder_ / "log").string());
}

void PostgresServer::kill() {
  const std::vector<pid_t> children = children_of(server_);
  ::kill(server_, SIGKILL);
  for (const pid_t child : children) ::kill(child, SIGKILL);
  ::waitpid(server_, nullptr, 0);
  server_ = 0;
}

std::string PostgresServer::address(const std::string& schema) const {
  return "postgresql:///postgres?user=kerfwright&host=" + folder_.string() +
         "&options=-csearch_path%3D" + schema;
}

std::string PostgresServer::new_address() {
  const std::string schema = "t" + std::to_string(++schemas_);
  run("public", "CREATE SCHEMA " + schema);
  return address(schema);
}

void PostgresServer::run(const std::string& schema, const std::string& sql) const {
  const std::unique_ptr<PGconn, Finish> connection(PQconnectdb(address(schema).c_str()));
  const std::unique_ptr<PGresult, decltype(&PQclear)> result(PQexec(connection.get(), sql.c_str()),
                                                             PQclear);
  const ExecStatusType status = PQresultStatus(result.get());
  if (status != PGRES_COMMAND_OK && status != PGRES_TUPLES_OK)
    throw std::runtime_error(PQerrorMessage(connection.get()));
}

}  // namespace kw::testing_store
