// How long work takes: minutes = sum over activities of (minutes of one) x (how many), begun from
// common practice and learned from the time log.
//
// Bayesian linear regression with the conjugate normal-inverse-gamma prior, which is ridge
// regression drawn towards the prior minutes instead of zero (A. Hoerl and R. Kennard, "Ridge
// Regression: Biased Estimation for Nonorthogonal Problems", Technometrics 12, 1970; A. Gelman et
// al., "Bayesian Data Analysis", chapter 14). docs/trade.md has the formulas. The variance of an
// entry grows with its length, as that of many small delays does.
#pragma once

#include <array>
#include <vector>

#include "kerfwright/diag/outcome.h"
#include "kerfwright/trade/books.h"

namespace kw::trade {

struct LabourPrior {
  std::array<double, activities> minutes = {};  // of one
  double spread = 0.6;                          // standard error of each of them, as a share of it
  double noise = 4;                             // minutes^2 of variance for each minute of work
  double noise_shape = 3;  // how firmly that is believed: as firmly as 6 entries say it
};

// Minutes of one job, board, set-up, cut, hole, screw, glue-up, step, square metre sanded and
// coated: 20, 3, 6, 0.75, 0.5, 0.4, 8, 4, 15, 10. Common practice, no published source.
[[nodiscard]] const LabourPrior& common_labour();

struct LabourModel {
  std::array<double, activities> minutes = {};    // of one, never below zero
  std::array<double, activities> error = {};      // standard error
  std::array<bool, activities> is_held = {};      // the log alone would say less than zero
  std::array<double, activities> most_seen = {};  // in one entry of the log
  int entries = 0;                                // learned from
  double noise = 0;                               // of LabourPrior, as learned
  double freedom = 0;                             // degrees of freedom of the band
  std::array<std::array<double, activities>, activities> doubt = {};  // (precision matrix)^-1
  double furthest = 0;  // the most doubtful entry of the log, by Estimate::reach
  LabourPrior prior = {};
};

// Entries without minutes or without work are left out.
[[nodiscard]] LabourModel learn(const std::vector<TimeLogged>& log,
                                const LabourPrior& prior = common_labour());

// From all the time that the books have.
[[nodiscard]] LabourModel learn_from(const Books& books);

struct Estimate {
  double minutes = 0;
  double least = 0, most = 0;  // within which it lies with the chance that was asked for
  double chance = 0;
};

// Student's t about the model's minutes; least is not below zero. Warnings: trade.beyond-log (more
// of something than any entry of the log has, or a mixture unlike all of them, which is told by
// x' (precision)^-1 x against the entries' own: Montgomery, Peck and Vining, "Introduction to
// Linear Regression Analysis", hidden extrapolation), and trade.never-logged (nothing is known of
// an activity but the prior).
[[nodiscard]] Reading<Estimate> estimate_of(const LabourModel& model, const Work& work,
                                            double chance = 0.9);

// Student's t: the value that is not passed with `chance`, 0 to 1; `freedom` above zero.
[[nodiscard]] double student_quantile(double chance, double freedom);

}  // namespace kw::trade
