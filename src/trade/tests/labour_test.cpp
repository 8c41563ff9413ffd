#include "kerfwright/trade/labour.h"

#include <cmath>
#include <gtest/gtest.h>
#include <numbers>

#include "draw_events.h"

namespace kw::trade {
namespace {

using Values = std::array<double, activities>;

double chance(Dice& dice) {
  return (static_cast<double>(dice.next() >> 11U) + 0.5) / 9007199254740992.0;
}
// Box and Muller.
double normal(Dice& dice) {
  return std::sqrt(-2 * std::log(chance(dice))) * std::cos(2 * std::numbers::pi * chance(dice));
}

double minutes_of(const Values& each, const Work& work) {
  double sum = 0;
  for (std::size_t a = 0; a < activities; ++a) sum += each[a] * work.amount[a];
  return sum;
}

Work some_work(Dice& dice) {
  return {{1.0, 1.0 * dice.from(2, 30), 1.0 * dice.from(2, 25), 1.0 * dice.from(10, 200),
           1.0 * dice.below(120), 1.0 * dice.below(150), 1.0 * dice.below(12),
           1.0 * dice.from(1, 20), dice.below(400) / 100.0, dice.below(800) / 100.0}};
}

// Entries whose minutes are `each` and an error of the variance noise x what the prior expects.
std::vector<TimeLogged> some_log(Dice& dice, int entries, const Values& each, double noise) {
  std::vector<TimeLogged> log;
  for (int i = 0; i < entries; ++i) {
    const Work work = some_work(dice);
    const double scale = std::max(1.0, minutes_of(common_labour().minutes, work));
    log.push_back({.work = work,
                   .minutes = std::max(
                       0.01, minutes_of(each, work) + std::sqrt(noise * scale) * normal(dice))});
  }
  return log;
}

TEST(Labour, KnowsCommonPracticeBeforeAnythingIsLogged) {
  const LabourModel model = learn({});
  for (std::size_t a = 0; a < activities; ++a) {
    EXPECT_NEAR(model.minutes[a], common_labour().minutes[a], 1e-9);
    EXPECT_NEAR(model.error[a], common_labour().minutes[a] * 0.6, common_labour().minutes[a] * 0.1);
  }
  EXPECT_EQ(model.entries, 0);
  const auto estimate = estimate_of(model, {{1, 10, 5, 40, 20, 40, 0, 6, 0, 0}});
  EXPECT_NEAR(estimate.value.minutes, 20 + 30 + 30 + 30 + 10 + 16 + 24, 1e-6);
  ASSERT_EQ(estimate.diagnostics.size(), 1u);
  EXPECT_EQ(estimate.diagnostics[0].code, "trade.never-logged");
}

TEST(Labour, RecoversKnownMinutesFromALog) {
  const Values truth = {35, 2, 9, 0.5, 1.0, 0.3, 15, 7, 25, 6};
  Dice dice{7};
  const LabourModel model = learn(some_log(dice, 4000, truth, 4));
  EXPECT_EQ(model.entries, 4000);
  EXPECT_NEAR(model.noise, 4, 0.4);
  for (std::size_t a = 0; a < activities; ++a) {
    EXPECT_NEAR(model.minutes[a], truth[a], 3.5 * model.error[a]) << a;
    EXPECT_LT(model.error[a], 0.1 * truth[a]) << a;
  }
}

TEST(Labour, ComesNearerWithEachTenfoldOfTheLog) {
  const Values truth = {35, 2, 9, 0.5, 1.0, 0.3, 15, 7, 25, 6};
  double before = 1e9;
  for (const int entries : {0, 10, 100, 1000}) {
    double squares = 0;
    for (std::uint64_t seed = 0; seed < 8; ++seed) {
      Dice dice{seed};
      const LabourModel model = learn(some_log(dice, entries, truth, 4));
      const Work work = some_work(dice);
      const double miss = estimate_of(model, work).value.minutes - minutes_of(truth, work);
      squares += miss * miss;
    }
    EXPECT_LT(squares, before * 0.6) << entries;
    before = squares;
  }
}

// The band holds the chance that it states: exactly, where the truth is drawn from the prior.
TEST(Labour, TheBandCoversAsOftenAsItSays) {
  LabourPrior prior = common_labour();
  prior.spread = 0.2;
  for (const double stated : {0.5, 0.9}) {
    Dice dice{11};
    int covered = 0;
    constexpr int trials = 700;
    for (int trial = 0; trial < trials; ++trial) {
      double gamma = 0;  // of whole shape: a sum of exponentials
      for (int k = 0; k < 1 + static_cast<int>(prior.noise_shape); ++k)
        gamma -= std::log(chance(dice));
      const double noise = prior.noise * prior.noise_shape / gamma;
      Values truth = prior.minutes;
      for (double& minutes : truth)
        minutes *= 1 + prior.spread * std::sqrt(noise / prior.noise) * normal(dice);
      const LabourModel model = learn(some_log(dice, dice.below(25), truth, noise), prior);
      const Work work = some_work(dice);
      const double scale = minutes_of(prior.minutes, work);
      const double took = minutes_of(truth, work) + std::sqrt(noise * scale) * normal(dice);
      const Estimate band = estimate_of(model, work, stated).value;
      if (took >= band.least && took <= band.most) ++covered;
    }
    const double error = std::sqrt(stated * (1 - stated) / trials);
    EXPECT_NEAR(covered / double{trials}, stated, 3.5 * error);
  }
}

// The sums of the textbook, written out: solves by elimination, shares nothing with the module.
struct ByHand {
  double matrix[activities][activities] = {};
  Values right = {}, minutes = {};
  double squares = 0, shape = 0, rate = 0;
};

Values eliminated(const ByHand& sums, Values right) {
  double m[activities][activities];
  std::copy(&sums.matrix[0][0], &sums.matrix[0][0] + activities * activities, &m[0][0]);
  for (std::size_t i = 0; i < activities; ++i) {
    for (std::size_t k = i + 1; k < activities; ++k) {
      const double factor = m[k][i] / m[i][i];
      for (std::size_t c = i; c < activities; ++c) m[k][c] -= factor * m[i][c];
      right[k] -= factor * right[i];
    }
  }
  for (std::size_t i = activities; i-- > 0;) {
    for (std::size_t c = i + 1; c < activities; ++c) right[i] -= m[i][c] * right[c];
    right[i] /= m[i][i];
  }
  return right;
}

ByHand by_hand(const std::vector<TimeLogged>& log) {
  const LabourPrior& prior = common_labour();
  ByHand sums;
  for (std::size_t a = 0; a < activities; ++a) {
    sums.matrix[a][a] = prior.noise / std::pow(prior.spread * prior.minutes[a], 2);
    sums.right[a] = sums.matrix[a][a] * prior.minutes[a];
    sums.squares += sums.right[a] * prior.minutes[a];
  }
  for (const TimeLogged& entry : log) {
    const double scale = std::max(1.0, minutes_of(prior.minutes, entry.work));
    for (std::size_t i = 0; i < activities; ++i) {
      for (std::size_t k = 0; k < activities; ++k)
        sums.matrix[i][k] += entry.work.amount[i] * entry.work.amount[k] / scale;
      sums.right[i] += entry.work.amount[i] * entry.minutes / scale;
    }
    sums.squares += entry.minutes * entry.minutes / scale;
  }
  sums.minutes = eliminated(sums, sums.right);
  double explained = 0;
  for (std::size_t a = 0; a < activities; ++a) explained += sums.minutes[a] * sums.right[a];
  sums.shape = 1 + prior.noise_shape + static_cast<double>(log.size()) / 2;
  sums.rate = prior.noise * prior.noise_shape + (sums.squares - explained) / 2;
  return sums;
}

TEST(Labour, AgreesWithTheClosedFormWrittenOut) {
  Dice dice{3};
  const auto log = some_log(dice, 15, {35, 2, 9, 0.5, 1.0, 0.3, 15, 7, 25, 6}, 4);
  const ByHand sums = by_hand(log);
  const LabourModel model = learn(log);
  for (std::size_t a = 0; a < activities; ++a)
    ASSERT_NEAR(model.minutes[a], sums.minutes[a], 1e-8 * (1 + sums.minutes[a])) << a;
  EXPECT_NEAR(model.freedom, 2 * sums.shape, 1e-12);
  EXPECT_NEAR(model.noise, sums.rate / sums.shape, 1e-8);
  const Work work = some_work(dice);
  const Values turned = eliminated(sums, work.amount);
  const double scale = minutes_of(common_labour().minutes, work);
  const double error = std::sqrt(sums.rate / sums.shape * (scale + minutes_of(turned, work)));
  const Estimate band = estimate_of(model, work, 0.9).value;
  EXPECT_NEAR((band.most - band.minutes) / error, student_quantile(0.95, 2 * sums.shape), 1e-8);
}

// Holding at zero finds the nearest point: the conditions of Karush, Kuhn and Tucker.
TEST(Labour, MinutesAreNeverBelowZeroAndAsNearAsCanBe) {
  int held = 0;
  for (std::uint64_t seed = 0; seed < 60; ++seed) {
    Dice dice{seed};
    const Values truth = {0, 0, 12, 0.1, 0, 2, 0, 0, 30, 0};
    const auto log = some_log(dice, 30, truth, 9);
    const ByHand sums = by_hand(log);
    const LabourModel model = learn(log);
    for (std::size_t i = 0; i < activities; ++i) {
      double pull = 0, size = 0;
      for (std::size_t k = 0; k < activities; ++k) {
        pull += sums.matrix[i][k] * (model.minutes[k] - sums.minutes[k]);
        size += std::abs(sums.matrix[i][k] * sums.minutes[k]);
      }
      ASSERT_GE(model.minutes[i], 0);
      ASSERT_EQ(model.is_held[i], sums.minutes[i] < 0);
      if (model.minutes[i] > 0) {
        ASSERT_NEAR(pull, 0, 1e-6 * size) << seed << " " << i;
      } else {
        ++held;
        ASSERT_GE(pull, -1e-6 * size) << seed << " " << i;
      }
    }
  }
  EXPECT_GT(held, 60);
}

TEST(Labour, SaysWhenAJobGoesBeyondTheLog) {
  Dice dice{5};
  auto log = some_log(dice, 30, common_labour().minutes, 4);
  for (TimeLogged& entry : log) entry.work.of(Activity::coat) = 0;
  const LabourModel model = learn(log);
  const auto codes = [&](const Work& work) {
    std::string all;
    for (const Diagnostic& d : estimate_of(model, work).diagnostics)
      all += std::string(d.code) + " ";
    return all;
  };
  for (const TimeLogged& entry : log) EXPECT_EQ(codes(entry.work), "");
  Work work = log[0].work;
  work.of(Activity::cut) = 900;
  EXPECT_EQ(codes(work), "trade.beyond-log ");
  work = log[0].work;
  work.of(Activity::coat) = 1;
  EXPECT_EQ(codes(work), "trade.never-logged ");
  // Each within what was seen, but never such a mixture: many set-ups for few cuts and nothing
  // else.
  const auto mixed = estimate_of(model, {{1, 2, model.most_seen[2], 0, 0, 0, 11, 0, 0, 0}});
  ASSERT_EQ(mixed.diagnostics.size(), 1u);
  EXPECT_NE(mixed.diagnostics[0].message.find("a mixture that is unlike"), std::string::npos);
}

TEST(Labour, LeavesOutEntriesThatTellNothing) {
  EXPECT_EQ(learn({{.minutes = 30}, {.work = {{1}}}}).entries, 0);
}

// Fisher and Yates, "Statistical Tables"; any printed table of Student's t has these.
TEST(StudentQuantile, IsThatOfTheTables) {
  EXPECT_NEAR(student_quantile(0.975, 1), 12.706, 5e-4);
  EXPECT_NEAR(student_quantile(0.975, 10), 2.228, 5e-4);
  EXPECT_NEAR(student_quantile(0.95, 5), 2.015, 5e-4);
  EXPECT_NEAR(student_quantile(0.995, 30), 2.750, 5e-4);
  EXPECT_NEAR(student_quantile(0.95, 1e6), 1.6449, 5e-4);
  EXPECT_NEAR(student_quantile(0.75, 1), 1, 1e-9);  // Cauchy's
  EXPECT_NEAR(student_quantile(0.75, 2), std::sqrt(2.0 / 3), 1e-9);
  EXPECT_NEAR(student_quantile(0.25, 2), -std::sqrt(2.0 / 3), 1e-9);
}

}  // namespace
}  // namespace kw::trade
