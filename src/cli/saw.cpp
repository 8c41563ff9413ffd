// The saw command: one piece or many, so many of each, out of one pool of boards.
#include <algorithm>
#include <charconv>
#include <cstdio>
#include <filesystem>
#include <fmt/core.h>
#include <list>

#include "kerfwright/planbook/lists.h"
#include "kerfwright/trade/yard_files.h"

#include "commands.h"
#include "files.h"
#include "opening.h"
#include "progress.h"

namespace kw::cli {
namespace fs = std::filesystem;
namespace {

constexpr std::uintmax_t most_list_bytes = 1 << 20;
constexpr int most_of_a_piece = 10'000;

struct Wanted {
  std::string path = {};
  int count = 1;
};

// "bench.toml", "bench.toml:3"
Outcome<Wanted> wanted_of(const std::string& word) {
  const std::size_t colon = word.rfind(':');
  if (colon == std::string::npos) return Wanted{word, 1};
  const std::string number = word.substr(colon + 1);
  Wanted wanted{word.substr(0, colon), 0};
  const auto [end, error] =
      std::from_chars(number.data(), number.data() + number.size(), wanted.count);
  const bool is_read = error == std::errc() && end == number.data() + number.size();
  if (!is_read || wanted.count < 1 || wanted.count > most_of_a_piece || wanted.path.empty()) {
    return Diagnostic{
        .code = "cli.bad-count",
        .message = fmt::format("`{}` says no count behind its colon", word),
        .hint = fmt::format("write PIECE:COUNT, like bench.toml:3; 1 to {}", most_of_a_piece)};
  }
  return wanted;
}

bool has_size(const Opened& opened, const std::string& name) {
  const auto& sizes = opened.snapshot.piece.sizes;
  return std::any_of(sizes.begin(), sizes.end(),
                     [&](const NamedValue& size) { return size.name == name; });
}

class Command {
 public:
  explicit Command(const SawOptions& options) : options_(options) {}

  int run() {
    {
      Progress progress;
      progress.now("working out the pieces");
      if (!open_pieces() || !read_lists()) return not_done;
      progress.now("planning the sawing");
      plan();
    }
    return tell();
  }

 private:
  // Each piece with those of the sizes given that it has; a size that none has is a mistake.
  bool open_pieces() {
    Diagnostics faults;
    std::vector<Wanted> wanted;
    for (const std::string& word : options_.pieces) {
      if (auto w = keep(wanted_of(word), faults)) wanted.push_back(*w);
    }
    const auto overrides = keep(overrides_of(options_.set), faults);
    print_plain(faults);
    if (has_errors(faults)) return false;
    std::vector<bool> is_used(options_.set.size());
    bool is_well = true;
    for (const Wanted& w : wanted) is_well = open(w, *overrides, is_used) && is_well;
    for (std::size_t i = 0; i < is_used.size() && is_well; ++i) {
      if (is_used[i]) continue;
      print_plain({{.code = "cli.bad-set",
                    .message = fmt::format("no piece has a size `{}`", (*overrides)[i].name),
                    .hint = "look under [size] in the piece files"}});
      is_well = false;
    }
    return is_well;
  }

  bool open(const Wanted& wanted, const std::vector<Override>& overrides,
            std::vector<bool>& is_used) {
    const auto unit = unit_of(options_.unit);
    Opened opened = open_piece(wanted.path, {});
    if (!opened.is_read) return false;
    if (opened_.empty()) file_unit_ = opened.snapshot.piece.unit;
    std::vector<std::string> set;
    for (std::size_t i = 0; i < overrides.size(); ++i) {
      if (!has_size(opened, overrides[i].name)) continue;
      set.push_back(options_.set[i]);
      is_used[i] = true;
    }
    if (!set.empty() || unit) opened = open_piece(wanted.path, set, unit);
    print_faults(opened.text, opened.snapshot.diagnostics);
    if (has_errors(opened.snapshot.diagnostics)) return false;
    with_faults_ = with_faults_ || !opened.snapshot.diagnostics.empty();
    opened_.push_back(std::move(opened));
    Snapshot& now = opened_.back().snapshot;
    static_cast<void>(close_up(now.piece, now.bodies, now.cut_list));  // for its roundings
    if (opened_.size() == 1) {
      job_ = job_of(now.piece, now.cut_list);
      job_.pieces.front().count = wanted.count;
    } else {
      job_.pieces.push_back({&now.piece, &now.cut_list, wanted.count});
      job_.rule = std::min(job_.rule, now.cut_list.rule);
    }
    return true;
  }

  template <class List>
  bool read_list(const std::string& path, Reading<List> (*read)(const Text&, LengthUnit),
                 List& into) {
    if (path.empty()) return true;
    Diagnostics faults;
    const auto text = keep(read_file(path, most_list_bytes), faults);
    print_plain(faults);
    if (!text) return false;
    into = keep(read(*text, file_unit_), faults);
    print_faults(*text, faults);
    return !has_errors(faults);
  }

  bool read_lists() {
    const bool is_rack = read_list(options_.on_hand, read_rack, job_.rack);
    const bool is_prices = read_list(options_.prices, read_prices, job_.prices);
    const bool is_worths = read_list(options_.offcuts, read_offcut_worths, job_.offcut_worths);
    if (options_.depth.empty()) return is_rack && is_prices && is_worths;
    Diagnostics faults;
    if (auto depth = keep(parse_length(options_.depth, file_unit_), faults))
      job_.saw_depth = *depth;
    print_plain(faults);
    return is_rack && is_prices && is_worths && !has_errors(faults);
  }

  void plan() { sawing_ = keep(saw(job_, {.seconds = options_.seconds}), faults_); }

  int tell() {
    const LengthStyle style{.unit = job_.unit};
    print_faults(opened_.front().text, faults_);
    auto files = sawing_files_of(job_, sawing_, {paper_of(options_.paper), style});
    const fs::path out = options_.out.empty() ? fs::path("out") / "sawing" : fs::path(options_.out);
    if (!write_out(files, out)) return not_done;
    fmt::print("{}\n", to_text(pieces_table(job_)));
    print_sawing(job_, sawing_, style);
    fmt::print("{} files in {}\n", files.value.size(), out.string());
    if (has_errors(faults_)) return not_done;
    return faults_.empty() && !with_faults_ ? all_well : with_faults;
  }

  const SawOptions& options_;
  std::list<Opened> opened_ = {};  // the job points into them
  Job job_ = {};
  LengthUnit file_unit_ = LengthUnit::inch;  // of figures without one: as the first piece has it
  Sawing sawing_ = {};
  Diagnostics faults_ = {};
  bool with_faults_ = false;
};

}  // namespace

int saw_pieces(const SawOptions& options) {
  return Command(options).run();
}

}  // namespace kw::cli
