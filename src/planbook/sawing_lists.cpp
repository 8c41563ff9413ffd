// What is bought and how it is sawn, as tables and in words.
#include <algorithm>
#include <cmath>
#include <fmt/core.h>
#include <map>

#include "kerfwright/lumber/sold.h"
#include "kerfwright/planbook/lists.h"

namespace kw {
namespace {

std::string as_text(Length length, const LengthStyle& style) {
  return format_length(length, style);
}

std::string angle_of(double slope) {
  const double degrees = std::abs(std::atan(slope)) * 180 / std::acos(-1.0);
  return degrees < 0.05 ? "square" : format_angle(Angle::degrees(degrees));
}

const Demand& demand_of(const StockPlan& plan, const Placed& placed) {
  return plan.problem.problem.demands[static_cast<std::size_t>(placed.demand)];
}

std::string label_of(const Job& job, const StockPlan& plan, const Placed& placed) {
  return label_of(job, plan.problem.part_of_demand[static_cast<std::size_t>(placed.demand)]);
}

std::string times(int count, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", count, count == 1 ? one : many);
}

// "1, 2, 5 to 9"
std::string numbers_of(const std::vector<int>& sticks) {
  std::string text;
  for (std::size_t i = 0; i < sticks.size();) {
    std::size_t j = i;
    while (j + 1 < sticks.size() && sticks[j + 1] == sticks[j] + 1) ++j;
    if (!text.empty()) text += ", ";
    text += fmt::format("{}", sticks[i] + 1);
    if (j > i) text += fmt::format("{}{}", j > i + 1 ? " to " : ", ", sticks[j] + 1);
    i = j + 1;
  }
  return text;
}

struct Coming {
  std::vector<int> sticks = {};  // each once
  int count = 0, hard = 0;
};

// What comes off at one stop, by the part's label.
std::map<std::string, Coming> coming_off(const Job& job, const StockPlan& plan,
                                         const StopSetting& setting) {
  std::map<std::string, Coming> parts;
  for (const SawnOff& off : setting.cuts) {
    const SawnStick& stick = plan.plan.sticks[static_cast<std::size_t>(off.stick)];
    Coming& c = parts[label_of(job, plan, stick.parts[static_cast<std::size_t>(off.part)])];
    if (c.sticks.empty() || c.sticks.back() != off.stick) c.sticks.push_back(off.stick);
    ++c.count;
    c.hard += off.is_hard_to_hold ? 1 : 0;
  }
  for (auto& [label, c] : parts) {
    std::sort(c.sticks.begin(), c.sticks.end());
    c.sticks.erase(std::unique(c.sticks.begin(), c.sticks.end()), c.sticks.end());
  }
  return parts;
}

void add_stick_rows(Table& table, const Job& job, const StockPlan& plan, const LengthStyle& style) {
  const StockProblem& problem = plan.problem;
  for (std::size_t i = 0; i < plan.plan.sticks.size(); ++i) {
    const SawnStick& stick = plan.plan.sticks[i];
    const auto stock = static_cast<std::size_t>(stick.stock);
    for (const Placed& placed : stick.parts) {
      const Demand& d = demand_of(plan, placed);
      const auto [left, right] = placed.turned ? std::pair(d.right_slope, d.left_slope)
                                               : std::pair(d.left_slope, d.right_slope);
      const PartRef ref = problem.part_of_demand[static_cast<std::size_t>(placed.demand)];
      const Part& part = part_of(job, ref);
      const double half = problem.problem.width.in_mm() / 2;
      const Length tip = placed.from - Length::mm(half * std::abs(left));
      table.rows.push_back(
          {problem.stock.name, fmt::format("{}", i + 1), problem.problem.stocks[stock].name,
           as_text(problem.problem.stocks[stock].length, style), label_of(job, ref),
           as_text(round_to(tip, job.rule), style),
           as_text(part.figures[static_cast<std::size_t>(part.length)].printed, style),
           angle_of(left), angle_of(right),
           as_text(round_to(stick.offcut, job.rule, Rounding::down), style)});
    }
  }
}

// What a piece of a sheet is, for the table of its cuts.
std::string piece_text(const Job& job, const SheetStockPlan& plan, const SawnSheet& sheet,
                       int index, const LengthStyle& style) {
  if (index < 0) return "nothing";
  const SheetPiece& piece = sheet.pieces[static_cast<std::size_t>(index)];
  if (piece.use == SheetPiece::Use::part)
    return label_of(job, plan.part_of[static_cast<std::size_t>(piece.part)]);
  const std::string size = as_text(round_to(piece.length, job.rule, Rounding::down), style) +
                           " x " + as_text(round_to(piece.width, job.rule, Rounding::down), style);
  return piece.use == SheetPiece::Use::offcut ? "left: " + size : size;
}

}  // namespace

std::string written(Money money, const std::string& currency) {
  return fmt::format("{}{}.{:02}{}{}", money.coins < 0 ? "-" : "", std::abs(money.coins) / 100,
                     std::abs(money.coins) % 100, currency.empty() ? "" : " ", currency);
}

std::string proof_text(const Job& job, const StockPlan& plan) {
  if (plan.plan.is_proved)
    return plan.problem.has_prices ? "cheapest possible, proved" : "least wood possible, proved";
  if (plan.problem.has_prices) {
    return fmt::format("within {} of the cheapest possible",
                       written(plan.plan.cost - plan.plan.bound, job.currency));
  }
  const double share = plan.plan.cost.coins > 0
                           ? 100.0 * static_cast<double>((plan.plan.cost - plan.plan.bound).coins) /
                                 static_cast<double>(plan.plan.cost.coins)
                           : 0.0;
  return fmt::format("within {:.1f} % of the least length of stock possible", share);
}

std::string proof_text(const Job& job, const SheetStockPlan& plan) {
  if (plan.plan.is_proved)
    return plan.has_prices ? "cheapest possible, proved" : "least area of stock possible, proved";
  const Money over = plan.plan.cost - plan.plan.bound;
  if (plan.has_prices)
    return fmt::format("within {} of the cheapest possible", written(over, job.currency));
  const auto cost = static_cast<double>(std::max<std::int64_t>(plan.plan.cost.coins, 1));
  return fmt::format("within {:.1f} % of the least area of stock possible",
                     100.0 * static_cast<double>(over.coins) / cost);
}

std::string setups_text(const Aims& aims) {
  const std::string made =
      fmt::format("{} ({}, {})", aims.setups(), times(aims.layouts, "layout", "layouts"),
                  times(aims.stops, "stop", "stops"));
  if (aims.setups() == aims.setups_at_least())
    return fmt::format("fewest set-ups for this money: {}, proved", made);
  return fmt::format("set-ups: {}, at least {}", made, aims.setups_at_least());
}

std::vector<std::string> alternatives_of(const Job& job, const StockPlan& plan) {
  std::vector<std::string> lines;
  if (!plan.plan.aims) return lines;
  for (const Alternative& other : plan.plan.alternatives) {
    const int saved = plan.plan.aims->setups() - other.aims.setups();
    const Money more = other.cost - plan.plan.cost;
    std::string price =
        more.coins == 0 ? "leave less in offcuts"
        : plan.problem.has_prices
            ? fmt::format("spend {} more", written(more, job.currency))
            : fmt::format("use {} more of stock",
                          format_length(Length::mm(static_cast<double>(more.coins)),
                                        {.unit = job.unit, .finest = 1, .decimals = 0}));
    lines.push_back(fmt::format("{} and save {}", price, times(saved, "set-up", "set-ups")));
  }
  return lines;
}

Table buying_table(const Job& job, const Sawing& sawing, const LengthStyle& style) {
  Table table{
      .heads = {"stock", "sold as", "wood", "length", "count", "board feet", "each", "together"},
      .aligns = {Align::left, Align::left, Align::left, Align::right, Align::right, Align::right,
                 Align::right, Align::right}};
  for (const BuyLine& line : buying_list_of(job, sawing)) {
    const std::string on_hand = line.label.empty() ? "on hand" : "on hand: " + line.label;
    const std::string no_price = line.is_on_hand ? "on hand" : "not priced";
    table.rows.push_back({line.stock, line.is_on_hand ? on_hand : line.sold_as, line.species,
                          line.width > Length()
                              ? as_text(line.length, style) + " x " + as_text(line.width, style)
                              : as_text(line.length, style),
                          fmt::format("{}", line.count),
                          line.board_feet > 0 ? fmt::format("{:.2f}", line.board_feet) : "",
                          line.each ? written(*line.each, job.currency) : no_price,
                          line.each ? written(*line.each * line.count, job.currency) : ""});
  }
  return table;
}

Table hardware_table(const Job& job, const LengthStyle& style) {
  Table table{.heads = {"hardware", "count", "in place of"}, .aligns = {Align::left, Align::right}};
  for (const Hardware& h : hardware_of(job)) {
    const std::string sold = hardware_sold(built_in_catalogue(), h.name, style.unit);
    const bool is_as_said = sold.starts_with(h.name);
    table.rows.push_back({sold, fmt::format("{}", h.count), is_as_said ? "" : h.name});
  }
  return without_empty_columns(std::move(table), 2);
}

Table pieces_table(const Job& job) {
  Table table{.heads = {"", "piece", "count"}, .aligns = {Align::right, Align::left, Align::right}};
  for (std::size_t p = 0; p < job.pieces.size(); ++p) {
    table.rows.push_back({fmt::format("{}", p + 1), job.pieces[p].piece->title,
                          fmt::format("{}", job.pieces[p].count)});
  }
  return table;
}

Table parts_table(const Job& job, const LengthStyle& style) {
  Table table{.heads = {"part", "piece", "name", "count", "thick", "wide", "long", "from"},
              .aligns = {Align::left, Align::left, Align::left, Align::right, Align::right,
                         Align::right, Align::right, Align::left}};
  for (std::size_t p = 0; p < job.pieces.size(); ++p) {
    const JobPiece& piece = job.pieces[p];
    for (std::size_t i = 0; i < piece.cut_list->parts.size(); ++i) {
      const Part& part = piece.cut_list->parts[i];
      const auto figure = [&](int index) {
        return as_text(part.figures[static_cast<std::size_t>(index)].printed, style);
      };
      table.rows.push_back(
          {label_of(job, {static_cast<int>(p), static_cast<int>(i)}), piece.piece->title, part.name,
           fmt::format("{}", part.members.size() * static_cast<std::size_t>(piece.count)),
           figure(part.thickness), figure(part.width), figure(part.length),
           piece.piece->stocks[static_cast<std::size_t>(part.stock)].sold_as});
    }
  }
  return table;
}

Table sticks_table(const Job& job, const Sawing& sawing, const LengthStyle& style) {
  Table table{.heads = {"stock", "stick", "from", "stick length", "part", "starts at", "length",
                        "left end", "right end", "offcut"},
              .aligns = {Align::left, Align::right, Align::left, Align::right, Align::left,
                         Align::right, Align::right, Align::right, Align::right, Align::right}};
  for (const StockPlan& plan : sawing.plans) add_stick_rows(table, job, plan, style);
  return table;
}

Table sequence_table(const Job& job, const StockPlan& plan, const LengthStyle& style) {
  Table table{
      .heads = {"stop", "set to", "ends", "part", "count", "from sticks", "at once", "note"},
      .aligns = {Align::left, Align::right, Align::left, Align::left, Align::right, Align::left,
                 Align::right, Align::left}};
  for (std::size_t s = 0; s < plan.sequence.settings.size(); ++s) {
    const StopSetting& setting = plan.sequence.settings[s];
    const std::string ends =
        setting.near_slope == 0 && setting.far_slope == 0
            ? "square"
            : angle_of(setting.near_slope) + ", " + angle_of(setting.far_slope);
    bool is_first = true;
    for (const auto& [label, c] : coming_off(job, plan, setting)) {
      const int at_once = std::min(plan.at_once, static_cast<int>(c.sticks.size()));
      table.rows.push_back(
          {is_first ? stop_name(s) : "",
           is_first ? as_text(round_to(setting.over_all, job.rule), style) : "",
           is_first ? ends : "", label, fmt::format("{}", c.count), numbers_of(c.sticks),
           at_once > 1 ? fmt::format("{}", at_once) : "",
           c.hard > 0 ? "too short to hold: clamp it, or saw it off a longer board" : ""});
      is_first = false;
    }
  }
  return table;
}

Table cuts_table(const Job& job, const SheetStockPlan& plan, const LengthStyle& style) {
  Table table{.heads = {"sheet", "times", "cut", "way", "fence at", "gives", "and beyond it"},
              .aligns = {Align::right, Align::right, Align::right, Align::left, Align::right,
                         Align::left, Align::left}};
  for (const std::vector<int>& group : groups_of(plan.plan.sheets)) {
    const SawnSheet& sheet = plan.plan.sheets[static_cast<std::size_t>(group.front())];
    int number = 0;
    for (const int index : cuts_of(sheet)) {
      const SheetPiece& piece = sheet.pieces[static_cast<std::size_t>(index)];
      table.rows.push_back({number == 0 ? fmt::format("{}", group.front() + 1) : "",
                            number == 0 ? fmt::format("{}", group.size()) : "",
                            fmt::format("{}", number + 1),
                            piece.way == SheetCut::rip ? "along" : "across",
                            as_text(round_to(piece.at, job.rule), style),
                            piece_text(job, plan, sheet, piece.below, style),
                            piece_text(job, plan, sheet, piece.beyond, style)});
      ++number;
    }
  }
  return table;
}

}  // namespace kw
