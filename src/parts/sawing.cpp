#include "kerfwright/parts/sawing.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace kw {
namespace {

std::optional<SheetNeed> sheet_need(const Job& job, const JobStock& stock) {
  SheetNeed need{.stock = stock};
  for (const auto& [piece, index] : stock.members) {
    const JobPiece& p = job.pieces[static_cast<std::size_t>(piece)];
    for (const Part& part : p.cut_list->parts) {
      if (part.stock != index) continue;
      need.parts.value +=
          part.size.x * part.size.y * static_cast<double>(part.members.size()) * p.count;
    }
  }
  const double sheet = stock.stock.bought.width.in_mm() * stock.stock.sheet_length.in_mm();
  need.at_least = sheet > 0 ? static_cast<int>(std::ceil(need.parts.value / sheet)) : 0;
  return need;
}

Span place_of(const Job& job, const JobStock& stock) {
  const auto& [piece, index] = stock.members.front();
  return job.pieces[static_cast<std::size_t>(piece)]
      .piece->stocks[static_cast<std::size_t>(index)]
      .at;
}

// What a plan took off the rack is not there for the next one.
void take_from_rack(const StockPlan& plan, std::vector<RackBoard>& rack) {
  std::map<int, int> used;  // by stock of the problem
  for (const SawnStick& stick : plan.plan.sticks) ++used[stick.stock];
  std::map<int, int> taken;  // by board of the rack: its stretches come from the same boards
  for (const auto& [stock, count] : used) {
    const int board = plan.problem.sources[static_cast<std::size_t>(stock)].rack;
    if (board >= 0) taken[board] = std::max(taken[board], count);
  }
  for (const auto& [board, count] : taken) rack[static_cast<std::size_t>(board)].count -= count;
}

int boards_at_once(const Job& job, const StockProblem& problem) {
  const Length thick = problem.stock.stock.used.thickness;
  if (thick <= Length() || job.saw_depth < thick) return 1;
  return static_cast<int>(job.saw_depth.in_ticks() / thick.in_ticks());
}

}  // namespace

Reading<Sawing> saw(const Job& job, const Effort& effort) {
  Reading<Sawing> reading;
  const auto stocks = keep(stocks_of(job), reading.diagnostics);
  const auto boards = std::count_if(stocks.begin(), stocks.end(),
                                    [](const JobStock& s) { return !s.stock.is_sheet; });
  Effort each = effort;
  each.seconds = effort.seconds / std::max<double>(1, static_cast<double>(boards));
  Job left = job;  // of the rack
  for (const JobStock& stock : stocks) {
    if (stock.stock.is_sheet) {
      if (auto need = sheet_need(job, stock)) reading.value.sheets.push_back(std::move(*need));
      continue;
    }
    StockPlan sp{.problem = problem_for(left, stock)};
    Diagnostics faults;
    auto plan = keep(optimise(sp.problem.problem, each), faults);
    if (plan) {
      sp.plan = std::move(*plan);
      sp.sequence = sequence_of(sp.problem.problem, sp.plan.sticks);
      sp.at_once = boards_at_once(job, sp.problem);
      take_from_rack(sp, left.rack);
      reading.value.plans.push_back(std::move(sp));
    }
    for (Diagnostic& fault : faults) {
      fault.at = place_of(job, stock);
      reading.diagnostics.push_back(std::move(fault));
    }
  }
  return reading;
}

std::string stop_name(std::size_t index) {
  std::string name;
  for (std::size_t i = index + 1; i > 0; i = (i - 1) / 26)
    name.insert(name.begin(), static_cast<char>('A' + (i - 1) % 26));
  return name;
}

std::vector<StickGroup> groups_of(const std::vector<SawnStick>& sticks) {
  const auto is_same = [](const SawnStick& a, const SawnStick& b) {
    return a.stock == b.stock && std::equal(a.parts.begin(), a.parts.end(), b.parts.begin(),
                                            b.parts.end(), [](const Placed& p, const Placed& q) {
                                              return p.demand == q.demand && p.from == q.from &&
                                                     p.flipped == q.flipped && p.turned == q.turned;
                                            });
  };
  std::vector<StickGroup> groups;
  for (std::size_t i = 0; i < sticks.size(); ++i) {
    const auto same = std::find_if(groups.begin(), groups.end(), [&](const StickGroup& g) {
      return is_same(sticks[static_cast<std::size_t>(g.sticks.front())], sticks[i]);
    });
    if (same == groups.end()) {
      groups.push_back({{static_cast<int>(i)}});
    } else {
      same->sticks.push_back(static_cast<int>(i));
    }
  }
  return groups;
}

}  // namespace kw
