#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "kerfwright/cutting/problem.h"
#include "kerfwright/measure/text.h"

#include "zones.h"

namespace kw {
namespace {

// Bounds on what is taken on, so that every sum fits and the work stays bounded.
constexpr Length longest = Length::ticks(1'000'000 * Length::ticks_per_mm);  // 1 km
constexpr Length widest = Length::ticks(10'000 * Length::ticks_per_mm);      // 10 m, and any kerf
constexpr double steepest = 10;  // tangent: 84 degrees from square
constexpr std::int64_t dearest = 1'000'000'000;
constexpr std::int64_t most_parts = 100'000;
constexpr std::size_t most_kinds = 1'000;
constexpr std::size_t most_faults = 100;

class Validation {
 public:
  explicit Validation(const Problem& problem) : problem_(problem) {}

  Diagnostics run() {
    check_amounts();
    if (!faults_.empty()) return std::move(faults_);  // too many to name each one's faults
    check_frame();
    for (const Demand& d : problem_.demands) check(d);
    for (const Stock& s : problem_.stocks) check(s);
    if (faults_.empty()) check_fit();
    return std::move(faults_);
  }

 private:
  void fault(std::string_view code, std::string message, std::string hint) {
    faults_.push_back({.code = code, .message = std::move(message), .hint = std::move(hint)});
  }

  [[nodiscard]] std::string shown(Length l) const {
    return format_length(l, {.unit = problem_.unit});
  }

  void check_amounts() {
    std::int64_t parts = 0;
    for (const Demand& d : problem_.demands) parts += std::max(d.count, 0);
    if (parts > most_parts) {
      fault("cutting.too-many", fmt::format("{} parts are more than {}", parts, most_parts),
            "plan fewer pieces at a time");
    }
    const auto check_kinds = [&](std::size_t kinds, std::string_view what) {
      if (kinds <= most_kinds) return;
      fault("cutting.too-many",
            fmt::format("{} kinds of {} are more than {}", kinds, what, most_kinds),
            "put equal ones together, or plan fewer at a time");
    };
    check_kinds(problem_.demands.size(), "part");
    check_kinds(problem_.stocks.size(), "stock");
    for (const Stock& s : problem_.stocks) {
      if (s.faults.size() <= most_faults) continue;
      fault("cutting.too-many",
            fmt::format("stock `{}`: {} faults are more than {}", s.name, s.faults.size(),
                        most_faults),
            "put faults that lie close together into one");
    }
  }

  void check_range(const std::string& whose, std::string_view what, Length is, Length from,
                   Length to) {
    if (is >= from && is <= to) return;
    fault("cutting.bad-number", fmt::format("{} {} is {}", whose, what, shown(is)),
          fmt::format("it has to be {} to {}", from == Length() ? "0" : "more than 0", shown(to)));
  }

  void check_frame() {
    check_range("the saw's", "kerf", problem_.saw.kerf, Length(), widest);
    check_range("the saw's", "end trim", problem_.saw.end_trim, Length(), longest);
    check_range("the stock's", "width", problem_.width, Length(), widest);
    check_range("the", "shortest offcut worth keeping", problem_.shortest_offcut, Length(),
                longest);
  }

  void check(const Demand& d) {
    const std::string whose = fmt::format("part `{}`: its", d.name);
    check_range(whose, "length", d.length, Length::ticks(1), longest);
    if (d.count < 0) {
      fault("cutting.bad-number", fmt::format("{} count is {}", whose, d.count),
            "it has to be 0 or more");
    }
    for (const double slope : {d.left_slope, d.right_slope}) {
      if (std::abs(slope) <= steepest) continue;  // and not for not-a-number
      fault("cutting.bad-number", fmt::format("{} end has a slope of {}", whose, slope),
            fmt::format("a slope has to be {} to {}", -steepest, steepest));
      return;
    }
    const double lean = half_width() * std::abs(d.right_slope - d.left_slope);
    if (d.length > Length() && lean > static_cast<double>(d.length.in_ticks()) + 1) {
      fault("cutting.bad-number", fmt::format("{} ends cross within the stick's width", whose),
            "make it longer, its ends less steep, or the stock narrower");
    }
  }

  void check(const Stock& s) {
    const std::string whose = fmt::format("stock `{}`: its", s.name);
    check_range(whose, "length", s.length, Length::ticks(1), longest);
    if (s.price.coins < 0 || s.price.coins > dearest) {
      fault("cutting.bad-number", fmt::format("{} price is {} coins", whose, s.price.coins),
            fmt::format("it has to be 0 to {}", dearest));
    }
    if (s.count && *s.count < 0) {
      fault("cutting.bad-number", fmt::format("{} count is {}", whose, *s.count),
            "it has to be 0 or more");
    }
    for (const FaultyZone& zone : s.faults) {
      check_range(fmt::format("stock `{}`: a fault's", s.name), "place", zone.from, Length(),
                  s.length);
      check_range(fmt::format("stock `{}`: a fault's", s.name), "length", zone.length,
                  Length::ticks(1), std::max(s.length - zone.from, Length::ticks(1)));
    }
  }

  // The longest clear part of a stick's usable length.
  [[nodiscard]] Length longest_clear(const Stock& s) const {
    const std::int64_t trim = problem_.saw.end_trim.in_ticks();
    const auto zones = cutting::zones_of(s, trim, cutting::widest_cut(problem_));
    std::int64_t most = 0;
    for (const cutting::Stretch& clear :
         cutting::clear_between(zones, s.length.in_ticks() - 2 * trim))
      most = std::max(most, clear.length());
    return Length::ticks(most);
  }

  // The longest clear stretch of any stick against each part alone. Neither turning nor flipping
  // changes what a part takes between two square ends.
  void check_fit() {
    Length usable;
    bool has_stock = false, has_parts = false;
    for (const Stock& s : problem_.stocks) {
      if (s.count && *s.count == 0) continue;
      usable = std::max(usable, longest_clear(s));
      has_stock = true;
    }
    for (const Demand& d : problem_.demands) has_parts = has_parts || d.count > 0;
    if (has_parts && !has_stock) {
      fault("cutting.no-stock", "there is no stock to make the parts of",
            "name a stock, and its count if it is limited");
      return;
    }
    for (const Demand& d : problem_.demands) {
      const Length taken = d.length + reach(d.left_slope) + reach(d.right_slope);
      if (d.count == 0 || taken <= usable) continue;
      fault("cutting.too-long",
            fmt::format("part `{}` takes {}, but the longest clear stock gives {}", d.name,
                        shown(taken), shown(usable)),
            "get longer stock, trim less, or join the part from two");
    }
  }

  [[nodiscard]] double half_width() const {
    return static_cast<double>(problem_.width.in_ticks()) / 2;
  }

  // How far an end's tip stands out from the middle line, rounded up; the factor covers the
  // rounding of the product.
  [[nodiscard]] Length reach(double slope) const {
    const double exact = half_width() * std::abs(slope);
    return Length::ticks(static_cast<std::int64_t>(std::ceil(exact * (1 + 0x1p-40))));
  }

  const Problem& problem_;
  Diagnostics faults_ = {};
};

}  // namespace

Diagnostics validate(const Problem& problem) {
  return Validation(problem).run();
}

}  // namespace kw
