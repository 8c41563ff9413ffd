#include <algorithm>
#include <fmt/format.h>

#include "kerfwright/cutting/sheets.h"
#include "kerfwright/measure/text.h"

namespace kw {
namespace {

constexpr Length longest = Length::ticks(1'000'000 * Length::ticks_per_mm);   // 1 km
constexpr Length widest_kerf = Length::ticks(10'000 * Length::ticks_per_mm);  // 10 m
constexpr std::int64_t dearest = 1'000'000'000, worthiest = 1'000'000'000'000;
constexpr std::int64_t most_parts = 10'000;
constexpr std::size_t most_part_kinds = 1'000, most_sheet_kinds = 100;

class SheetValidation {
 public:
  explicit SheetValidation(const SheetProblem& problem) : problem_(problem) {}

  Diagnostics run() {
    check_amounts();
    if (!faults_.empty()) return std::move(faults_);  // too many to name each one's faults
    check_range("the saw's kerf", problem_.kerf, Length(), widest_kerf);
    const SheetTrim& t = problem_.trim;
    for (const Length trim : {t.left, t.right, t.lower, t.upper})
      check_range("the trim of an edge", trim, Length(), longest);
    for (const SheetPart& p : problem_.parts) check(p);
    for (const SheetStock& s : problem_.sheets) check(s);
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
    for (const SheetPart& p : problem_.parts) parts += std::max(p.count, 0);
    if (parts > most_parts && problem_.aim == SheetAim::least_money) {
      fault("cutting.too-many", fmt::format("{} parts are more than {}", parts, most_parts),
            "plan fewer pieces at a time");
    }
    const auto check_kinds = [&](std::size_t kinds, std::size_t most, std::string_view what) {
      if (kinds <= most) return;
      fault("cutting.too-many", fmt::format("{} kinds of {} are more than {}", kinds, what, most),
            "put equal ones together, or plan fewer at a time");
    };
    check_kinds(problem_.parts.size(), most_part_kinds, "part");
    check_kinds(problem_.sheets.size(), most_sheet_kinds, "sheet");
  }

  void check_range(const std::string& what, Length is, Length from, Length to) {
    if (is >= from && is <= to) return;
    fault("cutting.bad-number", fmt::format("{} is {}", what, shown(is)),
          fmt::format("it has to be {} to {}", from == Length() ? "0" : "more than 0", shown(to)));
  }

  void check_number(const std::string& what, std::int64_t is, std::int64_t to) {
    if (is >= 0 && is <= to) return;
    fault("cutting.bad-number", fmt::format("{} is {}", what, is),
          fmt::format("it has to be 0 to {}", to));
  }

  void check(const SheetPart& p) {
    check_range(fmt::format("part `{}`: its length", p.name), p.length, Length::ticks(1), longest);
    check_range(fmt::format("part `{}`: its width", p.name), p.width, Length::ticks(1), longest);
    check_number(fmt::format("part `{}`: its count", p.name), p.count, 1'000'000);
    check_number(fmt::format("part `{}`: its worth", p.name), p.worth, worthiest);
  }

  void check(const SheetStock& s) {
    check_range(fmt::format("sheet `{}`: its length", s.name), s.length, Length::ticks(1), longest);
    check_range(fmt::format("sheet `{}`: its width", s.name), s.width, Length::ticks(1), longest);
    check_number(fmt::format("sheet `{}`: its price in coins", s.name), s.price.coins, dearest);
    check_number(fmt::format("sheet `{}`: its count", s.name), s.count.value_or(0), 1'000'000);
  }

  void check_fit() {
    const auto is_there = [](const SheetStock& s) { return s.count.value_or(1) > 0; };
    const auto& sheets = problem_.sheets;
    const bool has_parts = std::any_of(problem_.parts.begin(), problem_.parts.end(),
                                       [](const SheetPart& p) { return p.count > 0; });
    if (has_parts && std::none_of(sheets.begin(), sheets.end(), is_there)) {
      fault("cutting.no-stock", "there is no sheet to make the parts of",
            "name a sheet, and its count if it is limited");
      return;
    }
    if (problem_.aim == SheetAim::most_worth) return;
    for (const SheetPart& p : problem_.parts) {
      const auto holds = [&](const SheetStock& s) {
        return is_there(s) &&
               (fits(p.length, p.width, s) || (p.may_turn && fits(p.width, p.length, s)));
      };
      if (p.count == 0 || std::any_of(sheets.begin(), sheets.end(), holds)) continue;
      fault("cutting.too-large",
            fmt::format("part `{}`, {} by {}, fits on no trimmed sheet", p.name, shown(p.length),
                        shown(p.width)),
            p.may_turn ? "get larger sheets, trim less, or join the part from two"
                       : "get larger sheets, trim less, or let the part lie across the grain");
    }
  }

  [[nodiscard]] bool fits(Length along, Length across, const SheetStock& s) const {
    const SheetTrim& t = problem_.trim;
    return along <= s.length - t.left - t.right && across <= s.width - t.lower - t.upper;
  }

  const SheetProblem& problem_;
  Diagnostics faults_ = {};
};

}  // namespace

Diagnostics validate_sheets(const SheetProblem& problem) {
  return SheetValidation(problem).run();
}

}  // namespace kw
