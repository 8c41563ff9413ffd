#include "kerfwright/parts/sawing.h"

#include <algorithm>
#include <array>
#include <chrono>
#include <map>
#include <set>
#include <utility>

#include "rack.h"

namespace kw {
namespace {

Span place_of(const Job& job, const JobStock& stock) {
  const auto& [piece, index] = stock.members.front();
  return job.pieces[static_cast<std::size_t>(piece)]
      .piece->stocks[static_cast<std::size_t>(index)]
      .at;
}

// How many of each board of the rack are used. `used`: by stock of the problem.
std::vector<int> taken_off(const std::map<int, int>& used, const std::vector<StickSource>& sources,
                           std::size_t boards) {
  std::vector<int> taken(boards);
  for (const auto& [stock, count] : used) {
    const int board = sources[static_cast<std::size_t>(stock)].rack;
    if (board >= 0) taken[static_cast<std::size_t>(board)] += count;
  }
  return taken;
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

// The plan of one stock under an allowance of boards of the rack.
struct StockAnswer {
  std::optional<StockPlan> sticks = {};
  std::optional<SheetStockPlan> sheets = {};
  Diagnostics faults = {};
  RackAnswer figures = {};
};

class SawingJob {
 public:
  SawingJob(const Job& job, const Effort& effort)
      : job_(job), effort_(effort), start_(std::chrono::steady_clock::now()) {
    for (const RackBoard& board : job.rack) counts_.push_back(std::max(board.count, 0));
    each_ = effort;
    each_.on_progress = [this](const Progress& now) { return ask(now); };
  }

  Reading<Sawing> run() {
    stocks_ = keep(stocks_of(job_), reading_.diagnostics);
    std::vector<std::vector<bool>> suits;
    for (const JobStock& stock : stocks_) suits.push_back(suiting(stock));
    share_ = effort_.seconds / std::max<double>(1, static_cast<double>(stocks_.size()));
    if (is_contested(suits)) share_ /= 2;  // the rest for other ways to share out the rack
    const auto answer = [this](std::size_t stock, const Allowance& allowance) {
      return answer_of(stock, allowance).figures;
    };
    const auto goes_on = [this] { return !is_stopped_ && has_one_measure() && left() > 0; };
    const Sharing sharing = share_rack(counts_, suits, answer, goes_on);
    reading_.value.is_rack_shared_best = sharing.is_proved;
    for (std::size_t s = 0; s < stocks_.size(); ++s)
      hand_over(answer_of(s, sharing.of_stock[s]), stocks_[s]);
    return std::move(reading_);
  }

 private:
  bool ask(const Progress& now) {
    told_ = now;
    is_stopped_ = is_stopped_ || (effort_.on_progress && !effort_.on_progress(now));
    return !is_stopped_;
  }

  bool ask_now_and_then(std::int64_t units) {
    constexpr std::int64_t ask_every = 100'000;
    unasked_ += units;
    if (unasked_ < ask_every) return !is_stopped_;
    unasked_ = 0;
    return ask(told_);
  }

  // Seconds.
  [[nodiscard]] double left() const {
    const std::chrono::duration<double> gone = std::chrono::steady_clock::now() - start_;
    return effort_.seconds - gone.count();
  }

  [[nodiscard]] std::vector<bool> suiting(const JobStock& stock) const {
    std::vector<bool> suits(job_.rack.size());
    const auto look = [&](const std::vector<StickSource>& sources) {
      for (const StickSource& source : sources) {
        if (source.rack >= 0) suits[static_cast<std::size_t>(source.rack)] = true;
      }
    };
    if (!stock.stock.is_sheet) look(problem_for(job_, stock).sources);
    look(sheet_problem_for(job_, stock).sources);
    return suits;
  }

  [[nodiscard]] static bool is_contested(const std::vector<std::vector<bool>>& suits) {
    for (std::size_t b = 0; !suits.empty() && b < suits.front().size(); ++b) {
      if (std::count_if(suits.begin(), suits.end(), [b](const auto& s) { return s[b]; }) > 1)
        return true;
    }
    return false;
  }

  // Whether what the stocks cost can be summed up: all of it money, or none.
  [[nodiscard]] bool has_one_measure() const {
    std::set<bool> has_prices;
    for (const auto& [asked, answer] : answers_) {
      if (answer.sticks) has_prices.insert(answer.sticks->problem.has_prices);
      if (answer.sheets) has_prices.insert(answer.sheets->has_prices);
    }
    return has_prices.size() < 2 && (has_prices.contains(true) || !has_sheets());
  }
  [[nodiscard]] bool has_sheets() const {
    return std::any_of(answers_.begin(), answers_.end(),
                       [](const auto& a) { return a.second.sheets.has_value(); });
  }

  const StockAnswer& answer_of(std::size_t stock, const Allowance& allowance) {
    const auto known = answers_.find({stock, allowance});
    if (known != answers_.end()) return known->second;
    each_.seconds = std::clamp(left(), 0.0, share_);
    Job offered = job_;
    for (std::size_t b = 0; b < allowance.size(); ++b) offered.rack[b].count = allowance[b];
    StockAnswer answer = stocks_[stock].stock.is_sheet ? saw_sheets(offered, stocks_[stock])
                                                       : saw_boards(offered, stocks_[stock]);
    answer.figures.used.resize(counts_.size());
    return answers_.emplace(std::pair(stock, allowance), std::move(answer)).first->second;
  }

  [[nodiscard]] StockAnswer saw_sheets(const Job& offered, const JobStock& stock) const {
    SheetStockPlan ss = sheet_problem_for(offered, stock);
    StockAnswer answer;
    auto plan = keep(optimise_sheets(ss.problem, each_), answer.faults);
    if (!plan) return answer;
    ss.plan = std::move(*plan);
    answer.figures = figures_of(ss, ss.plan.bound);
    answer.sheets = std::move(ss);
    return answer;
  }

  [[nodiscard]] StockAnswer saw_boards(const Job& offered, const JobStock& stock) const {
    StockPlan sp{.problem = problem_for(offered, stock)};
    SheetStockPlan ss = sheet_problem_for(offered, stock);
    const bool has_both = is_for_rectangles(sp.problem, ss);
    Effort each = each_;
    if (has_both) each.seconds /= 2;
    StockAnswer answer;
    Diagnostics sheet_faults;
    auto plan = keep(optimise(sp.problem.problem, each), answer.faults);
    std::optional<SheetPlan> sheet_plan;
    if (has_both) sheet_plan = keep(optimise_sheets(ss.problem, each), sheet_faults);
    if (plan) sp.plan = std::move(*plan);
    if (plan && sp.problem.strips_per_board > 1) {
      sp.plan.cost = cost_of_boards(sp);
      sp.plan.bound = sheet_plan ? std::min(sheet_plan->bound, sp.plan.cost) : Money{};
      sp.plan.is_proved = sp.plan.cost == sp.plan.bound;
      sp.plan.alternatives.clear();
    }
    Money bound = sp.plan.bound;
    if (sheet_plan) bound = plan ? std::min(bound, sheet_plan->bound) : Money{};
    if (sheet_plan && (!plan || sheet_plan->cost < sp.plan.cost)) {
      ss.plan = std::move(*sheet_plan);
      answer.faults.clear();
      answer.figures = figures_of(ss, bound);
      answer.sheets = std::move(ss);
    } else if (plan) {
      answer.figures = figures_of(sp, bound);
      answer.sticks = std::move(sp);
    }
    return answer;
  }

  [[nodiscard]] RackAnswer figures_of(const StockPlan& sp, Money bound) const {
    std::map<int, int> used;
    for (const SawnStick& stick : sp.plan.sticks) ++used[stick.stock];
    return {true, sp.plan.cost.coins, bound.coins,
            taken_off(used, sp.problem.sources, counts_.size())};
  }

  [[nodiscard]] RackAnswer figures_of(const SheetStockPlan& ss, Money bound) const {
    std::map<int, int> used;
    for (const SawnSheet& sheet : ss.plan.sheets) ++used[sheet.sheet];
    return {true, ss.plan.cost.coins, bound.coins, taken_off(used, ss.sources, counts_.size())};
  }

  void hand_over(StockAnswer answer, const JobStock& stock) {
    for (Diagnostic& fault : answer.faults) {
      fault.at = place_of(job_, stock);
      reading_.diagnostics.push_back(std::move(fault));
    }
    if (answer.sheets) {
      reading_.value.sheets.push_back(std::move(*answer.sheets));
    } else if (answer.sticks) {
      StockPlan sp = std::move(*answer.sticks);
      sp.sequence = sequence_of(sp.problem.problem, sp.plan.sticks, {},
                                [this](std::int64_t units) { return ask_now_and_then(units); });
      sp.at_once = boards_at_once(job_, sp.problem);
      reading_.value.plans.push_back(std::move(sp));
    } else {
      reading_.value.is_whole = false;
    }
  }

  const Job& job_;
  Effort effort_ = {}, each_ = {};  // for all, and for one plan
  std::chrono::steady_clock::time_point start_ = {};
  double share_ = 0;  // seconds for one plan
  bool is_stopped_ = false;
  Progress told_ = {};            // last
  std::int64_t unasked_ = 0;      // units of work
  std::vector<int> counts_ = {};  // of the boards of the rack
  std::vector<JobStock> stocks_ = {};
  std::map<std::pair<std::size_t, Allowance>, StockAnswer> answers_ = {};
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
