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
  return is_as_thick && (board.width == Length() || board.width >= pool.stock.used.width);
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

// The stretches of a board that no fault lies in. Each goes on past its faults by the trim, since
// the trim may lie in a fault: the plan then finds no part there either.
std::vector<std::pair<Length, Length>> clear_stretches(const RackBoard& board, const Saw& saw) {
  std::vector<std::pair<Length, Length>> faults = board.faults;
  std::sort(faults.begin(), faults.end());
  std::vector<std::pair<Length, Length>> clear;
  Length from;
  for (auto [begin, end] : faults) {
    end = std::max(end, begin + saw.kerf);  // the cut that ends a part falls into the fault
    const Length reach = std::min(saw.end_trim, end - begin);
    const Length to = std::min(begin + reach, board.length);
    if (to > from) clear.emplace_back(from, to);
    from = std::max(from, std::max(end - reach, Length()));
  }
  if (board.length > from) clear.emplace_back(from, board.length);
  return clear;
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
      add("on hand", offer.length, {}, offer.count, {-1, true, {}, offer.length});
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

  void add(const std::string& name, Length length, Money price, std::optional<int> count,
           const StickSource& source) {
    sp_.problem.stocks.push_back({.name = name, .length = length, .price = price, .count = count});
    sp_.sources.push_back(source);
  }

  void add_rack() {
    for (std::size_t r = 0; r < job_.rack.size(); ++r) {
      const RackBoard& board = job_.rack[r];
      if (board.count <= 0 || !suits(sp_.stock, board, job_)) continue;
      const auto stretches = clear_stretches(board, sp_.problem.saw);
      for (const auto& [from, to] : stretches) {
        const auto share = static_cast<std::int64_t>(stretches.size());
        add(board.label.empty() ? "on hand" : board.label, to - from,
            Money{board.value.coins / share}, board.count,
            {static_cast<int>(r), true, from, board.length});
      }
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
      add(stock.sold_as, offer.length, sp_.has_prices ? *offer.price : by_length, {},
          {-1, false, {}, offer.length});
    }
  }

  const Job& job_;
  StockProblem sp_ = {};
};

}  // namespace

double slope_of(const SawCut& cut, Vec3 size) {
  const bool is_tilted = std::abs(cut.tilt.in_degrees()) >= 0.05;
  if (cut.feature < 0 || is_tilted || size.y <= 0) return 0;
  return -std::tan(cut.swing.in_radians());
}

StockProblem problem_for(const Job& job, const JobStock& stock) {
  return Posing(job, stock).pose();
}

}  // namespace kw
