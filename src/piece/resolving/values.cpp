#include "values.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace kw::resolving {
namespace {

// Enough for most_boards boards and everything said of them; some seconds of work at the very
// worst.
constexpr int most_formulas = 200'000;

Diagnostic too_small(std::string_view code, Span at, std::string_view wanted, std::string value) {
  return {.code = code,
          .at = at,
          .message = fmt::format("this must be {}; it is {}", wanted, value),
          .hint = "check the figures of the formula"};
}

std::string plain(double number) {
  return fmt::format("{:.6g}", number);
}

}  // namespace

Values::Values(const Sites& sites, const Counts& counts, Faults& faults)
    : sites_(sites),
      counts_(counts),
      faults_(faults),
      overrides_(overrides_of(sites.given(), faults)),
      formulas_left_(most_formulas) {}

Values::Room Values::room_for(int site) const {
  Room room;
  const auto make = [&](Of of, std::size_t count) {
    room[static_cast<std::size_t>(of)].resize(count);
  };
  const Scope& scope = sites_.scope(site);
  make(Of::derived, scope.derived.size());
  make(Of::coordinate, 3 * scope.points.size());
  make(Of::board_length, scope.boards.size());
  make(Of::panel_length, scope.panels.size());
  make(Of::panel_width, scope.panels.size());
  if (site != 0) return room;
  const Document& document = sites_.given().document;
  make(Of::size, document.sizes.size());
  for (const Of of : {Of::thickness, Of::bought_width, Of::width}) make(of, document.stocks.size());
  return room;
}

Values::Cell& Values::cell(const Node& node) {
  while (static_cast<int>(rooms_.size()) <= node.site)
    rooms_.push_back(room_for(static_cast<int>(rooms_.size())));
  Room& room = rooms_[static_cast<std::size_t>(node.site)];
  return room[static_cast<std::size_t>(node.of)][static_cast<std::size_t>(node.index)];
}

// A walk with a path of its own, so that a long chain of values costs no stack.
void Values::solve(const Need& goal) {
  if (cell(goal.node).state != State::open) return;
  std::vector<Step> path;
  const auto enter = [&](const Need& need) {
    cell(need.node).state = State::busy;
    path.push_back({need, needs_of(need.node)});
  };
  enter(goal);
  while (!path.empty()) {
    Step& top = path.back();
    if (top.next == top.needs.size()) {
      Cell& ready = cell(top.need.node);
      ready.value = worked_out(top.need.node);
      ready.state = State::done;
      path.pop_back();
      continue;
    }
    const Need need = top.needs[top.next++];
    const State state = cell(need.node).state;
    if (state == State::open) enter(need);
    if (state == State::busy) tell_ring(path, need);
  }
}

void Values::tell_ring(const std::vector<Step>& path, const Need& closing) {
  const auto first = std::find_if(path.begin(), path.end(),
                                  [&](const Step& step) { return step.need.node == closing.node; });
  if (first == path.end()) return;
  const std::string name = called(sites_, closing.node);
  Diagnostic fault{.code = "piece.cycle",
                   .at = closing.at,
                   .message = fmt::format("`{}` needs itself to be worked out", name),
                   .hint = "give one of them a figure of its own"};
  std::string before = name;
  for (auto step = first + 1; step != path.end(); ++step) {
    const std::string now = called(sites_, step->need.node);
    fault.notes.push_back({step->need.at, fmt::format("`{}` needs `{}`", before, now)});
    before = now;
  }
  if (first + 1 != path.end())
    fault.notes.push_back({closing.at, fmt::format("`{}` needs `{}`", before, name)});
  faults_.report(std::move(fault));
}

Outcome<Value> Values::look_up(std::string_view name, Span at, int site) {
  const Meaning meaning = meaning_of(sites_, name, site);
  if (!meaning.node) return unknown_name(sites_, name, at, site);
  const Cell& found = cell(*meaning.node);
  if (!found.value) return told();
  if (!meaning.other) return *found.value;
  const Cell& other = cell(*meaning.other);
  if (!other.value || other.value->amount == found.value->amount) return *found.value;
  return Diagnostic{.code = "piece.two-meanings",
                    .at = at,
                    .message = fmt::format("`{}` may be that of the stock or that of the board, "
                                           "and they differ",
                                           name),
                    .hint = "give the stock or the board another name"};
}

std::vector<Values::Need> Values::needs_of(const Formula& formula, int site) const {
  std::vector<Need> needs;
  for (const NameUse& use : names_in(formula.expression)) {
    const Meaning meaning = meaning_of(sites_, use.name, site);
    if (meaning.node) needs.push_back({*meaning.node, use.at});
    if (meaning.other) needs.push_back({*meaning.other, use.at});
  }
  return needs;
}

std::optional<Value> Values::of(const Node& node, Span at) {
  solve({node, at});
  return cell(node).value;
}

std::optional<Value> Values::of(const Formula& formula, int site) {
  if (formula.expression.is_empty() || formulas_left_ < 0) return std::nullopt;
  if (formulas_left_-- == 0) {
    faults_.report(
        {.code = "piece.too-many",
         .at = formula.at,
         .message = fmt::format("the piece takes more than {} formulas to work out", most_formulas),
         .hint = "use fewer copies of large assemblies"});
    return std::nullopt;
  }
  for (const Need& need : needs_of(formula, site)) solve(need);
  const Lookup lookup = [this, site](std::string_view name, Span at) {
    return look_up(name, at, site);
  };
  const auto value = evaluate(formula.expression, lookup, unit());
  faults_.report(value.diagnostics());
  return value ? std::optional(*value) : std::nullopt;
}

namespace {

// The value of an outcome; its faults are filed.
template <class T>
std::optional<T> kept(const Outcome<T>& outcome, Faults& faults) {
  faults.report(outcome.diagnostics());
  return outcome ? std::optional(*outcome) : std::nullopt;
}

}  // namespace

std::optional<Value> Values::like(const Value& other, const Value& value, Span at) {
  if (value.dimension == other.dimension) return value;
  if (other.dimension == a_length) {
    const auto length = kept(to_length(value, unit(), at), faults_);
    return length ? std::optional(value_of(*length)) : std::nullopt;
  }
  if (other.dimension == an_angle)
    (void)kept(to_angle(value, at), faults_);
  else
    (void)kept(to_number(value, at), faults_);
  return std::nullopt;
}

std::optional<Length> Values::length(const Node& node, Span at) {
  const auto value = of(node, at);
  return value ? kept(to_length(*value, unit(), at), faults_) : std::nullopt;
}

std::optional<Length> Values::length(const Formula& formula, int site) {
  const auto value = of(formula, site);
  return value ? kept(to_length(*value, unit(), formula.at), faults_) : std::nullopt;
}

std::optional<Angle> Values::angle(const Formula& formula, int site) {
  const auto value = of(formula, site);
  return value ? kept(to_angle(*value, formula.at), faults_) : std::nullopt;
}

std::optional<double> Values::number(const Formula& formula, int site) {
  const auto value = of(formula, site);
  return value ? kept(to_number(*value, formula.at), faults_) : std::nullopt;
}

std::optional<int> Values::count(const Formula& formula, int site, int least, int most) {
  const auto value = number(formula, site);
  if (!value) return std::nullopt;
  const double whole = std::round(*value);
  if (std::abs(*value - whole) <= 1e-9 && whole >= least && whole <= most)
    return static_cast<int>(whole);
  faults_.report({.code = "piece.bad-count",
                  .at = formula.at,
                  .message = fmt::format("this must be a whole number from {} to {}; it is {}",
                                         least, most, plain(*value)),
                  .hint = "round-down(..., 1) and round-up(..., 1) make whole numbers"});
  return std::nullopt;
}

std::optional<double> Values::mm(const Value& value, Span at) {
  const auto length = kept(to_length(value, unit(), at), faults_);
  if (!length) return std::nullopt;
  const bool is_bare = value.dimension == a_number;
  const auto a_unit = unit() == LengthUnit::inch ? Length::ticks_per_inch : Length::ticks_per_mm;
  const double ticks = is_bare ? value.amount * static_cast<double>(a_unit) : value.amount;
  const auto whole = static_cast<double>(length->in_ticks());
  constexpr double noise = 1e-4;  // of a tick
  return (std::abs(ticks - whole) < noise ? whole : ticks) /
         static_cast<double>(Length::ticks_per_mm);
}

std::optional<double> Values::mm(const Formula& formula, int site) {
  const auto value = of(formula, site);
  return value ? mm(*value, formula.at) : std::nullopt;
}

std::optional<double> Values::positive_mm(const Formula& formula, int site) {
  const auto value = mm(formula, site);
  if (!value || *value > 0) return value;
  faults_.report(too_small("piece.not-positive", formula.at, "above zero", faults_.length(*value)));
  return std::nullopt;
}

std::optional<double> Values::mm_from_zero(const Formula& formula, int site) {
  const auto value = mm(formula, site);
  if (!value || *value >= 0) return value;
  faults_.report(too_small("piece.negative", formula.at, "zero or more", faults_.length(*value)));
  return std::nullopt;
}

}  // namespace kw::resolving
