#include <cstdio>
#include <filesystem>
#include <fmt/core.h>

#include "kerfwright/planbook/lists.h"
#include "kerfwright/wire/plan_json.h"
#include "kerfwright/workbench/recompute.h"

#include "commands.h"
#include "opening.h"
#include "progress.h"

namespace kw::cli {
namespace fs = std::filesystem;
namespace {

void print_summary(const Snapshot& snapshot, const ShopPlan& plan, const LengthStyle& style) {
  const PlanData data = data_of(snapshot, plan);
  fmt::print("{}\n\n{}\n", snapshot.piece.title, to_text(cut_list_table(data, style)));
  const Job job = job_of(snapshot.piece, snapshot.cut_list);
  print_sawing(job, plan.sawing, style);
  fmt::print(
      "closing check from the printed numbers: worst gap {:.2f} mm, worst clash {:.2f} mm{}\n\n",
      plan.closing.worst_gap, plan.closing.worst_clash,
      plan.closing.closes ? "" : " (more than half the smallest mark: see closing-check.txt)");
}

void print_findings(const Snapshot& now, bool tells_all) {
  std::vector<Finding> told;
  int passed = 0;
  for (Finding& finding : findings_of(now, {.draws = {.count = 10'000}})) {
    passed += finding.verdict == Verdict::passes ? 1 : 0;
    if (tells_all || finding.verdict != Verdict::passes) told.push_back(std::move(finding));
  }
  fmt::print("\n{}", to_text(told));
  if (!tells_all) fmt::print("\n{} checks passed (--all shows them)\n", passed);
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
    const ExportOptions exports{
        {paper_of(options.paper), LengthStyle{.unit = opened.snapshot.piece.unit}},
        !options.no_step};
    files = files_of(opened.snapshot, plan, exports, [&](std::string_view what) {
      progress.now(fmt::format("making the {}", what));
      return true;
    });
  }
  const Diagnostics faults = faults_of(opened, plan);
  print_faults(opened.text, faults);
  const fs::path out = options.out.empty() ? fs::path("out") / fs::path(options.piece).stem()
                                           : fs::path(options.out);
  if (!write_out(files, out)) return not_done;
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
    if (!has_errors(now.diagnostics)) print_findings(now, options.tells_all);
  }
  if (has_errors(now.diagnostics)) return not_done;
  return now.diagnostics.empty() ? all_well : with_faults;
}

}  // namespace kw::cli
