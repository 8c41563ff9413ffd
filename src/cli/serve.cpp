#include "kerfwright/server/serve.h"

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fmt/core.h>
#include <unistd.h>

#include "commands.h"

namespace kw::cli {
namespace fs = std::filesystem;
namespace {

void print_plain(const Diagnostics& faults, const char* kind) {
  for (const Diagnostic& fault : faults)
    fmt::print(stderr, "{}: {}\n  = hint: {}\n", kind, fault.message, fault.hint);
}

// Opens the page in the maker's browser, where there is a desktop to do so.
void open_page(const std::string& address) {
  const bool has_desktop =
      std::getenv("DISPLAY") != nullptr || std::getenv("WAYLAND_DISPLAY") != nullptr;
  if (!has_desktop || ::fork() != 0) return;
  std::freopen("/dev/null", "w", stderr);
  ::execlp("xdg-open", "xdg-open", address.c_str(), static_cast<char*>(nullptr));
  ::_exit(0);
}

}  // namespace

int serve(const ServeOptions& options) {
  const fs::path given = options.what.empty() ? fs::current_path() : fs::path(options.what);
  std::error_code error;
  const bool is_folder = fs::is_directory(given, error);
  if (!is_folder && (given.extension() != ".toml" || !fs::is_regular_file(given, error))) {
    print_plain(
        {{.message = fmt::format("`{}` is neither a folder nor a piece file", given.string()),
          .hint = "name a folder of pieces, or a piece file that ends in .toml"}},
        "error");
    return not_done;
  }
  ServerOptions server{.folder = is_folder                     ? given
                                 : given.parent_path().empty() ? fs::path(".")
                                                               : given.parent_path(),
                       .port = static_cast<std::uint16_t>(options.port),
                       .version = options.version};
  if (!options.store.empty()) server.store = place_of(options.store);
  if (!is_folder) server.opened = given.stem().string();
  server.on_ready = [&](const std::string& address, const Diagnostics& warnings) {
    print_plain(warnings, "warning");
    fmt::print("The workbench is at {}\nStop it with Ctrl-C.\n", address);
    std::fflush(stdout);
    if (!options.no_open) open_page(address);
  };
  const auto done = kw::serve(server);
  if (!done) print_plain(done.diagnostics(), "error");
  return done ? all_well : not_done;
}

}  // namespace kw::cli
