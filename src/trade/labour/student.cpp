// Student's distribution by the regularised incomplete beta function.
#include <algorithm>
#include <cmath>

#include "kerfwright/trade/labour.h"

namespace kw::trade {
namespace {

// The continued fraction of I_x(a, b) (NIST Digital Library of Mathematical Functions, 8.17.22) by
// the method of Lentz.
double beta_fraction(double a, double b, double x) {
  constexpr double tiny = 1e-300;
  const auto safe = [](double value) { return std::abs(value) < tiny ? tiny : value; };
  double c = 1, d = 1 / safe(1 - (a + b) * x / (a + 1)), h = d;
  for (int m = 1; m < 500; ++m) {
    const double even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / safe(1 + even * d);
    c = safe(1 + even / c);
    h *= d * c;
    const double odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / safe(1 + odd * d);
    c = safe(1 + odd / c);
    h *= d * c;
    if (std::abs(d * c - 1) < 1e-15) break;
  }
  return h;
}

// I_x(a, b)
double incomplete_beta(double a, double b, double x) {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  const double front = std::exp(std::lgamma(a + b) - std::lgamma(a) - std::lgamma(b) +
                                a * std::log(x) + b * std::log1p(-x));
  if (x < (a + 1) / (a + b + 2)) return front * beta_fraction(a, b, x) / a;
  return 1 - front * beta_fraction(b, a, 1 - x) / b;
}

// The chance that t is passed; t >= 0.
double upper_tail(double t, double freedom) {
  return 0.5 * incomplete_beta(freedom / 2, 0.5, freedom / (freedom + t * t));
}

}  // namespace

double student_quantile(double chance, double freedom) {
  if (chance < 0.5) return -student_quantile(1 - chance, freedom);
  double low = 0, high = 1;
  while (upper_tail(high, freedom) > 1 - chance && high < 1e12) high *= 2;
  for (int i = 0; i < 200 && high - low > 1e-13 * high; ++i) {
    const double middle = (low + high) / 2;
    (upper_tail(middle, freedom) > 1 - chance ? low : high) = middle;
  }
  return (low + high) / 2;
}

}  // namespace kw::trade
