#include "climate.h"

#include <algorithm>
#include <fmt/format.h>

namespace kw::resolving {
namespace {

struct Range {
  std::string_view what = {};
  double least = 0, most = 0;
};

constexpr Range percent = {"percentage", 0, 100},
                celsius = {"temperature in degrees Celsius", -60, 80},
                fahrenheit = {"temperature in degrees Fahrenheit", -76, 176};

std::optional<double> within(Work& work, const Formula& formula, const Range& range) {
  const auto number = work.values.number(formula, 0);
  if (!number || (*number >= range.least && *number <= range.most)) return number;
  work.faults.report({.code = "piece.out-of-range",
                      .at = formula.at,
                      .message = fmt::format("a {} is from {} to {}; this is {:.6g}", range.what,
                                             range.least, range.most, *number),
                      .hint = "write it as a plain number"});
  return std::nullopt;
}

std::optional<std::array<double, 2>> pair_within(Work& work, const std::optional<Formula2>& pair,
                                                 const Range& range) {
  if (!pair) return std::nullopt;
  const auto dry = within(work, (*pair)[0], range), damp = within(work, (*pair)[1], range);
  if (!dry || !damp) return std::nullopt;
  return std::array{*dry, *damp};
}

void add_named(Work& work, const Name& name, Resolved& into) {
  static const std::vector<std::string> known = {"indoors", "heated", "outdoors", "damp"};
  if (name.text.empty()) return;
  if (std::find(known.begin(), known.end(), name.text) != known.end()) {
    into.climate.named = name.text;
    return;
  }
  work.faults.report({.code = "piece.unknown-word",
                      .at = name.at,
                      .message = fmt::format("no climate is called `{}`", name.text),
                      .hint = hint_for(name.text, known, "climates")});
}

}  // namespace

void add_climate(Work& work, Resolved& into) {
  const auto& decl = work.given.document.climate;
  if (!decl) return;
  if (decl->named) add_named(work, *decl->named, into);
  into.climate.humidity = pair_within(work, decl->humidity, percent);
  into.climate.celsius = pair_within(work, decl->celsius, celsius);
  if (const auto warm = pair_within(work, decl->fahrenheit, fahrenheit); warm && !decl->celsius)
    into.climate.celsius = {((*warm)[0] - 32) / 1.8, ((*warm)[1] - 32) / 1.8};
  if (decl->moisture) into.climate.moisture = within(work, *decl->moisture, percent);
  if (decl->celsius && decl->fahrenheit)
    work.faults.report({.code = "piece.not-together",
                        .at = (*decl->fahrenheit)[0].at,
                        .message = "[climate] says its temperature twice, in `celsius` and in "
                                   "`fahrenheit`",
                        .hint = "keep one of them"});
}

}  // namespace kw::resolving
