#include "kerfwright/workbench/trade_work.h"

#include <algorithm>
#include <fmt/format.h>
#include <memory>
#include <numeric>

#include "kerfwright/parts/extent.h"
#include "kerfwright/planbook/editions.h"
#include "kerfwright/planbook/lists.h"
#include "kerfwright/store/shelf.h"
#include "kerfwright/trade/price_list.h"
#include "kerfwright/trade/yard_files.h"

namespace kw {
namespace {

constexpr double default_change = 0.1;  // of lumber and hours, when asked how the price follows

// Of the box that the piece fills as it stands, mm.
Vec3 box_of(const std::vector<Body>& bodies) {
  Extent all;
  for (const Body& body : bodies) all = joined(all, extent_of(body));
  return all.high - all.low;
}

// One of the pieces of a job, worked out in an order's sizes.
struct MadePiece {
  int count = 1;
  Snapshot snapshot = {};
  std::vector<Setup> setups = {};
  Assembly assembly = {};
};

Outcome<std::unique_ptr<MadePiece>> made_piece(const TradeScene& scene, const std::string& name,
                                               const SizesSet& sizes, int count) {
  auto bytes = read_piece_file(file_of(scene.folder, name));
  if (!bytes) return bytes.diagnostics();
  const Text text{name + ".toml", *std::move(bytes)};
  std::vector<Override> overrides;
  for (const auto& [size, formula] : sizes) overrides.push_back({size, formula});
  auto piece = std::make_unique<MadePiece>(MadePiece{.count = count});
  ShapeCache cache;
  piece->snapshot = recompute(text, built_in_catalogue(), cache, overrides);
  Snapshot& now = piece->snapshot;
  if (has_errors(now.diagnostics)) {
    const auto first =
        std::find_if(now.diagnostics.begin(), now.diagnostics.end(),
                     [](const Diagnostic& d) { return d.severity == Severity::error; });
    return Diagnostic{
        .code = "trade.piece-has-errors",
        .message = fmt::format("`{}` cannot be made in these sizes: {}", name, first->message),
        .hint = "open the piece, set these sizes and mend what it says"};
  }
  static_cast<void>(close_up(now.piece, now.bodies, now.cut_list));  // for its roundings
  piece->setups = setups_of(now.piece, now.cut_list);
  piece->assembly = assembly_in(now);
  return piece;
}

// Set-ups that pieces share stand once, with the cuts of all.
std::vector<Setup> shared_setups(const std::vector<std::unique_ptr<MadePiece>>& pieces) {
  std::vector<Setup> all;
  for (const auto& piece : pieces) {
    for (Setup setup : piece->setups) {
      for (SetupCut& cut : setup.cuts) cut.count *= piece->count;
      const auto same = std::find_if(all.begin(), all.end(), [&](const Setup& s) {
        return s.machine == setup.machine && s.swing == setup.swing && s.tilt == setup.tilt &&
               s.fence == setup.fence;
      });
      if (same == all.end())
        all.push_back(std::move(setup));
      else
        same->cuts.insert(same->cuts.end(), setup.cuts.begin(), setup.cuts.end());
    }
  }
  return all;
}

// A job with all that is asked of it: planned, priced, timed.
class Reckoning {
 public:
  Reckoning(const TradeScene& scene, const WorkTold& tell)
      : scene_(scene), tell_(tell), model_(trade::learn_from(scene.books)) {}

  [[nodiscard]] Diagnostics add(const std::string& name, const SizesSet& sizes, int count) {
    auto piece = made_piece(scene_, name, sizes, count);
    if (!piece) return piece.diagnostics();
    pieces_.push_back(*std::move(piece));
    return {};
  }

  // Sticks and sheets at least cost; `from` and `to`: how far the whole work is.
  [[nodiscard]] Diagnostics plan(double seconds, double from, double to) {
    job_ = job_of(pieces_.front()->snapshot.piece, pieces_.front()->snapshot.cut_list);
    job_.pieces.clear();
    for (const auto& piece : pieces_) {
      job_.pieces.push_back({&piece->snapshot.piece, &piece->snapshot.cut_list, piece->count});
      job_.rule = std::min(job_.rule, piece->snapshot.cut_list.rule);
    }
    job_.currency = scene_.shop.currency;
    job_.rack = trade::rack_of(scene_.books);
    const trade::PriceQuery query{
        .as_of = scene_.today, .yard = scene_.shop.yard, .old_after = scene_.shop.price_old_after};
    auto prices = trade::yard_prices_for(job_, scene_.books, query, built_in_catalogue());
    job_.prices = std::move(prices.value);
    take_words(prices.diagnostics);
    bool is_stopped = false;
    double next = 0;
    Effort effort{.seconds = seconds};
    effort.on_progress = [&](const Progress& progress) {
      if (progress.seconds < next) return true;
      next = progress.seconds + 0.2;
      const double share = std::clamp(progress.seconds / seconds, 0.0, 1.0);
      is_stopped = !tell_("planning the sawing", from + (to - from) * share, best_of(progress));
      return !is_stopped;
    };
    auto sawing = saw(job_, effort);
    if (is_stopped) return {stopped()};
    if (has_errors(sawing.diagnostics) || !sawing.value.is_whole)
      return not_planned(sawing.diagnostics);
    take_words(sawing.diagnostics);
    sawing_ = std::move(sawing.value);
    return {};
  }

  // After `plan`. With words of what is unsure when `tells`.
  [[nodiscard]] Outcome<trade::Cost> cost(bool tells) {
    ask(tells);
    auto cost = trade::cost_of(asked_, scene_.shop.rates, built_in_catalogue());
    if (has_errors(cost.diagnostics)) return std::move(cost.diagnostics);
    if (tells) take_words(cost.diagnostics);
    return std::move(cost.value);
  }

  [[nodiscard]] CostTold told(trade::Cost cost, const std::string& market_of) const {
    CostTold told{.cost = std::move(cost), .time = asked_.time, .words = words_};
    if (scene_.shop.rates.wage == Money())
      told.words.push_back("no wage is set: the work is reckoned at nothing");
    if (!market_of.empty()) take_parcel(told);
    if (auto sale = trade::price_for(told.cost.each, scene_.shop.margin, scene_.shop.selling)) {
      told.sensitivity =
          trade::sensitivity_of(told.cost, default_change, scene_.shop.margin, scene_.shop.selling);
      std::vector<Money> market;
      for (const trade::MarketPrice& price : scene_.shop.market) {
        if (price.piece == market_of) market.push_back(price.price);
      }
      told.market = trade::place_among(sale->price, std::move(market));
      told.sale = *sale;
    } else {
      for (const Diagnostic& d : sale.diagnostics()) told.words.push_back(d.message);
    }
    return told;
  }

  // This and what follows: after `cost`.
  [[nodiscard]] std::vector<Money> cost_each(const trade::Cost& cost) const {
    return trade::cost_by_piece(asked_, cost, model_, shop_);
  }

  // Of each piece of the job, all of its count: its share of the whole, by its own work.
  [[nodiscard]] std::vector<trade::Work> work_by_piece() const {
    const std::vector<double> own = trade::own_minutes(job_, model_, shop_);
    const double sum = std::accumulate(own.begin(), own.end(), 0.0);
    std::vector<trade::Work> shares;
    for (const double minutes : own) shares.push_back(asked_.work * (sum > 0 ? minutes / sum : 0));
    return shares;
  }

  [[nodiscard]] std::vector<double> setup_minutes() const {
    std::vector<double> minutes;
    for (const Setup& setup : shared_setups(pieces_))
      minutes.push_back(trade::minutes_of(model_, setup));
    return minutes;
  }

  [[nodiscard]] bool is_proved() const {
    const auto proved = [](const auto& plan) { return plan.plan.is_proved; };
    return std::all_of(sawing_.plans.begin(), sawing_.plans.end(), proved) &&
           std::all_of(sawing_.sheets.begin(), sawing_.sheets.end(), proved);
  }

  [[nodiscard]] std::vector<std::string> proofs() const {
    std::vector<std::string> words;
    for (const StockPlan& plan : sawing_.plans)
      words.push_back(plan.problem.stock.name + ": " + proof_text(job_, plan));
    for (const SheetStockPlan& plan : sawing_.sheets)
      words.push_back(plan.stock.name + ": " + proof_text(job_, plan));
    return words;
  }

  void count(std::size_t piece, int count) { pieces_[piece]->count = count; }
  [[nodiscard]] const Job& job() const { return job_; }
  [[nodiscard]] const Sawing& sawing() const { return sawing_; }
  [[nodiscard]] const trade::Work& work() const { return asked_.work; }
  [[nodiscard]] const trade::LabourModel& model() const { return model_; }

 private:
  static Diagnostic stopped() {
    return {.code = "trade.not-planned", .message = "the planning was stopped"};
  }

  static Diagnostics not_planned(const Diagnostics& why) {
    Diagnostics faults = {{.code = "trade.not-planned",
                           .message = "there is not enough stock for a plan",
                           .hint = "enter prices of boards that are long and wide enough"}};
    for (const Diagnostic& d : why) {
      if (d.severity == Severity::error) faults.front().message += ": " + d.message;
    }
    return faults;
  }

  // How the piece is sent whole, when the shop has a list of parcels.
  void take_parcel(CostTold& told) const {
    if (scene_.shop.parcels.empty()) return;
    const Snapshot& piece = pieces_.front()->snapshot;
    const auto parcel = trade::parcel_for(
        scene_.shop.parcels, weight_of(piece.piece, piece.bodies).mass, box_of(piece.bodies));
    if (parcel)
      told.parcel = *parcel;
    else
      told.words.push_back(parcel.diagnostics().front().message);
  }

  void take_words(const Diagnostics& diagnostics) {
    for (const Diagnostic& d : diagnostics) {
      if (std::find(words_.begin(), words_.end(), d.message) == words_.end())
        words_.push_back(d.message);
    }
  }

  [[nodiscard]] std::string best_of(const Progress& progress) const {
    if (!progress.best) return "looking for a first plan";
    return fmt::format("best so far {}, at least {}", written(*progress.best, job_.currency),
                       written(progress.bound, job_.currency));
  }

  void ask(bool tells) {
    shop_.clear();
    for (std::size_t p = 0; p < pieces_.size(); ++p) {
      const auto& finish = pieces_[p]->snapshot.piece.finish;
      const Finish* found = finish.empty() ? nullptr : find_finish(built_in_catalogue(), finish);
      shop_.push_back({.setups = &pieces_[p]->setups,
                       .assembly = &pieces_[p]->assembly,
                       .surface = {.coats = found == nullptr ? 0 : found->coats}});
    }
    const trade::Work work = trade::work_of(job_, sawing_, shop_);
    const auto time = trade::estimate_of(model_, work);
    if (tells) take_words(time.diagnostics);
    asked_ = {.job = &job_,
              .sawing = &sawing_,
              .time = time.value,
              .work = work,
              .coatings = trade::coatings_of(job_, built_in_catalogue()),
              .gluings = trade::gluings_of(job_),
              .offcuts = scene_.shop.offcuts};
  }

  const TradeScene& scene_;
  const WorkTold& tell_;
  trade::LabourModel model_ = {};
  std::vector<std::unique_ptr<MadePiece>> pieces_ = {};
  Job job_ = {};
  Sawing sawing_ = {};
  std::vector<trade::PieceShop> shop_ = {};
  trade::CostAsked asked_ = {};
  std::vector<std::string> words_ = {};
};

// The orders behind what is under way, with the price that the shop would ask for each.
std::vector<OrderTold> orders_told(const TradeScene& scene, const Reckoning& reckoning,
                                   const std::vector<trade::Variant>& variants,
                                   const std::vector<Money>& cost_each) {
  const std::vector<trade::Work> work = reckoning.work_by_piece();
  std::vector<trade::Load> loads = scene.ahead;
  std::vector<OrderTold> told;
  for (std::size_t v = 0; v < variants.size(); ++v) {
    for (const int number : variants[v].orders) {
      const trade::OrderFacts& facts = scene.books.orders.at(number).facts;
      const auto sale = trade::price_for(cost_each[v], scene.shop.margin, scene.shop.selling);
      told.push_back({.order = number,
                      .buyer = facts.buyer,
                      .piece = facts.piece,
                      .count = facts.count,
                      .cost_each = cost_each[v],
                      .agreed_each = facts.each,
                      .price_each = sale ? std::optional(sale->price) : std::nullopt});
      // Orders and batches share their numbers: both are those of entries.
      loads.push_back(
          {number, work[v] * (static_cast<double>(facts.count) / variants[v].count), facts.due});
    }
  }
  const auto schedule =
      trade::schedule_of(std::move(loads), reckoning.model(), scene.shop.week, scene.today);
  for (OrderTold& order : told) {
    const auto load = std::find_if(schedule.value.loads.begin(), schedule.value.loads.end(),
                                   [&](const auto& l) { return l.of == order.order; });
    if (load != schedule.value.loads.end()) order.load = *load;
  }
  return told;
}

}  // namespace

Reading<std::vector<trade::Entry>> entries_in(const Text& csv, ImportOf what,
                                              const std::string& yard, LengthUnit unit,
                                              trade::Day today) {
  Reading<std::vector<trade::Entry>> reading;
  if (what == ImportOf::prices) {
    for (const trade::SeenPrice& price : keep(read_seen_prices(csv, unit), reading.diagnostics))
      reading.value.push_back({price.day, price.seen});
    return reading;
  }
  std::vector<trade::BoardFacts> boards =
      boards_of(keep(read_rack(csv, unit), reading.diagnostics));
  if (boards.empty()) return reading;
  if (what == ImportOf::boards_found)
    reading.value.push_back({today, trade::BoardsFound{std::move(boards)}});
  else
    reading.value.push_back(
        {today, trade::BoardsBought{.yard = yard, .boards = std::move(boards)}});
  return reading;
}

std::string title_of(const std::filesystem::path& folder, const std::string& piece) {
  const auto bytes = read_piece_file(file_of(folder, piece));
  return bytes ? read_piece({piece, *bytes}).value.title : "";
}

TradeScene scene_of(const Shop& shop, const std::filesystem::path& folder, trade::Day today) {
  return {folder, shop.books(), shop.settings(), shop.loads(), today};
}

Outcome<MadeBatch> plan_batch(const TradeScene& scene, const TradeAsk& ask, const WorkTold& tell) {
  const auto variants = trade::variants_of(scene.books, ask.orders);
  if (has_errors(variants.diagnostics)) return variants.diagnostics;
  Reckoning reckoning(scene, tell);
  for (const trade::Variant& v : variants.value) {
    if (auto faults = reckoning.add(v.piece, v.sizes, v.count); !faults.empty()) return faults;
  }
  if (auto faults = reckoning.plan(ask.seconds, 0.05, 0.9); !faults.empty()) return faults;
  auto cost = reckoning.cost(true);
  if (!cost) return cost.diagnostics();
  const std::vector<Money> each = reckoning.cost_each(*cost);
  MadeBatch made;
  made.entry = trade::batch_of(reckoning.job(), reckoning.sawing(), ask.name,
                               trade::lots_of(scene.books, variants.value, each));
  made.papers.boards =
      trade::planned_boards(reckoning.job(), reckoning.sawing(), scene.shop.offcuts);
  made.papers.work = reckoning.work();
  Outcome<std::string> pdf = to_pdf(sawing_book_of(reckoning.job(), reckoning.sawing(),
                                                   {.length = {.unit = reckoning.job().unit}}));
  if (!pdf) return pdf.diagnostics();
  made.papers.sawing_pdf = *std::move(pdf);
  made.told = {.name = ask.name,
               .proof = reckoning.proofs(),
               .cost = reckoning.told(*std::move(cost), ""),
               .orders = orders_told(scene, reckoning, variants.value, each),
               .to_buy = made.entry.to_buy,
               .boards = made.entry.boards,
               .days = trade::saw_days_of(reckoning.setup_minutes(), scene.shop.week, scene.today),
               .entries = scene.books.entries};
  return made;
}

Outcome<CostTold> reckon(const TradeScene& scene, const TradeAsk& ask, const WorkTold& tell) {
  Reckoning reckoning(scene, tell);
  if (auto faults = reckoning.add(ask.piece, ask.sizes, 1); !faults.empty()) return faults;
  std::optional<CostTold> first;
  const auto parts = static_cast<double>(ask.counts.size());
  double done = 0;
  const auto of = [&](int count) -> Outcome<trade::BatchCost> {
    reckoning.count(0, count);
    const double from = done / parts;
    done += 1;
    auto faults = reckoning.plan(ask.seconds / parts, from, done / parts);
    if (!faults.empty()) return faults;
    auto cost = reckoning.cost(!first);
    if (!cost) return cost.diagnostics();
    if (!first) first = reckoning.told(*cost, ask.piece);
    return trade::BatchCost{*std::move(cost), reckoning.is_proved()};
  };
  auto curve = trade::unit_costs(ask.counts, of);
  if (!first) return std::move(curve.diagnostics);
  first->curve = std::move(curve.value);
  return *std::move(first);
}

}  // namespace kw
