// How long the workbench takes over an edit, JSON and all: from the request's text to the reply's.
// On a disk in memory (/dev/shm) the disk's share is small. Prints medians and 95th percentiles, of
// the clock and of the time that processors spent on it, which a busy machine changes less.
#include <algorithm>
#include <ctime>
#include <filesystem>
#include <fmt/core.h>

#include "kerfwright/workbench/session.h"

#include "many_boards.h"

namespace {

using namespace kw;
namespace fs = std::filesystem;

double now_of(clockid_t clock) {
  timespec time = {};
  ::clock_gettime(clock, &time);
  return static_cast<double>(time.tv_sec) * 1e3 + static_cast<double>(time.tv_nsec) / 1e6;
}

struct Times {
  std::vector<double> clock = {}, processor = {};
  void add(const auto& work) {
    const double clock_start = now_of(CLOCK_MONOTONIC);
    const double processor_start = now_of(CLOCK_PROCESS_CPUTIME_ID);
    work();
    processor.push_back(now_of(CLOCK_PROCESS_CPUTIME_ID) - processor_start);
    clock.push_back(now_of(CLOCK_MONOTONIC) - clock_start);
  }
};

double at(std::vector<double>& all, double share) {
  std::sort(all.begin(), all.end());
  return all[static_cast<std::size_t>(share * static_cast<double>(all.size() - 1))];
}

void print_times(Times& times) {
  for (std::vector<double>* all : {&times.clock, &times.processor})
    fmt::print("{:>8.2f} {:>7.2f}", at(*all, 0.5), at(*all, 0.95));
}

void row(const fs::path& folder, int boards) {
  const std::string name = fmt::format("boards-{}", boards);
  const fs::path file = file_of(folder, name);
  static_cast<void>(write_piece_file(file, bench::piece_text(boards)));
  auto store = Store::open({.file = folder / ".kerfwright" / "history.db"});
  if (!store) return;
  auto session = Session::open(file, name, *std::move(store), 0);
  if (!session) return;
  Times tries, edits;
  std::size_t try_bytes = 0, edit_bytes = 0;
  const int runs = boards > 200 ? 20 : 60;
  for (int i = 0; i < runs; ++i) {
    const std::string typed = i % 2 == 0 ? "36 1/2" : "36";
    tries.add([&] {
      const auto wish =
          read_try(fmt::format(R"({{"base":{},"set":[{{"size":"height","value":"{}"}}]}})",
                               (*session)->revision(), i % 2 == 0 ? "37" : "36 1/4"));
      try_bytes = (*session)->try_sizes(*wish)->size();
    });
    edits.add([&] {
      const auto wish = read_edits(fmt::format(
          R"({{"base":{},"what":[{{"kind":"set","path":["size","height","is"],"value":"{}"}}]}})",
          (*session)->revision(), typed));
      int failed = -1;
      edit_bytes = (*session)->edit(*wish, 0, failed)->size();
    });
  }
  fmt::print("{:>6}", boards);
  print_times(tries);
  print_times(edits);
  fmt::print("{:>10} {:>10} {:>10}\n", try_bytes, edit_bytes, (*session)->view().size());
}

}  // namespace

// session_table [FOLDER]: where the pieces and the store are put; else in the folder of temporary
// files.
int main(int argc, char** argv) {
  static_cast<void>(built_in_catalogue());
  const fs::path folder =
      fs::path(argc > 1 ? argv[1] : fs::temp_directory_path().c_str()) / "kw-session-table";
  fs::create_directories(folder);
  fmt::print("{:>6}{:^32}{:^32}{:^32}\n", "", "try, ms", "edit, ms", "bytes");
  fmt::print("{:>6}", "boards");
  for (int i = 0; i < 2; ++i)
    fmt::print("{:>8} {:>7}{:>8} {:>7}", "clock", "95 %", "proc.", "95 %");
  fmt::print("{:>10} {:>10} {:>10}\n", "try", "edit", "whole view");
  for (const int boards : {10, 60, 200, 500}) row(folder, boards);
  fs::remove_all(folder);
}
