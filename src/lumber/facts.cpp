#include <algorithm>

#include "kerfwright/lumber/catalogue.h"

namespace kw {

std::string_view name_of(StockKind kind) {
  switch (kind) {
    case StockKind::board:
      return "board";
    case StockKind::dimension:
      return "dimension lumber";
    case StockKind::timber:
      return "timber";
    case StockKind::picket:
      return "fence picket";
    case StockKind::deck_board:
      return "deck board";
    case StockKind::sheet:
      return "sheet";
    case StockKind::planed_metric:
      return "planed section";
  }
  return "";
}

std::string_view name_of(FastenerKind kind) {
  switch (kind) {
    case FastenerKind::wood_screw:
      return "wood screw";
    case FastenerKind::deck_screw:
      return "deck screw";
    case FastenerKind::pocket_screw:
      return "pocket screw";
    case FastenerKind::nail:
      return "nail";
    case FastenerKind::dowel:
      return "dowel";
    case FastenerKind::bolt:
      return "bolt";
    case FastenerKind::lag_screw:
      return "lag screw";
  }
  return "";
}

std::optional<Density> density_at_12(const Species& species) {
  constexpr double moisture = 12;  // %
  if (species.gravity_12) {
    return Density{*species.gravity_12 * 1000 * (1 + moisture / 100)};
  }
  if (!species.gravity_nds) return std::nullopt;
  // NDS Supplement 3.1 (from memory): 62.4 (G / (1 + G 0.009 M)) (1 + M / 100) lb/ft^3.
  constexpr double kg_m3_per_lb_ft3 = kg_per_pound / (0.3048 * 0.3048 * 0.3048);
  const double g = *species.gravity_nds;
  const double pounds = 62.4 * g / (1 + 0.009 * g * moisture) * (1 + moisture / 100);
  return Density{pounds * kg_m3_per_lb_ft3};
}

double board_feet(const NominalSize& size, Length length) {
  const double thickness = size.nominal.thickness.in_inches();
  if (thickness <= 0) return 0;
  return std::max(1.0, thickness) * size.nominal.width.in_inches() * length.in_inches() / 144;
}

}  // namespace kw
