// Plan books a second, by how many programs make them: the public pages take orders over HTTP, 1, 2
// and 4 programs work them off. On a machine that others keep busy, the processor time of a book is
// what tells. Usage: fit_table [file | postgres | PLACE] [ORDERS]
#include <arpa/inet.h>
#include <chrono>
#include <csignal>
#include <filesystem>
#include <fmt/core.h>
#include <fstream>
#include <iterator>
#include <sys/resource.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

#include "kerfwright/server/fit.h"
#include "kerfwright/store/job_table.h"

#include "postgres_server.h"

namespace {

namespace fs = std::filesystem;
using Clock = std::chrono::steady_clock;

struct Asked {
  std::string piece = {}, size = {};
  int inches = 0;  // of the first order; those that follow go up by an eighth
};
const std::vector<Asked> pieces = {{"step-stool", "width", 15},
                                   {"trestle", "long", 20},
                                   {"wall-shelf", "width", 20},
                                   {"tote", "long", 15}};

bool offer_all(const kw::Place& place) {
  auto cabinet = kw::Cabinet::open(place, kw::Hands::many);
  if (!cabinet) return false;
  kw::Published published(*cabinet);
  for (const Asked& asked : pieces) {
    std::ifstream in(fs::path(KW_SOURCE_DIR) / "starters" / (asked.piece + ".toml"));
    const std::string text(std::istreambuf_iterator<char>(in), {});
    const auto piece = kw::offer_of({.name = asked.piece, .text = text, .sizes = {{asked.size}}});
    if (!piece || !published.publish(*piece)) return false;
  }
  return true;
}

pid_t pages_of(const kw::Place& place, int& port) {
  int ends[2] = {};
  if (::pipe(ends) != 0) return -1;
  const pid_t child = ::fork();
  if (child == 0) {
    const auto done =
        kw::serve_fit({.store = place,
                       .per_hour = 100'000,
                       .waiting = 100'000,
                       .on_ready = [&](const std::string& address, const kw::Diagnostics&) {
                         const int number = std::atoi(address.c_str() + address.rfind(':') + 1);
                         if (::write(ends[1], &number, sizeof number) < 0) ::_exit(1);
                       }});
    ::_exit(done ? 0 : 1);
  }
  if (::read(ends[0], &port, sizeof port) != sizeof port) return -1;
  return child;
}

// One order; the first line of the reply.
std::string order(int port, const std::string& piece, const std::string& form) {
  const int connection = ::socket(AF_INET, SOCK_STREAM, 0);
  sockaddr_in to = {};
  to.sin_family = AF_INET;
  to.sin_port = htons(static_cast<std::uint16_t>(port));
  to.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  std::string reply(4096, '\0');
  ::ssize_t size = 0;
  if (::connect(connection, reinterpret_cast<const sockaddr*>(&to), sizeof to) == 0) {
    const std::string request = fmt::format(
        "POST /fit/{} HTTP/1.1\r\nHost: fit\r\nContent-Type: application/x-www-form-urlencoded\r\n"
        "Content-Length: {}\r\nConnection: close\r\n\r\n{}",
        piece, form.size(), form);
    if (::write(connection, request.data(), request.size()) > 0)
      size = ::read(connection, reply.data(), reply.size());
  }
  ::close(connection);
  reply.resize(static_cast<std::size_t>(std::max<::ssize_t>(size, 0)));
  return reply.substr(0, reply.find("\r\n"));
}

struct Took {
  double seconds = 0, of_processor = 0;
};

Took taken_by(const kw::Place& place, int programs) {
  const auto begun = Clock::now();
  std::vector<pid_t> workers;
  for (int i = 0; i < programs; ++i) {
    const pid_t child = ::fork();
    if (child == 0) {
      const std::atomic<bool> is_over = false;
      ::_exit(kw::work_on_books({.store = place, .is_once = true}, is_over) ? 0 : 1);
    }
    workers.push_back(child);
  }
  Took took;
  for (const pid_t worker : workers) {
    rusage used = {};
    ::wait4(worker, nullptr, 0, &used);
    for (const timeval& time : {used.ru_utime, used.ru_stime})
      took.of_processor +=
          static_cast<double>(time.tv_sec) + 1e-6 * static_cast<double>(time.tv_usec);
  }
  took.seconds = std::chrono::duration<double>(Clock::now() - begun).count();
  return took;
}

bool measure(const kw::Place& place, int orders) {
  int port = 0;
  const pid_t pages = offer_all(place) ? pages_of(place, port) : -1;
  if (pages < 0) return false;
  fmt::print("{:>9} {:>7} {:>9} {:>9} {:>9} {:>16}\n", "programs", "orders", "orders/s", "seconds",
             "books/s", "processor s/book");
  bool is_well = true;
  std::int64_t before = 0;
  for (const int programs : {1, 2, 4}) {
    const auto begun = Clock::now();
    for (int i = 0; i < orders; ++i) {
      const Asked& asked = pieces[static_cast<std::size_t>(i) % pieces.size()];
      const std::string form = fmt::format("size.{}={}.{:03}&unit=in", asked.size,
                                           asked.inches + i / 32 % 4, i / 4 % 8 * 125);
      is_well = is_well && order(port, asked.piece, form) == "HTTP/1.1 303 See Other";
    }
    const double taking = std::chrono::duration<double>(Clock::now() - begun).count();
    const Took took = taken_by(place, programs);
    const auto cabinet = kw::Cabinet::open(place, kw::Hands::many);
    const auto counts = kw::JobTable(*cabinet).counts("book");
    is_well = is_well && counts->done - before == orders && counts->failed == 0;
    before = counts->done;
    fmt::print("{:>9} {:>7} {:>9.0f} {:>9.2f} {:>9.2f} {:>16.3f}\n", programs, orders,
               orders / taking, took.seconds, orders / took.seconds, took.of_processor / orders);
    std::fflush(stdout);
  }
  ::kill(pages, SIGTERM);
  ::waitpid(pages, nullptr, 0);
  return is_well;
}

}  // namespace

int main(int argc, char** argv) {
  const std::string where = argc > 1 ? argv[1] : "file";
  const int orders = argc > 2 ? std::atoi(argv[2]) : 40;
  fmt::print("{} processors\n", std::thread::hardware_concurrency());
  if (where == "postgres") {
    kw::testing_store::PostgresServer server("");
    if (!server.is_running()) {
      fmt::print("{}\n", server.why_not());
      return 1;
    }
    return measure({.address = server.new_address()}, orders) ? 0 : 1;
  }
  if (where != "file") return measure(kw::place_of(where), orders) ? 0 : 1;
  std::string folder = (fs::temp_directory_path() / "kw-fit-XXXXXX").string();
  if (::mkdtemp(folder.data()) == nullptr) return 1;
  const bool is_well = measure({.file = fs::path(folder) / "fit.db"}, orders);
  fs::remove_all(folder);
  return is_well ? 0 : 1;
}
