#include "opening.h"

#include <cstdio>
#include <fmt/core.h>

#include "kerfwright/planbook/lists.h"

#include "commands.h"
#include "files.h"

namespace kw::cli {

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

Opened open_piece(const std::string& path, const std::vector<std::string>& set,
                  std::optional<LengthUnit> unit) {
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

Paper paper_of(const std::string& word) {
  return word == "a4" ? Paper::a4 : Paper::letter;
}

Diagnostics faults_of(const Opened& opened, const ShopPlan& plan) {
  Diagnostics faults = opened.snapshot.diagnostics;
  faults.insert(faults.end(), plan.diagnostics.begin(), plan.diagnostics.end());
  return faults;
}

bool write_out(const Reading<std::vector<File>>& files, const std::filesystem::path& folder) {
  print_plain(files.diagnostics);
  const Diagnostics unwritten = write_all(files.value, folder);
  print_plain(unwritten);
  return !has_errors(unwritten);
}

void print_sawing(const Job& job, const Sawing& sawing, const LengthStyle& style) {
  fmt::print("{}\n", to_text(buying_table(job, sawing, style)));
  const auto sum = to_pay(buying_list_of(job, sawing));
  if (!sawing.is_whole) {
    fmt::print("not every stock could be planned: this is only a part of what is needed\n");
  } else if (sum) {
    Money over;
    for (const StockPlan& p : sawing.plans) over = over + (p.plan.cost - p.plan.bound);
    for (const SheetStockPlan& p : sawing.sheets) over = over + (p.plan.cost - p.plan.bound);
    fmt::print("to pay: {}, {}\n", written(*sum, job.currency),
               over.coins == 0
                   ? "each stock at the cheapest possible, proved"
                   : "within " + written(over, job.currency) + " of the cheapest possible");
  }
  for (const StockPlan& p : sawing.plans) {
    fmt::print("{}: {}\n", p.problem.stock.name, proof_text(job, p));
    if (!p.plan.aims) continue;
    fmt::print("  {}\n", setups_text(*p.plan.aims));
    for (const std::string& other : alternatives_of(job, p)) fmt::print("  or {}\n", other);
    if (p.sequence.hard_to_hold > 0) {
      fmt::print(
          "  caution: {} cuts where neither the part nor what is left is long enough to "
          "hold; clamp it\n",
          p.sequence.hard_to_hold);
    }
  }
  for (const SheetStockPlan& p : sawing.sheets)
    fmt::print("{}: {}\n", p.stock.name, proof_text(job, p));
}

}  // namespace kw::cli
