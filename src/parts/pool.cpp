// The problems of a job: demands of all its pieces, sticks from the rack and from the yard.
#include <algorithm>
#include <cctype>
#include <cmath>

#include "kerfwright/parts/sawing.h"

#include "ends_of.h"

namespace kw {
namespace {

constexpr double near_mm = 0.8;  // 1/32 in: a rack board's thickness as measured

std::string lower(std::string text) {
  for (char& c : text) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return text;
}

bool is_named(const JobStock& pool, const std::string& name, const Job& job) {
  if (lower(name) == lower(pool.stock.sold_as)) return true;
  return std::any_of(pool.members.begin(), pool.members.end(), [&](const auto& m) {
    const Resolved& piece = *job.pieces[static_cast<std::size_t>(m.first)].piece;
    return lower(piece.stocks[static_cast<std::size_t>(m.second)].name) == lower(name);
  });
}

bool is_of_species(const JobStock& pool, const std::string& species) {
  return species.empty() || pool.stock.species.empty() ||
         lower(pool.stock.species).find(lower(species)) != std::string::npos ||
         lower(species).find(lower(pool.stock.species)) != std::string::npos;
}

bool suits(const JobStock& pool, const RackBoard& board, const Job& job) {
  if (!is_of_species(pool, board.species)) return false;
  if (!board.stock.empty() && !is_named(pool, board.stock, job)) return false;
  if (board.stock.empty() && board.thickness == Length()) return false;
  const bool is_as_thick =
      board.thickness == Length() ||
      std::abs((board.thickness - pool.stock.used.thickness).in_mm()) <= near_mm;
  return is_as_thick &&
         (pool.stock.is_sheet || board.width == Length() || board.width >= pool.stock.used.width);
}

Demand demand_of(const Job& job, PartRef ref) {
  const Part& part = part_of(job, ref);
  const int pieces = job.pieces[static_cast<std::size_t>(ref.piece)].count;
  Demand demand{.name = label_of(job, ref),
                .length = part.figures[static_cast<std::size_t>(part.length)].exact,
                .count = static_cast<int>(part.members.size()) * pieces};
  if (part.strips > 1) {
    demand.count *= part.strips;
    return demand;
  }
  const double hook = slope_of(part.ends[0], part.size);
  const double far = slope_of(part.ends[1], part.size);
  // n = (-|n_x|, n_y): x falls as y grows when n_y is negative, so the hook end's slope has the
  // other sign.
  demand.left_slope = -hook;
  demand.right_slope = far;
  demand.length = demand.length - Length::mm(part.size.y / 2 * (std::abs(hook) + std::abs(far)));
  return demand;
}

int strips_that_fit(const ResolvedStock& stock, Length kerf) {
  const auto step = (stock.used.width + kerf).in_ticks();
  if (step <= 0) return 1;
  return std::max(1, static_cast<int>((stock.bought.width + kerf).in_ticks() / step));
}

class Posing {
 public:
  Posing(const Job& job, const JobStock& stock) : job_(job) { sp_.stock = stock; }

  StockProblem pose() {
    for (const auto& [piece, index] : sp_.stock.members) add_piece(piece, index);
    const ResolvedStock& stock = sp_.stock.stock;
    sp_.strips_per_board = sp_.is_ripped_after ? 1 : strips_that_fit(stock, sp_.problem.saw.kerf);
    sp_.strip_width = stock.used.width;
    sp_.problem.width = stock.used.width;
    sp_.problem.offcut_worths = job_.offcut_worths;
    sp_.problem.unit = job_.unit;
    add_rack();
    for (const Offer& offer : stock.have)
      add({.name = "on hand", .length = offer.length, .count = offer.count}, {-1, true});
    add_yard();
    return std::move(sp_);
  }

 private:
  void add_piece(int index, int stock) {
    const JobPiece& p = job_.pieces[static_cast<std::size_t>(index)];
    Saw& saw = sp_.problem.saw;
    saw.kerf = std::max(saw.kerf, p.piece->kerf);
    saw.end_trim = std::max(saw.end_trim, p.piece->trim);
    sp_.problem.shortest_offcut = std::max(sp_.problem.shortest_offcut, p.piece->shortest_offcut);
    const auto& used = p.piece->stocks[static_cast<std::size_t>(stock)].used;
    if (used.width != sp_.stock.stock.used.width) sp_.is_ripped_after = true;
    for (std::size_t i = 0; i < p.cut_list->parts.size(); ++i) {
      if (p.cut_list->parts[i].stock != stock) continue;
      const PartRef ref{index, static_cast<int>(i)};
      sp_.problem.demands.push_back(demand_of(job_, ref));
      sp_.part_of_demand.push_back(ref);
    }
  }

  void add(Stock stock, const StickSource& source) {
    sp_.problem.stocks.push_back(std::move(stock));
    sp_.sources.push_back(source);
  }

  void add_rack() {
    for (std::size_t r = 0; r < job_.rack.size(); ++r) {
      const RackBoard& board = job_.rack[r];
      if (board.count <= 0 || !suits(sp_.stock, board, job_)) continue;
      Stock stock{.name = board.label.empty() ? "on hand" : board.label,
                  .length = board.length,
                  .price = board.value,
                  .count = board.count};
      for (const auto& [from, to] : board.faults) stock.faults.push_back({from, to - from});
      add(std::move(stock), {static_cast<int>(r), true});
    }
  }

  void add_yard() {
    const ResolvedStock& stock = sp_.stock.stock;
    std::vector<Offer> offers;
    for (const YardPrice& price : job_.prices) {
      if (!is_named(sp_.stock, price.stock, job_) || !is_of_species(sp_.stock, price.species))
        continue;
      offers.push_back({price.length, price.price, 0});
    }
    if (offers.empty()) offers = stock.buy;
    sp_.has_prices = std::all_of(offers.begin(), offers.end(),
                                 [](const Offer& o) { return o.price.has_value(); });
    for (const Offer& offer : offers) {
      const Money by_length{offer.length.in_ticks() / Length::ticks_per_mm};
      add({.name = stock.sold_as,
           .length = offer.length,
           .price = sp_.has_prices ? *offer.price : by_length},
          {-1, false});
    }
  }

  const Job& job_;
  StockProblem sp_ = {};
};

// The same for rectangles.
class SheetPosing {
 public:
  SheetPosing(const Job& job, const JobStock& stock) : job_(job) { ss_.stock = stock; }

  SheetStockPlan pose() {
    ss_.problem.unit = job_.unit;
    for (const auto& [piece, index] : ss_.stock.members) add_piece(piece, index);
    for (std::size_t r = 0; r < job_.rack.size(); ++r) {
      const RackBoard& board = job_.rack[r];
      // A sheet with faults is left on the rack: no plan goes round them.
      if (board.count <= 0 || !board.faults.empty() || !suits(ss_.stock, board, job_)) continue;
      const Length width = board.width == Length() ? ss_.stock.stock.bought.width : board.width;
      add({.name = board.label.empty() ? "on hand" : board.label,
           .length = board.length,
           .width = width,
           .price = board.value,
           .count = board.count},
          {static_cast<int>(r), true});
    }
    add_offers();
    return std::move(ss_);
  }

 private:
  void add_piece(int index, int stock) {
    const JobPiece& p = job_.pieces[static_cast<std::size_t>(index)];
    SheetProblem& problem = ss_.problem;
    problem.kerf = std::max(problem.kerf, p.piece->kerf);
    SheetTrim& trim = problem.trim;
    trim.left = trim.right = std::max(trim.left, p.piece->trim);
    if (ss_.stock.stock.is_sheet) trim.lower = trim.upper = trim.left;
    const auto& used = p.piece->stocks[static_cast<std::size_t>(stock)].used;
    for (std::size_t i = 0; i < p.cut_list->parts.size(); ++i) {
      const Part& part = p.cut_list->parts[i];
      if (part.stock != stock) continue;
      const PartRef ref{index, static_cast<int>(i)};
      const auto exact = [&](int figure) {
        return part.figures[static_cast<std::size_t>(figure)].exact;
      };
      problem.parts.push_back(
          {.name = label_of(job_, ref),
           .length = exact(part.length),
           .width = ss_.stock.stock.is_sheet ? exact(part.width) : used.width,
           .count = static_cast<int>(part.members.size()) * p.count * std::max(part.strips, 1)});
      ss_.part_of.push_back(ref);
    }
  }

  void add(SheetStock sheet, const StickSource& source) {
    ss_.problem.sheets.push_back(std::move(sheet));
    ss_.sources.push_back(source);
  }

  void add_offers() {
    const ResolvedStock& stock = ss_.stock.stock;
    for (const Offer& offer : stock.have) {
      add({.name = "on hand",
           .length = offer.length,
           .width = stock.bought.width,
           .count = offer.count},
          {-1, true});
    }
    std::vector<SheetStock> sheets;
    ss_.has_prices = true;
    for (const YardPrice& price : job_.prices) {
      if (!is_named(ss_.stock, price.stock, job_) || !is_of_species(ss_.stock, price.species))
        continue;
      const Length width = price.width == Length() ? stock.bought.width : price.width;
      sheets.push_back({stock.sold_as, price.length, width, price.price, {}});
    }
    if (sheets.empty()) {
      for (const Offer& offer : stock.buy) {
        ss_.has_prices = ss_.has_prices && offer.price;
        sheets.push_back(
            {stock.sold_as, offer.length, stock.bought.width, offer.price.value_or(Money{}), {}});
      }
    }
    if (sheets.empty() && stock.sheet_length > Length()) {
      ss_.has_prices = false;
      sheets.push_back({stock.sold_as, stock.sheet_length, stock.bought.width, {}, {}});
    }
    for (SheetStock& sheet : sheets) {
      if (!ss_.has_prices)
        sheet.price = {std::llround(sheet.length.in_mm() * sheet.width.in_mm() / 100)};
      add(std::move(sheet), {-1, false});
    }
  }

  const Job& job_;
  SheetStockPlan ss_ = {};
};

}  // namespace

SheetStockPlan sheet_problem_for(const Job& job, const JobStock& stock) {
  return SheetPosing(job, stock).pose();
}

double slope_of(const SawCut& cut, Vec3 size) {
  const bool is_tilted = std::abs(cut.tilt.in_degrees()) >= 0.05;
  if (cut.feature < 0 || is_tilted || size.y <= 0) return 0;
  return -std::tan(cut.swing.in_radians());
}

StockProblem problem_for(const Job& job, const JobStock& stock) {
  return Posing(job, stock).pose();
}

}  // namespace kw
