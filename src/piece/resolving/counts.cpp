#include "counts.h"

namespace kw::resolving {
namespace {

constexpr int most_trials = 300;

struct NumberFormula {
  const Formula* formula = nullptr;
  int scope = 0;
};

using Mark = Counts::value_type;

void add(const std::optional<Formula>& formula, int scope, std::vector<NumberFormula>& into) {
  if (formula && !names_in(formula->expression).empty()) into.push_back({&*formula, scope});
}
void add(const Formula& formula, int scope, std::vector<NumberFormula>& into) {
  if (!names_in(formula.expression).empty()) into.push_back({&formula, scope});
}

void add_scope(const Scope& scope, int number, std::vector<NumberFormula>& into) {
  for (const PanelDecl& panel : scope.panels) add(panel.strips, number, into);
  for (const HoleDecl& hole : scope.holes) add(hole.count, number, into);
  for (const CopyDecl& copy : scope.copies) {
    if (const auto* repeat = std::get_if<RepeatDecl>(&copy.how)) add(repeat->count, number, into);
    if (const auto* turn = std::get_if<TurnDecl>(&copy.how)) add(turn->count, number, into);
    if (const auto* fill = std::get_if<FillDecl>(&copy.how)) add(fill->count, number, into);
  }
  for (const JointDecl& joint : scope.joints) {
    add(joint.count, number, into);
    add(joint.step, number, into);
  }
}

// The formulas that must give a plain number and are made from names.
std::vector<NumberFormula> number_formulas(const Document& document) {
  std::vector<NumberFormula> formulas;
  for (const StockDecl& stock : document.stocks) {
    for (const OfferDecl& offer : stock.buy) add(offer.price, 0, formulas);
    for (const OfferDecl& offer : stock.have) add(offer.count, 0, formulas);
  }
  if (document.climate) {
    for (const auto* pair :
         {&document.climate->humidity, &document.climate->celsius, &document.climate->fahrenheit})
      if (*pair)
        for (const Formula& formula : **pair) add(formula, 0, formulas);
    add(document.climate->moisture, 0, formulas);
  }
  add_scope(document.top, 0, formulas);
  for (std::size_t i = 0; i < document.assemblies.size(); ++i)
    add_scope(document.assemblies[i].scope, static_cast<int>(i) + 1, formulas);
  return formulas;
}

// Each scope stands once, an assembly by itself: the site of a scope has its number.
Sites one_of_each(const Given& given) {
  Sites sites(given);
  for (std::size_t i = 0; i < given.document.assemblies.size(); ++i)
    (void)sites.open({.scope = static_cast<int>(i) + 1, .parent = 0});
  return sites;
}

bool is_number(const Sites& sites, const NumberFormula& asked, const Counts& counts) {
  Faults unheard(sites.given().document.unit);
  Values values(sites, counts, unheard);
  const auto value = values.of(*asked.formula, asked.scope);
  return value && value->dimension == a_number;
}

// The literal sizes and derived values that a formula is made from in the end.
std::vector<Mark> literals_in(const Sites& sites, const NumberFormula& asked) {
  std::vector<Mark> literals;
  std::vector<NumberFormula> open = {asked};
  std::set<Node> seen;
  while (!open.empty()) {
    const NumberFormula next = open.back();
    open.pop_back();
    for (const NameUse& use : names_in(next.formula->expression)) {
      const auto node = meaning_of(sites, use.name, next.scope).node;
      if (!node || (node->of != Of::size && node->of != Of::derived) || !seen.insert(*node).second)
        continue;
      const auto i = static_cast<std::size_t>(node->index);
      const Formula& formula = node->of == Of::size ? sites.given().document.sizes[i].is
                                                    : sites.scope(node->site).derived[i].is;
      if (names_in(formula.expression).empty())
        literals.emplace_back(node->site, node->of, node->index);
      else
        open.push_back({&formula, node->site});
    }
  }
  return literals;
}

// What must be added to the counts to make the formula a number: one literal if that will do, else
// all.
std::vector<Mark> marks_for(const Sites& sites, const NumberFormula& asked, const Counts& counts,
                            int& trials) {
  const std::vector<Mark> literals = literals_in(sites, asked);
  for (const Mark& literal : literals) {
    Counts with_one = counts;
    with_one.insert(literal);
    if (--trials > 0 && is_number(sites, asked, with_one)) return {literal};
  }
  Counts with_all = counts;
  with_all.insert(literals.begin(), literals.end());
  if (--trials > 0 && is_number(sites, asked, with_all)) return literals;
  return {};
}

}  // namespace

Counts counts_in(const Given& given) {
  Counts counts;
  const auto formulas = number_formulas(given.document);
  if (formulas.empty()) return counts;
  const Sites sites = one_of_each(given);
  int trials = most_trials;
  for (const NumberFormula& asked : formulas) {
    if (--trials <= 0) break;
    if (is_number(sites, asked, counts)) continue;
    for (const Mark& mark : marks_for(sites, asked, counts, trials)) counts.insert(mark);
  }
  return counts;
}

}  // namespace kw::resolving
