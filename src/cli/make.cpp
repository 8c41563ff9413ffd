#include <cstdio>
#include <filesystem>
#include <fmt/core.h>

#include "kerfwright/planbook/lists.h"
#include "kerfwright/wire/plan_json.h"
#include "kerfwright/workbench/recompute.h"

#include "commands.h"
#include "files.h"
#include "progress.h"

namespace kw::cli {
namespace fs = std::filesystem;
namespace {

void print_faults(const Text& text, const Diagnostics& faults) {
  for (const Diagnostic& fault : faults) fmt::print(stderr, "{}", render(text, fault));
}

void print_plain(const Diagnostics& faults) {
  for (const Diagnostic& fault : faults)
    fmt::print(stderr, "error: {}\n  = hint: {}\n", fault.message, fault.hint);
}

Outcome<std::vector<Override>> overrides_of(const std::vector<std::string>& set) {
  std::vector<Override> overrides;
  for (const std::string& pair : set) {
    const std::size_t equals = pair.find('=');
    if (equals == 0 || equals == std::string::npos) {
      return Diagnostic{.code = "cli.bad-set",
                        .message = fmt::format("`--set {}` names no size", pair),
                        .hint = "write --set height=\"32 1/2\""};
    }
    overrides.push_back({pair.substr(0, equals), pair.substr(equals + 1)});
  }
  return overrides;
}

struct Opened {
  Text text = {};
  Snapshot snapshot = {};
  bool is_read = false;
};

Opened open_piece(const std::string& path, const std::vector<std::string>& set,
                  std::optional<LengthUnit> unit = {}) {
  Opened opened;
  Diagnostics faults;
  auto text = keep(read_file(path, most_bytes), faults);
  const auto overrides = keep(overrides_of(set), faults);
  print_plain(faults);
  if (!text || !overrides) return opened;
  opened.text = std::move(*text);
  ShapeCache cache;
  opened.snapshot = recompute(opened.text, built_in_catalogue(), cache, *overrides, unit);
  opened.is_read = true;
  return opened;
}

std::optional<LengthUnit> unit_of(const std::string& word) {
  if (word.empty()) return std::nullopt;
  return word == "mm" ? LengthUnit::mm : LengthUnit::inch;
}

void print_summary(const Snapshot& snapshot, const ShopPlan& plan, const LengthStyle& style) {
  const PlanData data = data_of(snapshot, plan);
  fmt::print("{}\n\n{}\n", snapshot.piece.title, to_text(cut_list_table(data, style)));
  fmt::print("{}\n", to_text(buying_table(data, style)));
  for (const StockPlan& p : plan.sawing.plans) {
    fmt::print("{}: {}\n", snapshot.piece.stocks[static_cast<std::size_t>(p.problem.stock)].name,
               proof_text(snapshot.piece, p));
  }
  fmt::print(
      "closing check from the printed numbers: worst gap {:.2f} mm, worst clash {:.2f} mm{}\n\n",
      plan.closing.worst_gap, plan.closing.worst_clash,
      plan.closing.closes ? "" : " (more than half the smallest mark: see closing-check.txt)");
}

Diagnostics write_all(const std::vector<File>& files, const fs::path& out) {
  Diagnostics faults;
  for (const File& file : files) {
    for (Diagnostic& fault : write_file(out / file.name, file.bytes))
      faults.push_back(std::move(fault));
  }
  return faults;
}

}  // namespace

int make(const MakeOptions& options) {
  Opened opened;
  ShopPlan plan;
  Reading<std::vector<File>> files;
  {
    Progress progress;
    progress.now("working out the piece");
    opened = open_piece(options.piece, options.set, unit_of(options.unit));
    if (!opened.is_read) return not_done;
    if (has_errors(opened.snapshot.diagnostics)) {
      print_faults(opened.text, opened.snapshot.diagnostics);
      return not_done;
    }
    progress.now("rounding the numbers and planning the sawing");
    plan = plan_of(opened.snapshot, {.seconds = options.seconds});
    const ExportOptions exports{{options.paper == "a4" ? Paper::a4 : Paper::letter,
                                 LengthStyle{.unit = opened.snapshot.piece.unit}},
                                !options.no_step};
    files = files_of(opened.snapshot, plan, exports, [&](std::string_view what) {
      progress.now(fmt::format("making the {}", what));
      return true;
    });
  }
  Diagnostics faults = opened.snapshot.diagnostics;
  faults.insert(faults.end(), plan.diagnostics.begin(), plan.diagnostics.end());
  print_faults(opened.text, faults);
  print_plain(files.diagnostics);
  const fs::path out = options.out.empty() ? fs::path("out") / fs::path(options.piece).stem()
                                           : fs::path(options.out);
  const Diagnostics unwritten = write_all(files.value, out);
  print_plain(unwritten);
  if (has_errors(unwritten)) return not_done;
  print_summary(opened.snapshot, plan, LengthStyle{.unit = opened.snapshot.piece.unit});
  fmt::print("{} files in {}\n", files.value.size(), out.string());
  return faults.empty() && files.diagnostics.empty() ? all_well : with_faults;
}

int check(const CheckOptions& options) {
  Opened opened = open_piece(options.piece, options.set);
  if (!opened.is_read) return not_done;
  const Snapshot& now = opened.snapshot;
  if (options.as_json) {
    fmt::print("{}", diagnostics_json(opened.text, now.diagnostics));
  } else {
    print_faults(opened.text, now.diagnostics);
    if (now.diagnostics.empty()) {
      fmt::print("{}: {} boards, {} kinds of part, nothing wrong found\n", options.piece,
                 now.bodies.size(), now.cut_list.parts.size());
    }
  }
  if (has_errors(now.diagnostics)) return not_done;
  return now.diagnostics.empty() ? all_well : with_faults;
}

}  // namespace kw::cli
