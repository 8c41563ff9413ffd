#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "kerfwright/trade/labour.h"

namespace kw::trade {
namespace {

constexpr int n = static_cast<int>(activities);
using Vector = Eigen::Matrix<double, n, 1>;
using Matrix = Eigen::Matrix<double, n, n>;

Vector vector_of(const std::array<double, activities>& values) {
  return Vector(values.data());
}

// What the prior expects of it: variances are in its proportion. At least a minute.
double scale_of(const LabourPrior& prior, const Work& work) {
  return std::max(1.0, vector_of(prior.minutes).dot(vector_of(work.amount)));
}

// min (t - free)' precision (t - free) over t >= 0, by the active sets of C. Lawson and R. Hanson,
// "Solving Least Squares Problems", 1974, chapter 23.
Vector nearest_above_zero(const Matrix& precision, const Vector& free) {
  if (free.minCoeff() >= 0) return free;
  const Vector target = precision * free;
  Vector best = Vector::Zero();
  std::array<bool, activities> is_free = {};
  const auto solve = [&] {
    Matrix system = Matrix::Identity();
    Vector right = Vector::Zero();
    for (int i = 0; i < n; ++i) {
      if (!is_free[static_cast<std::size_t>(i)]) continue;
      right[i] = target[i];
      for (int k = 0; k < n; ++k)
        system(i, k) = is_free[static_cast<std::size_t>(k)] ? precision(i, k) : 0;
    }
    return Vector(system.partialPivLu().solve(right));
  };
  for (int round = 0; round < 30 * n; ++round) {
    const Vector pull = target - precision * best;
    int next = -1;
    for (int i = 0; i < n; ++i) {
      if (!is_free[static_cast<std::size_t>(i)] && pull[i] > 1e-9 * std::abs(target[i]) &&
          (next < 0 || pull[i] > pull[next]))
        next = i;
    }
    if (next < 0) break;
    is_free[static_cast<std::size_t>(next)] = true;
    for (Vector wish = solve();; wish = solve()) {
      double step = 1;
      for (int i = 0; i < n; ++i) {
        if (is_free[static_cast<std::size_t>(i)] && wish[i] < 0)
          step = std::min(step, best[i] / (best[i] - wish[i]));
      }
      best += step * (wish - best);
      if (step == 1) break;
      for (int i = 0; i < n; ++i) {
        if (wish[i] < 0 && best[i] <= 1e-12) is_free[static_cast<std::size_t>(i)] = false;
      }
    }
  }
  return best.cwiseMax(0);
}

// Sums over the log, each entry by its own scale.
struct Normal {
  Matrix precision = Matrix::Zero();
  Vector right = Vector::Zero();
  double squares = 0;
  int entries = 0;
};

Normal prior_sums(const LabourPrior& prior) {
  Normal sums;
  const Vector expected = vector_of(prior.minutes);
  for (int i = 0; i < n; ++i) {
    const double error = prior.spread * std::max(expected[i], 1e-3);
    sums.precision(i, i) = prior.noise / (error * error);
  }
  sums.right = sums.precision * expected;
  sums.squares = expected.dot(sums.right);
  return sums;
}

bool tells_something(const TimeLogged& entry) {
  return entry.minutes > 0 && vector_of(entry.work.amount).sum() > 0;
}

double reach_of(const LabourModel& model, const Work& work) {
  const Vector x = vector_of(work.amount);
  double sum = 0;
  for (int i = 0; i < n; ++i)
    for (int k = 0; k < n; ++k)
      sum += x[i] * x[k] * model.doubt[static_cast<std::size_t>(i)][static_cast<std::size_t>(k)];
  return sum;
}

std::string amount_text(double amount) {
  return fmt::format("{:.4g}", amount);
}

}  // namespace

const LabourPrior& common_labour() {
  static const LabourPrior prior{.minutes = {20, 3, 6, 0.75, 0.5, 0.4, 8, 4, 15, 10}};
  return prior;
}

LabourModel learn(const std::vector<TimeLogged>& log, const LabourPrior& prior) {
  LabourModel model{.prior = prior};
  Normal sums = prior_sums(prior);
  for (const TimeLogged& entry : log) {
    if (!tells_something(entry)) continue;
    const double scale = scale_of(prior, entry.work);
    const Vector x = vector_of(entry.work.amount);
    sums.precision += x * x.transpose() / scale;
    sums.right += x * (entry.minutes / scale);
    sums.squares += entry.minutes * entry.minutes / scale;
    ++sums.entries;
    for (std::size_t a = 0; a < activities; ++a)
      model.most_seen[a] = std::max(model.most_seen[a], entry.work.amount[a]);
  }
  const Matrix doubt = sums.precision.ldlt().solve(Matrix::Identity());
  const Vector free = doubt * sums.right;
  const double left = std::max(0.0, sums.squares - free.dot(sums.right));
  const double shape = 1 + prior.noise_shape + sums.entries / 2.0;
  const double rate = prior.noise * prior.noise_shape + left / 2;
  model.entries = sums.entries;
  model.noise = rate / shape;
  model.freedom = 2 * shape;
  const Vector minutes = nearest_above_zero(sums.precision, free);
  for (int i = 0; i < n; ++i) {
    const auto a = static_cast<std::size_t>(i);
    model.minutes[a] = minutes[i];
    model.is_held[a] = free[i] < 0;
    model.error[a] = std::sqrt(model.noise * doubt(i, i));
    for (int k = 0; k < n; ++k) model.doubt[a][static_cast<std::size_t>(k)] = doubt(i, k);
  }
  for (const TimeLogged& entry : log) {
    if (tells_something(entry))
      model.furthest =
          std::max(model.furthest, reach_of(model, entry.work) / scale_of(prior, entry.work));
  }
  return model;
}

LabourModel learn_from(const Books& books) {
  std::vector<TimeLogged> log;
  for (const LoggedTime& time : books.times) log.push_back(time.logged);
  return learn(log);
}

Reading<Estimate> estimate_of(const LabourModel& model, const Work& work, double chance) {
  Reading<Estimate> reading;
  Estimate& estimate = reading.value;
  estimate.chance = std::clamp(chance, 0.01, 0.999);
  estimate.minutes = vector_of(model.minutes).dot(vector_of(work.amount));
  const double scale = scale_of(model.prior, work), reach = reach_of(model, work);
  const double half = student_quantile((1 + estimate.chance) / 2, model.freedom) *
                      std::sqrt(model.noise * (scale + reach));
  estimate.least = std::max(0.0, estimate.minutes - half);
  estimate.most = estimate.minutes + half;

  std::string never, beyond;
  for (std::size_t a = 0; a < activities; ++a) {
    const double amount = work.amount[a], most = model.most_seen[a];
    if (amount <= 0 || amount <= most) continue;
    const std::string_view name = name_of(static_cast<Activity>(a));
    const std::string_view comma = (most == 0 ? never : beyond).empty() ? "" : ", ";
    if (most == 0)
      never += fmt::format("{}{}", comma, name);
    else
      beyond += fmt::format("{}{} {} (the most so far: {})", comma, name, amount_text(amount),
                            amount_text(most));
  }
  if (!never.empty())
    reading.diagnostics.push_back(
        {.code = "trade.never-logged",
         .severity = Severity::warning,
         .message = fmt::format("no time was ever logged for: {}", never),
         .hint = "its minutes are common practice, not yours; log what it takes"});
  if (beyond.empty() && model.entries > 0 && reach / scale > model.furthest * (1 + 1e-9))
    beyond = "a mixture that is unlike every entry";
  if (!beyond.empty())
    reading.diagnostics.push_back(
        {.code = "trade.beyond-log",
         .severity = Severity::warning,
         .message = fmt::format("this lies beyond what the time log has seen: {}", beyond),
         .hint = "the estimate goes further than your experience; make a few and log them first"});
  return reading;
}

}  // namespace kw::trade
