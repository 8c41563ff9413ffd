// Orders made in one go: what is alike among them, what each costs, when they are done, what to buy
// for them, and on which day to saw what.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "kerfwright/trade/books.h"
#include "kerfwright/trade/cost.h"

namespace kw::trade {

// Orders of one piece in the same sizes: worked out once, a piece of the Job made `count` times.
struct Variant {
  std::string piece = {};
  std::vector<std::pair<std::string, std::string>> sizes = {};
  int count = 0;
  std::vector<int> orders = {};
};
// In the order in which they first come. Errors: trade.no-such-order, trade.order-closed,
// trade.order-in-batch, trade.twice; such orders are left out.
[[nodiscard]] Reading<std::vector<Variant>> variants_of(const Books& books,
                                                        const std::vector<int>& orders);

// Minutes of each piece's own work, all of its count: its set-ups, cuts, holes and steps, without
// what boards and the job as a whole take.
[[nodiscard]] std::vector<double> own_minutes(const Job& job, const LabourModel& model,
                                              const std::vector<PieceShop>& shop);

// What one of each piece of the job costs, so that counts x these come to the whole but for less
// than a coin a piece: wood is shared out by the volume of the parts, all else by the minutes of
// the piece's own work.
[[nodiscard]] std::vector<Money> cost_by_piece(const CostAsked& asked, const Cost& cost,
                                               const LabourModel& model,
                                               const std::vector<PieceShop>& shop);

// One lot for each order of the variants, weighed by what one of them costs.
[[nodiscard]] std::vector<Lot> lots_of(const Books& books, const std::vector<Variant>& variants,
                                       const std::vector<Money>& cost_each);

// Parts done of those wanted, 0 to 1; 1 for a batch without parts.
[[nodiscard]] double share_done(const Batch& batch);

// ---- When

// Hours of work by weekday, Monday first, and days off.
struct WorkWeek {
  std::array<double, 7> hours = {};
  std::vector<Day> off = {};
};
[[nodiscard]] double minutes_on(const WorkWeek& week, Day day);

struct Load {
  int of = 0;  // the order or batch
  Work work = {};
  std::optional<Day> due = {};
};
struct ScheduledLoad {
  int of = 0;
  Day begins = {}, ends = {};  // expected
  Day promise = {};            // not passed with the chance that was asked for
  std::optional<Day> due = {};
  int days_late = 0;      // expected; less than zero: early
  bool is_risky = false;  // the promise lies behind the due date
};
struct Schedule {
  std::vector<ScheduledLoad> loads = {};  // in the order of work
  double minutes = 0;                     // of all
  int most_late = 0;                      // days; of those with a due date
};

// One after another from `from` on, the earliest due date first: on one pair of hands no order has
// a smaller greatest lateness (J. R. Jackson, "Scheduling a Production Line to Minimize Maximum
// Tardiness", University of California, Los Angeles, 1955). The promise of a load is reckoned on
// the estimate of all work up to its end, so that what errors have in common counts. Warnings:
// those of estimate_of for each load, each once. Error: trade.no-hours (the week has none, or too
// few to be done by 2199).
[[nodiscard]] Reading<Schedule> schedule_of(std::vector<Load> loads, const LabourModel& model,
                                            const WorkWeek& week, Day from, double chance = 0.9);

// ---- What to buy

// Of the batch's boards to buy, those that are not there yet: boards reserved for it that were not
// on the rack when it was planned count as bought.
[[nodiscard]] std::vector<BoardsToBuy> still_to_buy(const Books& books, int batch);
// For all batches that the schedule begins up to `until`, alike ones on one line.
[[nodiscard]] std::vector<BoardsToBuy> to_buy_until(const Books& books, const Schedule& batches,
                                                    Day until);

// ---- Days at the saw

// Minutes of a set-up: its stops and cuts.
[[nodiscard]] double minutes_of(const LabourModel& model, const Setup& setup);

struct SawDay {
  Day day = {};
  int first = 0, count = 0;  // of the set-ups
  double minutes = 0;
  bool is_too_long = false;  // one set-up that takes longer than any such day
};
// Set-ups in their order, none broken off: as many each day as its hours hold. Days that cannot
// hold the next one are left out; one that no weekday holds has a day of its own. No split of this
// order ends on an earlier day. Empty when the week has no hours.
[[nodiscard]] std::vector<SawDay> saw_days_of(const std::vector<double>& minutes,
                                              const WorkWeek& week, Day from);

}  // namespace kw::trade
