#include "kerfwright/trade/cost.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <map>
#include <set>
#include <tuple>

#include "kerfwright/measure/text.h"
#include "kerfwright/trade/coins.h"

namespace kw::trade {
namespace {

constexpr double mm2_in_m2 = 1e6;

const NamedPackage* find_package(const std::vector<NamedPackage>& packages,
                                 const std::string& name) {
  const auto found = std::find_if(packages.begin(), packages.end(),
                                  [&](const NamedPackage& p) { return p.name == name; });
  return found == packages.end() ? nullptr : &*found;
}

// By the name in the piece's file, or by any other that the catalogue has for it.
template <class Row>
const NamedPackage* find_package(const std::vector<NamedPackage>& packages, const std::string& name,
                                 const Row* row) {
  const NamedPackage* found = find_package(packages, name);
  if (found == nullptr && row != nullptr) found = find_package(packages, row->name);
  for (std::size_t i = 0; found == nullptr && row != nullptr && i < row->aka.size(); ++i)
    found = find_package(packages, row->aka[i]);
  return found;
}

class Costing {
 public:
  Costing(const CostAsked& asked, const Rates& rates, const Catalogue& catalogue)
      : asked_(asked), rates_(rates), catalogue_(catalogue) {}

  Reading<Cost> run() {
    add_boards();
    add_hardware();
    for (const Gluing& gluing : asked_.gluings) add_glue(gluing);
    for (const Coating& coating : asked_.coatings) add_finish(coating);
    for (const Consumable& consumable : rates_.consumables) add_consumable(consumable);
    add_labour();
    for (const CostLine& line : cost_.lines) cost_.total = cost_.total + line.total;
    if (!is_in_range(cost_.total)) refuse("the whole job"), cost_.total = {};
    for (const JobPiece& piece : asked_.job->pieces) cost_.pieces += piece.count;
    if (cost_.pieces > 0) cost_.each.coins = (cost_.total.coins + cost_.pieces - 1) / cost_.pieces;
    return {std::move(cost_), std::move(diagnostics_)};
  }

 private:
  static bool is_in_range(Money money) {
    return money <= most_money && money >= Money() - most_money;
  }

  void refuse(const std::string& what) {
    diagnostics_.push_back({.code = "trade.money-range",
                            .message = fmt::format("{} costs more than the books take", what),
                            .hint = "look for a price or a count with too many digits"});
  }

  void warn(std::string_view code, std::string message, std::string hint) {
    diagnostics_.push_back({.code = code,
                            .severity = Severity::warning,
                            .message = std::move(message),
                            .hint = std::move(hint)});
  }

  void add(CostLine line) {
    if (!is_in_range(line.total)) refuse(line.what), line.total = {};
    cost_.lines.push_back(std::move(line));
  }

  // Boards alike on one line, then what is kept of them.
  void add_boards() {
    std::map<std::tuple<bool, std::string, std::string, Length, Money>, int> alike;
    Money kept;
    int offcuts = 0;
    for (const PlannedBoard& board : planned_boards(*asked_.job, *asked_.sawing, asked_.offcuts)) {
      const BoardFacts& f = board.facts;
      ++alike[{board.is_on_hand, f.stock, f.species, f.length, f.value}];
      if (!board.has_price) no_board_price(f);
      for (const Offcut& offcut : board.sawn.offcuts) kept = kept + offcut.facts.value, ++offcuts;
    }
    for (const auto& [key, count] : alike) {
      const auto& [is_on_hand, stock, species, length, each] = key;
      add({.kind = CostKind::boards,
           .what = fmt::format("{}{}{}, {}", stock, species.empty() ? "" : ", ", species,
                               format_length(length, {.unit = asked_.job->unit})),
           .quantity = double(count),
           .unit = "boards",
           .each = each,
           .total = each * count,
           .basis = is_on_hand ? "on hand, at its value in the books" : "bought, sawing plan"});
    }
    if (offcuts > 0)
      add({.kind = CostKind::offcuts,
           .what = "offcuts kept",
           .quantity = double(offcuts),
           .unit = "boards",
           .total = Money() - kept,
           .basis = asked_.job->offcut_worths.empty()
                        ? fmt::format("{:.0f} % of what their part of the board cost",
                                      asked_.offcuts.share * 100)
                        : "worth by length, as typed"});
  }

  void no_board_price(const BoardFacts& facts) {
    if (!unpriced_.insert(facts.stock + facts.species).second) return;
    warn("trade.no-price",
         fmt::format("no price of {}{}{} is known", facts.stock, facts.species.empty() ? "" : ", ",
                     facts.species),
         "enter what the yard asks for it");
  }

  void add_hardware() {
    for (const Hardware& hardware : hardware_of(*asked_.job)) {
      const Fastener* row = find_fastener(catalogue_, hardware.name);
      const NamedPackage* found = find_package(rates_.hardware, hardware.name, row);
      if (found == nullptr)
        warn("trade.no-hardware-price", fmt::format("no price of {} is known", hardware.name),
             "enter the price of one, or of a box and how many it holds");
      add(packed(CostKind::hardware, hardware.name, hardware.count, "pieces", found));
    }
  }

  void add_glue(const Gluing& gluing) {
    const std::string name = gluing.glue.empty() ? "glue" : gluing.glue;
    const Adhesive* row = find_adhesive(catalogue_, name);
    const NamedPackage* found = find_package(rates_.glues, name, row);
    if (found == nullptr)
      warn("trade.no-glue-price", fmt::format("no price of {} is known", name),
           "enter the price of a bottle and what it holds");
    const auto coverage = row == nullptr ? std::nullopt : row->coverage_m2_per_litre;
    add_liquid(CostKind::glue, name, gluing.area.value / mm2_in_m2, coverage, found,
               row == nullptr ? "" : row->source);
  }

  void add_finish(const Coating& coating) {
    const Finish* row = find_finish(catalogue_, coating.finish);
    const NamedPackage* found = find_package(rates_.finishes, coating.finish, row);
    if (found == nullptr)
      warn("trade.no-finish-price", fmt::format("no price of {} is known", coating.finish),
           "enter the price of a can and what it holds");
    const auto coverage = row == nullptr ? std::nullopt : row->coverage_m2_per_litre_low;
    add_liquid(CostKind::finish, coating.finish, coating.area.value / mm2_in_m2 * coating.coats,
               coverage, found, row == nullptr ? "" : row->source);
  }

  void add_liquid(CostKind kind, const std::string& name, double area, Figure coverage,
                  const NamedPackage* found, const std::string& source) {
    if (!coverage || *coverage <= 0) {
      warn("trade.no-coverage", fmt::format("how far {} goes is not known", name),
           "choose one that the catalogue knows");
      add({.kind = kind,
           .what = name,
           .quantity = area,
           .unit = "m2",
           .basis = "no coverage known"});
      return;
    }
    CostLine line = packed(kind, name, area / *coverage, "l", found);
    line.basis =
        fmt::format("{:.3g} m2 at {:.3g} m2/l ({}); {}", area, *coverage, source, line.basis);
    add(std::move(line));
  }

  void add_consumable(const Consumable& consumable) {
    const double amount = asked_.work.of(consumable.with);
    if (amount <= 0) return;
    const NamedPackage package{consumable.name, consumable.package};
    CostLine line = packed(CostKind::consumables, consumable.name, amount,
                           std::string(name_of(consumable.with)), &package);
    add(std::move(line));
  }

  static CostLine packed(CostKind kind, const std::string& name, double amount, std::string unit,
                         const NamedPackage* found) {
    CostLine line{.kind = kind, .what = name, .quantity = amount, .unit = std::move(unit)};
    if (found == nullptr) {
      line.basis = "no price known";
      return line;
    }
    const Package& package = found->package;
    line.each =
        nearest_coin(static_cast<double>(package.price.coins) / std::max(package.holds, 1e-9));
    line.total = charge_for(package, amount);
    line.basis =
        fmt::format("{} of {:.4g}", package.is_charged_whole ? "whole packages" : "share of one",
                    package.holds);
    return line;
  }

  void add_labour() {
    const double hours = asked_.time.minutes / 60;
    if (hours <= 0) return;
    const Money wages = nearest_coin(static_cast<double>(rates_.wage.coins) * hours);
    add({.kind = CostKind::labour,
         .what = "work",
         .quantity = hours,
         .unit = "h",
         .each = rates_.wage,
         .total = wages,
         .basis =
             fmt::format("{:.1f} to {:.1f} h with a chance of {:.0f} %", asked_.time.least / 60,
                         asked_.time.most / 60, asked_.time.chance * 100)});
    const Money overhead = nearest_coin(static_cast<double>(wages.coins) * rates_.overhead_share +
                                        static_cast<double>(rates_.overhead_hourly.coins) * hours);
    if (overhead != Money())
      add({.kind = CostKind::overhead,
           .what = "overhead",
           .quantity = hours,
           .unit = "h",
           .total = overhead,
           .basis =
               fmt::format("{:.4g} % of the work, and by the hour", rates_.overhead_share * 100)});
  }

  const CostAsked& asked_;
  const Rates& rates_;
  const Catalogue& catalogue_;
  Cost cost_ = {};
  Diagnostics diagnostics_ = {};
  std::set<std::string> unpriced_ = {};
};

}  // namespace

std::string_view name_of(CostKind kind) {
  switch (kind) {
    case CostKind::boards:
      return "boards";
    case CostKind::offcuts:
      return "offcuts";
    case CostKind::hardware:
      return "hardware";
    case CostKind::glue:
      return "glue";
    case CostKind::finish:
      return "finish";
    case CostKind::consumables:
      return "consumables";
    case CostKind::labour:
      return "labour";
    case CostKind::overhead:
      return "overhead";
  }
  return "";
}

Money charge_for(const Package& package, double amount) {
  if (amount <= 0 || package.holds <= 0) return {};
  const double packages = amount / package.holds;
  // A whisker over a whole number is a rounding of ours.
  const double charged =
      package.is_charged_whole ? std::ceil(packages - 1e-9 * packages) : packages;
  return nearest_coin(static_cast<double>(package.price.coins) * charged);
}

Money Cost::of(CostKind kind) const {
  Money sum;
  for (const CostLine& line : lines)
    if (line.kind == kind) sum = sum + line.total;
  return sum;
}

Reading<Cost> cost_of(const CostAsked& asked, const Rates& rates, const Catalogue& catalogue) {
  return Costing(asked, rates, catalogue).run();
}

std::vector<Coating> coatings_of(const Job& job, const Catalogue& catalogue) {
  std::vector<Coating> coatings;
  for (const JobPiece& piece : job.pieces) {
    const std::string& name = piece.piece->finish;
    if (name.empty()) continue;
    const Finish* row = find_finish(catalogue, name);
    const int coats = row == nullptr ? 1 : std::max(row->coats, 1);
    const auto same = std::find_if(coatings.begin(), coatings.end(),
                                   [&](const Coating& c) { return c.finish == name; });
    if (same == coatings.end())
      coatings.push_back({name, surface_of(piece), coats});
    else
      same->area.value += surface_of(piece).value;
  }
  return coatings;
}

std::vector<Gluing> gluings_of(const Job& job) {
  std::vector<Gluing> gluings;
  for (const JobPiece& piece : job.pieces) {
    for (const auto& [name, area] : glued_in(piece)) {
      const auto same = std::find_if(gluings.begin(), gluings.end(),
                                     [&, glue = name](const Gluing& g) { return g.glue == glue; });
      if (same == gluings.end())
        gluings.push_back({name, area});
      else
        same->area.value += area.value;
    }
  }
  return gluings;
}

Outcome<ParcelRate> parcel_for(const std::vector<ParcelRate>& rates, Mass mass, Vec3 box) {
  std::array<double, 3> sides = {box.x, box.y, box.z};
  std::sort(sides.begin(), sides.end());
  const Length around = Length::mm(sides[2] + 2 * (sides[0] + sides[1]));
  const ParcelRate* best = nullptr;
  for (const ParcelRate& rate : rates) {
    if (mass.value <= rate.heaviest.value && around <= rate.longest &&
        (best == nullptr || rate.price < best->price))
      best = &rate;
  }
  if (best != nullptr) return *best;
  return Diagnostic{
      .code = "trade.cannot-send",
      .message =
          fmt::format("no parcel in your list takes {:.3g} kg with a length and girth of {}",
                      mass.value, format_length(around, {.unit = LengthUnit::mm, .decimals = 0})),
      .hint = "send it in two parcels, have it fetched, or add a freight line to the list"};
}

}  // namespace kw::trade
