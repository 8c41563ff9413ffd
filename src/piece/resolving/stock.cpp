#include "stock.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "kerfwright/measure/text.h"

namespace kw::resolving {
namespace {

constexpr int most_on_hand = 10'000;
constexpr double dearest = 1e9;  // a price

// Lengths sold nearly everywhere: common practice, no published source.
std::vector<Length> usual_lengths(LengthUnit unit) {
  std::vector<Length> lengths;
  if (unit == LengthUnit::inch)
    for (const int feet : {6, 8, 10, 12, 14, 16}) lengths.push_back(Length::inches(12.0 * feet));
  else
    for (const int mm : {2400, 3000, 3600, 4200, 4800}) lengths.push_back(Length::mm(mm));
  return lengths;
}

std::string spoken(const Section& section, LengthUnit unit) {
  const LengthStyle style{.unit = unit};
  return fmt::format("{} x {}", format_length(section.thickness, style),
                     format_length(section.width, style));
}

// Coins of a price in whole units of the currency.
std::optional<Money> money_of(Values& values, Faults& faults, const Formula& formula) {
  const auto price = values.number(formula, 0);
  if (!price) return std::nullopt;
  if (*price >= 0 && *price <= dearest) return Money{std::llround(*price * 100)};
  faults.report({.code = "piece.bad-price",
                 .at = formula.at,
                 .message = "a price is from 0 to 1,000,000,000",
                 .hint = "write it as a plain number in the file's currency, such as 4.50"});
  return std::nullopt;
}

std::vector<Offer> offers_of(Values& values, Faults& faults, const std::vector<OfferDecl>& declared,
                             int count) {
  std::vector<Offer> offers;
  for (const OfferDecl& decl : declared) {
    const auto length = values.positive_mm(decl.length, 0);
    Offer offer{.count = count};
    if (decl.price) offer.price = money_of(values, faults, *decl.price);
    if (decl.count) offer.count = values.count(*decl.count, 0, 1, most_on_hand).value_or(1);
    if (!length) continue;
    offer.length = Length::mm(*length);
    offers.push_back(offer);
  }
  return offers;
}

void add_species(const Catalogue& catalogue, Faults& faults, const Name& name,
                 ResolvedStock& into) {
  if (name.text.empty()) return;
  if (const Species* species = find_species(catalogue, name.text)) {
    into.species = species->name;
    into.density = density_at_12(*species);
    return;
  }
  faults.report({.code = "piece.unknown-species",
                 .at = name.at,
                 .message = fmt::format("no species is called `{}`", name.text),
                 .hint = hint_from_tables(catalogue, name.text, all_names(catalogue.species))});
}

void add_grade(Faults& faults, const Name& grade, ResolvedStock& into) {
  // NDS Supplement; "clear" for wood without knots.
  static const std::vector<std::string> known = {
      "Select Structural", "No. 1 & Btr", "No. 1", "No. 2", "No. 3", "Stud", "clear"};
  if (grade.text.empty()) return;
  into.grade = grade.text;
  if (std::find(known.begin(), known.end(), grade.text) != known.end()) return;
  into.grade.clear();
  faults.report({.code = "piece.unknown-word",
                 .at = grade.at,
                 .message = fmt::format("`{}` is no grade of strength", grade.text),
                 .hint = hint_for(grade.text, known, "grades")});
}

void add_nominal(const Catalogue& catalogue, const StockDecl& decl, ResolvedStock& into) {
  const Name* name = std::get_if<Name>(&decl.section);
  const NominalSize* size = name ? find_size(catalogue, name->text) : nullptr;
  if (!size) return;
  into.nominal = *size;
  into.sold_as = size->name;
  into.is_sheet = size->kind == StockKind::sheet;
  into.sheet_length = size->sheet_length;
}

// What the yard sells when the file does not say.
void add_common_lengths(Values& values, Faults& faults, ResolvedStock& into) {
  into.has_common_lengths = true;
  if (into.is_sheet) {
    into.buy.push_back({.length = into.sheet_length});
    return;
  }
  const bool is_listed = into.nominal && !into.nominal->lengths.empty();
  for (const Length length : is_listed ? into.nominal->lengths : usual_lengths(values.unit()))
    into.buy.push_back({.length = length});
  if (is_listed) return;
  faults.report(
      {.code = "piece.lengths-assumed",
       .severity = Severity::advice,
       .at = into.at,
       .message = fmt::format("`{}` does not say what lengths can be bought: {} to {} are assumed",
                              into.name, faults.length(into.buy.front().length.in_mm()),
                              faults.length(into.buy.back().length.in_mm())),
       .hint = "say so: buy = [{ length = ..., price = ... }]"});
}

// Empty when the section is not known.
std::optional<ResolvedStock> stock_of(Values& values, Faults& faults, const StockDecl& decl,
                                      int index) {
  const Catalogue& catalogue = values.sites().given().catalogue;
  const auto thickness = values.length(Node{0, Of::thickness, index});
  const auto bought = values.length(Node{0, Of::bought_width, index});
  const auto used = values.length(Node{0, Of::width, index});
  ResolvedStock stock{.name = decl.name.text, .at = decl.name.at};
  add_nominal(catalogue, decl, stock);
  if (decl.species) add_species(catalogue, faults, *decl.species, stock);
  if (decl.grade) add_grade(faults, *decl.grade, stock);
  stock.is_green = decl.is_green;
  stock.is_measured = decl.actual.has_value();
  if (decl.sheet) {
    stock.is_sheet = true;
    stock.sheet_length = Length::mm(values.positive_mm(*decl.sheet, 0).value_or(0));
  }
  stock.buy = offers_of(values, faults, decl.buy, 0);
  stock.have = offers_of(values, faults, decl.have, 1);
  if (!thickness || !bought || !used) return std::nullopt;
  stock.bought = {*thickness, *bought};
  stock.used = {*thickness, *used};
  if (stock.sold_as.empty()) stock.sold_as = spoken(stock.bought, values.unit());
  if (decl.buy.empty()) add_common_lengths(values, faults, stock);
  return stock;
}

void tell_out_of_range(Work& work, const SizeDecl& size, const Value& value, const Value& limit,
                       bool is_above) {
  const auto written = [&](const Value& v) {
    if (v.dimension == a_length) return work.faults.length(in_si(v) * 1000);
    if (v.dimension == an_angle) return format_angle(Angle::degrees(v.amount), 3);
    return fmt::format("{:.6g}", v.amount);
  };
  const bool is_override = std::any_of(work.given.overrides.begin(), work.given.overrides.end(),
                                       [&](const Override& o) { return o.name == size.name.text; });
  work.faults.report(
      {.code = "piece.out-of-range",
       .at = is_override ? Span{} : size.is.at,
       .message =
           fmt::format("`{}` is {}, {} than its {} of {}", size.name.text, written(value),
                       is_above ? "more" : "less", is_above ? "greatest" : "least", written(limit)),
       .hint = fmt::format("keep it {} that, or change `{}` of the size",
                           is_above ? "at or below" : "at or above", is_above ? "to" : "from")});
}

// `from` and `to`, whose kind is the value's.
std::optional<Value> limit_of(Work& work, const std::optional<Formula>& formula,
                              const Value& value) {
  if (!formula) return std::nullopt;
  const auto limit = work.values.of(*formula, 0);
  return limit ? work.values.like(value, *limit, formula->at) : std::nullopt;
}

bool is_above(const Value& a, const Value& b) {
  const double slack =
      a.dimension == a_length ? 0.5 : 1e-12 * std::max(std::abs(a.amount), std::abs(b.amount));
  return a.amount > b.amount + slack;
}

NamedValue size_with_range(Work& work, const SizeDecl& decl, const Value& value) {
  NamedValue size{.name = decl.name.text, .value = value, .note = decl.note, .at = decl.name.at};
  size.from = limit_of(work, decl.from, value);
  size.to = limit_of(work, decl.to, value);
  (void)limit_of(work, decl.step, value);
  if (size.to && is_above(value, *size.to)) tell_out_of_range(work, decl, value, *size.to, true);
  if (size.from && is_above(*size.from, value))
    tell_out_of_range(work, decl, value, *size.from, false);
  return size;
}

Length length_or(Work& work, const std::optional<Formula>& formula, Length usual) {
  if (!formula) return usual;
  const auto mm = work.values.mm_from_zero(*formula, 0);
  return mm ? Length::mm(*mm) : usual;
}

}  // namespace

std::vector<ResolvedStock> stocks_of(Values& values, Faults& faults, std::vector<int>& index_of) {
  std::vector<ResolvedStock> stocks;
  const auto& declared = values.sites().given().document.stocks;
  for (std::size_t i = 0; i < declared.size(); ++i) {
    auto stock = stock_of(values, faults, declared[i], static_cast<int>(i));
    index_of.push_back(stock ? static_cast<int>(stocks.size()) : -1);
    if (stock) stocks.push_back(std::move(*stock));
  }
  return stocks;
}

void add_values(Work& work, Resolved& into) {
  const Document& document = work.given.document;
  for (std::size_t i = 0; i < document.sizes.size(); ++i) {
    const auto value = work.values.of(Node{0, Of::size, static_cast<int>(i)});
    if (value) into.sizes.push_back(size_with_range(work, document.sizes[i], *value));
  }
  for (std::size_t i = 0; i < document.top.derived.size(); ++i) {
    const DerivedDecl& decl = document.top.derived[i];
    const auto value = work.values.of(Node{0, Of::derived, static_cast<int>(i)});
    if (value)
      into.derived.push_back({.name = decl.name.text, .value = *value, .at = decl.name.at});
  }
}

void add_heading(Work& work, Resolved& into) {
  const Document& document = work.given.document;
  into.title = document.title;
  into.author = document.author;
  into.licence = document.licence;
  into.note = document.note;
  into.currency = document.currency;
  into.tags = document.tags;
  into.unit = document.unit;
  // What is assumed where the file is silent: common practice, no published source. The rule's
  // finest mark; a full kerf; nothing trimmed; an offcut of a foot is worth keeping.
  const bool is_inch = document.unit == LengthUnit::inch;
  const auto usual = [&](double inches, double mm) {
    return is_inch ? Length::inches(inches) : Length::mm(mm);
  };
  into.rule = usual(1.0 / 16, 1);
  if (!document.rule.expression.is_empty())
    if (const auto rule = work.values.positive_mm(document.rule, 0)) into.rule = Length::mm(*rule);
  into.kerf = length_or(work, document.kerf, usual(1.0 / 8, 3));
  into.trim = length_or(work, document.trim, Length());
  into.shortest_offcut = length_or(work, document.offcut, usual(12, 300));
}

}  // namespace kw::resolving
