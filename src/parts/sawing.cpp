#include "kerfwright/parts/sawing.h"

#include <algorithm>
#include <array>
#include <map>

namespace kw {
namespace {

Span place_of(const Job& job, const JobStock& stock) {
  const auto& [piece, index] = stock.members.front();
  return job.pieces[static_cast<std::size_t>(piece)]
      .piece->stocks[static_cast<std::size_t>(index)]
      .at;
}

// What a plan took off the rack is not there for the next one. `used`: by stock of the problem.
void take_from_rack(const std::map<int, int>& used, const std::vector<StickSource>& sources,
                    std::vector<RackBoard>& rack) {
  for (const auto& [stock, count] : used) {
    const int board = sources[static_cast<std::size_t>(stock)].rack;
    if (board >= 0) rack[static_cast<std::size_t>(board)].count -= count;
  }
}

int boards_at_once(const Job& job, const StockProblem& problem) {
  const Length thick = problem.stock.stock.used.thickness;
  if (thick <= Length() || job.saw_depth < thick) return 1;
  return static_cast<int>(job.saw_depth.in_ticks() / thick.in_ticks());
}

// Whether some part is so narrow that two of them, or it and another, lie side by side; angled
// parts are planned as sticks, where they nest.
bool is_for_rectangles(const StockProblem& sp, const SheetStockPlan& ss) {
  for (const Demand& d : sp.problem.demands) {
    if (d.left_slope != 0 || d.right_slope != 0) return false;
  }
  Length narrowest = sp.stock.stock.bought.width;
  for (const SheetPart& part : ss.problem.parts) narrowest = std::min(narrowest, part.width);
  return narrowest + narrowest + sp.problem.saw.kerf <= sp.stock.stock.bought.width;
}

// What the boards of a plan of strips really cost: so many strips come out of each.
Money cost_of_boards(const StockPlan& sp) {
  std::map<int, int> strips;
  for (const SawnStick& stick : sp.plan.sticks) ++strips[stick.stock];
  Money cost;
  for (const auto& [stock, count] : strips) {
    const int each = sp.problem.sources[static_cast<std::size_t>(stock)].rack < 0
                         ? sp.problem.strips_per_board
                         : 1;
    cost = cost + sp.problem.problem.stocks[static_cast<std::size_t>(stock)].price *
                      ((count + each - 1) / each);
  }
  return cost;
}

class SawingJob {
 public:
  SawingJob(const Job& job, const Effort& effort) : job_(job), left_(job), effort_(effort) {}

  Reading<Sawing> run() {
    const auto stocks = keep(stocks_of(job_), reading_.diagnostics);
    effort_.seconds /= std::max<double>(1, static_cast<double>(stocks.size()));
    for (const JobStock& stock : stocks) {
      if (stock.stock.is_sheet) {
        saw_sheets(stock);
      } else {
        saw_boards(stock);
      }
    }
    return std::move(reading_);
  }

 private:
  void saw_sheets(const JobStock& stock) {
    SheetStockPlan ss = sheet_problem_for(left_, stock);
    Diagnostics faults;
    auto plan = keep(optimise_sheets(ss.problem, effort_), faults);
    tell(std::move(faults), stock);
    if (!plan) {
      reading_.value.is_whole = false;
      return;
    }
    ss.plan = std::move(*plan);
    keep_sheets(std::move(ss));
  }

  void saw_boards(const JobStock& stock) {
    StockPlan sp{.problem = problem_for(left_, stock)};
    SheetStockPlan ss = sheet_problem_for(left_, stock);
    const bool has_both = is_for_rectangles(sp.problem, ss);
    Effort each = effort_;
    if (has_both) each.seconds /= 2;
    Diagnostics faults, sheet_faults;
    auto plan = keep(optimise(sp.problem.problem, each), faults);
    std::optional<SheetPlan> sheet_plan;
    if (has_both) sheet_plan = keep(optimise_sheets(ss.problem, each), sheet_faults);
    if (plan) sp.plan = std::move(*plan);
    if (plan && sp.problem.strips_per_board > 1) {
      sp.plan.cost = cost_of_boards(sp);
      sp.plan.bound = sheet_plan ? std::min(sheet_plan->bound, sp.plan.cost) : Money{};
      sp.plan.is_proved = sp.plan.cost == sp.plan.bound;
      sp.plan.alternatives.clear();
    }
    if (sheet_plan && (!plan || sheet_plan->cost < sp.plan.cost)) {
      ss.plan = std::move(*sheet_plan);
      return keep_sheets(std::move(ss));
    }
    tell(std::move(faults), stock);
    if (!plan) {
      reading_.value.is_whole = false;
      return;
    }
    keep_sticks(std::move(sp));
  }

  void keep_sticks(StockPlan sp) {
    sp.sequence = sequence_of(sp.problem.problem, sp.plan.sticks);
    sp.at_once = boards_at_once(job_, sp.problem);
    std::map<int, int> used;
    for (const SawnStick& stick : sp.plan.sticks) ++used[stick.stock];
    take_from_rack(used, sp.problem.sources, left_.rack);
    reading_.value.plans.push_back(std::move(sp));
  }

  void keep_sheets(SheetStockPlan ss) {
    std::map<int, int> used;
    for (const SawnSheet& sheet : ss.plan.sheets) ++used[sheet.sheet];
    take_from_rack(used, ss.sources, left_.rack);
    reading_.value.sheets.push_back(std::move(ss));
  }

  void tell(Diagnostics faults, const JobStock& stock) {
    for (Diagnostic& fault : faults) {
      fault.at = place_of(job_, stock);
      reading_.diagnostics.push_back(std::move(fault));
    }
  }

  const Job& job_;
  Job left_ = {};  // of the rack
  Effort effort_ = {};
  Reading<Sawing> reading_ = {};
};

}  // namespace

Reading<Sawing> saw(const Job& job, const Effort& effort) {
  return SawingJob(job, effort).run();
}

std::vector<std::vector<int>> groups_of(const std::vector<SawnSheet>& sheets) {
  const auto key = [](const SawnSheet& s) {
    std::vector<std::array<std::int64_t, 6>> pieces;
    for (const SheetPiece& p : s.pieces) {
      pieces.push_back({p.x.in_ticks(), p.y.in_ticks(), p.length.in_ticks(), p.width.in_ticks(),
                        p.part, p.at.in_ticks()});
    }
    return std::pair(s.sheet, std::move(pieces));
  };
  std::map<decltype(key(sheets.front())), std::size_t> places;
  std::vector<std::vector<int>> groups;
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    const auto [at, is_new] = places.try_emplace(key(sheets[i]), groups.size());
    if (is_new) groups.emplace_back();
    groups[at->second].push_back(static_cast<int>(i));
  }
  return groups;
}

std::vector<int> cuts_of(const SawnSheet& sheet) {
  std::vector<int> cuts, open = {0};
  while (!open.empty()) {
    const int index = open.back();
    open.pop_back();
    const SheetPiece& piece = sheet.pieces[static_cast<std::size_t>(index)];
    if (piece.use != SheetPiece::Use::cut) continue;
    cuts.push_back(index);
    if (piece.beyond >= 0) open.push_back(piece.beyond);
    if (piece.below >= 0) open.push_back(piece.below);
  }
  return cuts;
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
