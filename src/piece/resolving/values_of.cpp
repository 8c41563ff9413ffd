// What each kind of value is made from.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "values.h"

namespace kw::resolving {
namespace {

constexpr int most_strips = 200;

std::size_t at_index(int index) {
  return static_cast<std::size_t>(index);
}

const PlacementDecl& placement_of(const Sites& sites, const Node& node) {
  const Scope& scope = sites.scope(node.site);
  return node.of == Of::board_length ? scope.boards[at_index(node.index)].placement
                                     : scope.panels[at_index(node.index)].placement;
}

// A length that need not be a whole tick.
Value length_of(double mm) {
  return {mm * static_cast<double>(Length::ticks_per_mm), a_length, false};
}

// The formula of a stock's own section, [thickness, width].
const Formula* section_formula(const StockDecl& stock, std::size_t which) {
  if (stock.actual) return &(*stock.actual)[which];
  const auto* section = std::get_if<Formula2>(&stock.section);
  return section ? &(*section)[which] : nullptr;
}

const DerivedDecl* handed_in(const UseDecl* use, std::string_view name) {
  if (!use) return nullptr;
  const auto found =
      std::find_if(use->with.begin(), use->with.end(),
                   [&](const DerivedDecl& given) { return given.name.text == name; });
  return found == use->with.end() ? nullptr : &*found;
}

}  // namespace

std::vector<std::optional<Formula>> overrides_of(const Given& given, Faults& faults) {
  std::vector<std::optional<Formula>> formulas(given.document.sizes.size());
  for (const Override& override : given.overrides) {
    const auto size = find(given.names.sizes, override.name);
    if (!size) {
      faults.report(
          {.code = "piece.unknown-name",
           .message = fmt::format("the piece has no size `{}` to be changed", override.name),
           .hint = hint_for(override.name, names_in(given.names.sizes), "sizes")});
      continue;
    }
    const auto parsed = parse_expression(override.formula, given.document.unit);
    for (Diagnostic fault : parsed.diagnostics()) {
      fault.message =
          fmt::format("`{}` = `{}`: {}", override.name, override.formula, fault.message);
      fault.at = {};
      fault.notes.clear();
      faults.report(std::move(fault));
    }
    formulas[at_index(*size)] = Formula{};
    if (parsed) formulas[at_index(*size)]->expression = *parsed;
  }
  return formulas;
}

std::vector<Values::Asked> Values::formulas_of(const Node& node) const {
  const Document& document = sites_.given().document;
  const std::size_t i = at_index(node.index);
  switch (node.of) {
    case Of::size:
      return {{overrides_[i] ? &*overrides_[i] : &document.sizes[i].is, 0}};
    case Of::derived: {
      const DerivedDecl& own = sites_.scope(node.site).derived[i];
      const Site& site = sites_[node.site];
      const DerivedDecl* given = handed_in(site.use, own.name.text);
      return {given ? Asked{&given->is, site.parent} : Asked{&own.is, node.site}};
    }
    case Of::coordinate:
      return {{&sites_.scope(node.site).points[i / 3].at[i % 3], node.site}};
    case Of::thickness:
    case Of::bought_width: {
      const Formula* formula =
          section_formula(document.stocks[i], node.of == Of::thickness ? 0 : 1);
      return formula ? std::vector<Asked>{{formula, 0}} : std::vector<Asked>{};
    }
    case Of::width: {
      const auto& rip = document.stocks[i].rip;
      return rip ? std::vector<Asked>{{&*rip, 0}} : std::vector<Asked>{};
    }
    case Of::panel_width: {
      const PanelDecl& panel = sites_.scope(node.site).panels[i];
      const auto& formula = panel.width ? panel.width : panel.strips;
      return formula ? std::vector<Asked>{{&*formula, node.site}} : std::vector<Asked>{};
    }
    case Of::board_length:
    case Of::panel_length:
      break;
  }
  const PlacementDecl& placement = placement_of(sites_, node);
  if (!placement.runs)
    return placement.length ? std::vector<Asked>{{&*placement.length, node.site}}
                            : std::vector<Asked>{};
  std::vector<Asked> formulas;
  for (const PointRef& point : *placement.runs)
    if (const auto* three = std::get_if<Formula3>(&point))
      for (const Formula& formula : *three) formulas.push_back({&formula, node.site});
  return formulas;
}

std::vector<Values::Need> Values::needs_of(const Node& node) const {
  std::vector<Need> needs;
  for (const Asked& asked : formulas_of(node))
    for (const Need& need : needs_of(*asked.formula, asked.site)) needs.push_back(need);
  if (node.of == Of::width) needs.push_back({{0, Of::bought_width, node.index}, {}});
  if (node.of == Of::panel_width) {
    const Name& stock = sites_.scope(node.site).panels[at_index(node.index)].stock;
    if (const auto found = find(sites_.given().names.stocks, stock.text))
      needs.push_back({{0, Of::width, *found}, stock.at});
  }
  if (node.of != Of::board_length && node.of != Of::panel_length) return needs;
  const PlacementDecl& placement = placement_of(sites_, node);
  if (!placement.runs) return needs;
  for (const PointRef& point : *placement.runs) {
    const Name* name = std::get_if<Name>(&point);
    const auto found = name ? find(sites_.names(node.site).points, name->text) : std::nullopt;
    for (int axis = 0; found && axis < 3; ++axis)
      needs.push_back({{node.site, Of::coordinate, 3 * *found + axis}, name->at});
  }
  return needs;
}

std::optional<Value> Values::worked_out(const Node& node) {
  switch (node.of) {
    case Of::size:
    case Of::derived:
      return settled(node);
    case Of::coordinate: {
      const Asked asked = formulas_of(node).front();
      const auto value = mm(*asked.formula, asked.site);
      return value ? std::optional(length_of(*value)) : std::nullopt;
    }
    case Of::thickness:
    case Of::bought_width:
      return stock_value(node);
    case Of::width:
      return ripped(node);
    case Of::panel_width:
      return panel_width(node);
    case Of::board_length:
    case Of::panel_length:
      return line_length(node);
  }
  return std::nullopt;
}

// A bare figure becomes a length, or a plain number where it counts.
std::optional<Value> Values::settled(const Node& node) {
  const Asked asked = formulas_of(node).front();
  auto value = of(*asked.formula, asked.site);
  if (!value || !value->is_bare || value->dimension != a_number) return value;
  if (counts_.count({sites_[node.site].scope, node.of, node.index}) > 0)
    return Value{value->amount, a_number, false};
  const auto length = to_length(*value, unit(), asked.formula->at);
  faults_.report(length.diagnostics());
  return length ? std::optional(value_of(*length)) : std::nullopt;
}

std::optional<Value> Values::stock_value(const Node& node) {
  const StockDecl& stock = sites_.given().document.stocks[at_index(node.index)];
  const auto formulas = formulas_of(node);
  if (!formulas.empty()) {
    const auto mm = positive_mm(*formulas.front().formula, 0);
    return mm ? std::optional(value_of(Length::mm(*mm))) : std::nullopt;
  }
  const Name* name = std::get_if<Name>(&stock.section);
  if (!name || name->text.empty()) return std::nullopt;
  const Catalogue& catalogue = sites_.given().catalogue;
  const NominalSize* size = find_size(catalogue, name->text);
  if (!size) {
    faults_.report({.code = "piece.unknown-section",
                    .at = name->at,
                    .message = fmt::format("no size is sold as `{}`", name->text),
                    .hint = hint_from_tables(catalogue, name->text, all_names(catalogue.sizes)) +
                            " For a section of your own write [thickness, width]"});
    return std::nullopt;
  }
  if (stock.is_green && !size->green) {
    faults_.report({.code = "piece.no-green-size",
                    .at = name->at,
                    .message = fmt::format("no green size is known of `{}`", name->text),
                    .hint = "say what it measures: actual = [thickness, width]"});
    return std::nullopt;
  }
  const Section& section = stock.is_green ? *size->green : size->dry;
  return value_of(node.of == Of::thickness ? section.thickness : section.width);
}

std::optional<Value> Values::ripped(const Node& node) {
  const Node as_bought = {0, Of::bought_width, node.index};
  const auto bought = length(as_bought);
  const auto formulas = formulas_of(node);
  if (!bought || formulas.empty()) return bought ? std::optional(value_of(*bought)) : std::nullopt;
  const Formula& rip = *formulas.front().formula;
  const auto width = positive_mm(rip, 0);
  if (!width) return std::nullopt;
  if (Length::mm(*width) <= *bought) return value_of(Length::mm(*width));
  faults_.report({.code = "piece.rip-too-wide",
                  .at = rip.at,
                  .message = fmt::format("the stock is {} wide: it cannot be ripped to {}",
                                         faults_.length(bought->in_mm()), faults_.length(*width)),
                  .hint = "choose a wider section, or rip to less"});
  return std::nullopt;
}

std::optional<Value> Values::panel_width(const Node& node) {
  const PanelDecl& panel = sites_.scope(node.site).panels[at_index(node.index)];
  if (panel.width) {
    const auto mm = positive_mm(*panel.width, node.site);
    return mm ? std::optional(value_of(Length::mm(*mm))) : std::nullopt;
  }
  const auto stock = find(sites_.given().names.stocks, panel.stock.text);
  if (!stock || !panel.strips) return std::nullopt;
  const auto strip = length(Node{0, Of::width, *stock}, panel.stock.at);
  const auto strips = count(*panel.strips, node.site, 1, most_strips);
  return strip && strips ? std::optional(value_of(*strip * *strips)) : std::nullopt;
}

std::optional<double> Values::mm_on(const PointRef& point, int axis, int site) {
  if (const auto* three = std::get_if<Formula3>(&point)) return mm((*three)[at_index(axis)], site);
  const auto found = find(sites_.names(site).points, std::get<Name>(point).text);
  if (!found) return std::nullopt;
  const Span at = std::get<Name>(point).at;
  const auto value = of(Node{site, Of::coordinate, 3 * *found + axis}, at);
  return value ? mm(*value, at) : std::nullopt;
}

std::optional<Value> Values::line_length(const Node& node) {
  const PlacementDecl& placement = placement_of(sites_, node);
  if (!placement.runs) {
    const auto value = placement.length ? length(*placement.length, node.site) : std::nullopt;
    return value ? std::optional(value_of(*value)) : std::nullopt;
  }
  double squares = 0;
  for (int axis = 0; axis < 3; ++axis) {
    const auto from = mm_on((*placement.runs)[0], axis, node.site);
    const auto to = mm_on((*placement.runs)[1], axis, node.site);
    if (!from || !to) return std::nullopt;
    squares += (*to - *from) * (*to - *from);
  }
  return length_of(std::sqrt(squares));
}

}  // namespace kw::resolving
