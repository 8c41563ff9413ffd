#include "kerfwright/lumber/choose.h"

#include <array>
#include <cmath>

namespace kw {
namespace {

constexpr double inch = 25.4;

double gauge_by_rule(double through) {
  if (through <= 0.5 * inch) return 0.138 * inch;
  return (through <= 1.0 * inch ? 0.164 : 0.190) * inch;
}

struct PocketRow {
  double stock = 0, length = 0;  // in
};
constexpr std::array<PocketRow, 7> pocket_chart = {
    {{0.5, 1}, {0.625, 1}, {0.75, 1.25}, {0.875, 1.5}, {1, 1.5}, {1.25, 2}, {1.5, 2.5}}};

}  // namespace

const Fastener* choose_screw(const Catalogue& catalogue, const ScrewWish& wish) {
  const double diameter = wish.diameter > 0 ? wish.diameter : gauge_by_rule(wish.through);
  const double longest = wish.through + wish.wood - least_cover;
  const Fastener* best = nullptr;
  double off = 0;
  for (const Fastener& f : catalogue.fasteners) {
    const double away = std::abs(f.diameter.in_mm() - diameter), length = f.length.in_mm();
    if (f.kind != wish.kind || (wish.diameter > 0 && away > 0.05)) continue;
    if (length > longest + 1e-6 || length < wish.through + 3 * f.diameter.in_mm()) continue;
    const bool is_nearer = best == nullptr || away < off - 0.05;
    const bool is_longer = best != nullptr && away < off + 0.05 && length > best->length.in_mm();
    if (!is_nearer && !is_longer) continue;
    best = &f;
    off = away;
  }
  return best;
}

double pocket_screw_length(double stock_inches) {
  const PocketRow* nearest = &pocket_chart.front();
  for (const PocketRow& row : pocket_chart)
    if (std::abs(row.stock - stock_inches) < std::abs(nearest->stock - stock_inches))
      nearest = &row;
  return nearest->length;
}

const Fastener* choose_pocket_screw(const Catalogue& catalogue, double stock_inches) {
  const double wanted = pocket_screw_length(stock_inches), gauge = 0.164;
  const Fastener* best = nullptr;
  for (const Fastener& f : catalogue.fasteners) {
    const double length = f.length.in_inches();
    if (f.kind != FastenerKind::pocket_screw || length > wanted + 1e-6) continue;
    const auto off = [&](const Fastener& one) {
      return std::abs(one.diameter.in_inches() - gauge);
    };
    const bool is_longer = best == nullptr || length > best->length.in_inches() + 1e-6;
    const bool is_nearer =
        best != nullptr && length > best->length.in_inches() - 1e-6 && off(f) < off(*best) - 1e-6;
    if (is_longer || is_nearer) best = &f;
  }
  return best;
}

std::optional<FastenerKind> kind_by_rule(std::string_view name) {
  for (const FastenerKind kind : kinds_by_rule)
    if (name_of(kind) == name) return kind;
  return std::nullopt;
}

}  // namespace kw
