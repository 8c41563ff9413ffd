// When work is done, and on which day which set-up.
#include <algorithm>
#include <cmath>
#include <set>

#include "kerfwright/trade/batch.h"

namespace kw::trade {
namespace {

// Days of work from the first on, as far as they are asked for.
class Calendar {
 public:
  Calendar(const WorkWeek& week, Day from) : week_(week), day_(from) {
    minutes_ = minutes_on(week, from);
  }

  // The day on which so many minutes of work are reached; none by 2199: the last day.
  Day reached(double minutes) {
    while (done_ + minutes_ < minutes - 1e-9 && day_ < last_day) {
      done_ += minutes_;
      day_ = day_ + 1;
      minutes_ = minutes_on(week_, day_);
    }
    return day_;
  }
  // The day on which work goes on after so many minutes.
  Day goes_on(double minutes) {
    while (done_ + minutes_ <= minutes + 1e-9 && day_ < last_day) {
      done_ += minutes_;
      day_ = day_ + 1;
      minutes_ = minutes_on(week_, day_);
    }
    return day_;
  }

 private:
  const WorkWeek& week_;
  Day day_;
  double minutes_ = 0, done_ = 0;
};

bool has_hours(const WorkWeek& week) {
  return std::any_of(week.hours.begin(), week.hours.end(),
                     [](double hours) { return std::isfinite(hours) && hours > 0; });
}

void tell_once(const Diagnostics& found, Diagnostics& all) {
  for (const Diagnostic& d : found) {
    const bool is_told = std::any_of(all.begin(), all.end(), [&](const Diagnostic& other) {
      return other.code == d.code && other.message == d.message;
    });
    if (!is_told) all.push_back(d);
  }
}

double longest_day(const WorkWeek& week) {
  return std::clamp(*std::max_element(week.hours.begin(), week.hours.end()), 0.0, 24.0) * 60;
}

}  // namespace

double minutes_on(const WorkWeek& week, Day day) {
  if (std::find(week.off.begin(), week.off.end(), day) != week.off.end()) return 0;
  const double hours = week.hours[static_cast<std::size_t>(weekday_of(day)) - 1];
  return std::isfinite(hours) ? std::clamp(hours, 0.0, 24.0) * 60 : 0;
}

Reading<Schedule> schedule_of(std::vector<Load> loads, const LabourModel& model,
                              const WorkWeek& week, Day from, double chance) {
  Reading<Schedule> reading;
  Schedule& schedule = reading.value;
  const Diagnostic no_hours{.code = "trade.no-hours",
                            .message = "the week has no hours in which this could be done",
                            .hint = "say how many hours you work on which weekday"};
  if (!has_hours(week)) {
    reading.diagnostics.push_back(no_hours);
    return reading;
  }
  std::stable_sort(loads.begin(), loads.end(), [](const Load& a, const Load& b) {
    return a.due.value_or(last_day) < b.due.value_or(last_day);
  });
  Calendar begins(week, from), ends(week, from), promises(week, from);
  Work so_far;
  bool is_any_due = false;
  for (const Load& load : loads) {
    ScheduledLoad planned{.of = load.of, .due = load.due};
    planned.begins = begins.goes_on(schedule.minutes);
    so_far = so_far + load.work;
    const Estimate all = estimate_of(model, so_far, 2 * chance - 1).value;
    tell_once(estimate_of(model, load.work, chance).diagnostics, reading.diagnostics);
    schedule.minutes = all.minutes;
    planned.ends = std::max(planned.begins, ends.reached(all.minutes));
    planned.promise = std::max(planned.ends, promises.reached(all.most));
    if (load.due) {
      planned.days_late = planned.ends - *load.due;
      planned.is_risky = planned.promise > *load.due;
      schedule.most_late =
          is_any_due ? std::max(schedule.most_late, planned.days_late) : planned.days_late;
      is_any_due = true;
    }
    schedule.loads.push_back(planned);
  }
  if (!schedule.loads.empty() && schedule.loads.back().promise >= last_day)
    reading.diagnostics.push_back(no_hours);
  return reading;
}

double minutes_of(const LabourModel& model, const Setup& setup) {
  Work work;
  std::set<Length> stops;
  for (const SetupCut& cut : setup.cuts) {
    stops.insert(cut.stop);
    work.of(setup.machine == Machine::drill ? Activity::hole : Activity::cut) += cut.count;
  }
  work.of(Activity::set_up) = static_cast<double>(stops.size());
  return estimate_of(model, work).value.minutes;
}

std::vector<SawDay> saw_days_of(const std::vector<double>& minutes, const WorkWeek& week,
                                Day from) {
  std::vector<SawDay> days;
  if (!has_hours(week)) return days;
  const double longest = longest_day(week);
  Day day = from;
  for (std::size_t next = 0; next < minutes.size() && day <= last_day; day = day + 1) {
    const double room = minutes_on(week, day);
    if (room <= 0) continue;
    SawDay today{.day = day, .first = static_cast<int>(next)};
    today.is_too_long = minutes[next] > longest;
    while (next < minutes.size() && (today.minutes + minutes[next] <= room + 1e-9 ||
                                     (today.is_too_long && today.count == 0))) {
      today.minutes += minutes[next++];
      ++today.count;
      if (today.is_too_long) break;
    }
    if (today.count > 0) days.push_back(today);
  }
  return days;
}

}  // namespace kw::trade
