// How long the workbench takes over an edit, on one core, JSON and all: from the request's text to
// the reply's. On a disk in memory the store's share is small; the last column has the store and
// the file on the disk that it is run on. Prints medians and the 95th percentile.
#include <algorithm>
#include <chrono>
#include <filesystem>
#include <fmt/core.h>

#include "kerfwright/workbench/session.h"

#include "many_boards.h"

namespace {

using namespace kw;
namespace fs = std::filesystem;

struct Times {
  std::vector<double> all = {};
  void add(const auto& work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    all.push_back(
        std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start)
            .count());
  }
  [[nodiscard]] double at(double share) {
    std::sort(all.begin(), all.end());
    return all[static_cast<std::size_t>(share * static_cast<double>(all.size() - 1))];
  }
};

void row(const fs::path& folder, int boards) {
  const std::string name = fmt::format("boards-{}", boards);
  const fs::path file = file_of(folder, name);
  static_cast<void>(write_piece_file(file, bench::piece_text(boards)));
  auto store = Store::open(folder / ".kerfwright" / "history.db");
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
  fmt::print("{:>6} {:>12.2f} {:>8.2f} {:>10} {:>13.2f} {:>8.2f} {:>10} {:>10}\n", boards,
             tries.at(0.5), tries.at(0.95), try_bytes, edits.at(0.5), edits.at(0.95), edit_bytes,
             (*session)->view().size());
}

}  // namespace

// session_table [FOLDER]: where the pieces and the store are put; else in the folder of temporary
// files.
int main(int argc, char** argv) {
  static_cast<void>(built_in_catalogue());
  const fs::path folder =
      fs::path(argc > 1 ? argv[1] : fs::temp_directory_path().c_str()) / "kw-session-table";
  fs::create_directories(folder);
  fmt::print("{:>6} {:>12} {:>8} {:>10} {:>13} {:>8} {:>10} {:>10}\n", "boards", "try, ms", "95 %",
             "bytes", "edit, ms", "95 %", "bytes", "whole view");
  for (const int boards : {10, 60, 200, 500}) row(folder, boards);
  fs::remove_all(folder);
}
