#include <fmt/core.h>

#include "read_rows.h"

namespace kw::lumber {
namespace {

using Keys = std::vector<std::string>;

constexpr Choice<StockKind> stock_kinds[] = {
    {"board", StockKind::board},
    {"dimension", StockKind::dimension},
    {"timber", StockKind::timber},
    {"picket", StockKind::picket},
    {"deck_board", StockKind::deck_board},
    {"sheet", StockKind::sheet},
    {"planed_metric", StockKind::planed_metric},
};

constexpr Choice<WoodKind> wood_kinds[] = {
    {"hardwood", WoodKind::hardwood},
    {"softwood", WoodKind::softwood},
    {"panel", WoodKind::panel},
};

// Outside these a figure is a slip of the pen: no wood is lighter, heavier, stronger or livelier.
constexpr Range gravities = {0.05, 1.5};
constexpr Range kilopascals = {100, 1e6};
constexpr Range megapascals = {100, 1e5};
constexpr Range newtons = {10, 1e5};
constexpr Range percents = {0.1, 50};
constexpr Range movements = {0.00001, 0.02};

void check_thickness(const NominalSize& size, Row& row) {
  if (row.has("thinnest") != row.has("thickest")) {
    row.refuse(row.has("thinnest") ? "thinnest" : "thickest", "one limit of the two is missing",
               "give both `thinnest` and `thickest`, or neither");
  } else if (row.has("thinnest") &&
             (size.thinnest > size.thickest || size.dry.thickness < size.thinnest ||
              size.dry.thickness > size.thickest)) {
    row.refuse("dry", "the thickness does not lie between `thinnest` and `thickest`",
               "correct whichever of the three is wrong");
  }
}

void read_strength(Species& species, Row& row) {
  auto strength =
      row.table_or_none("strength", {"rupture_kPa", "stiffness_MPa", "crush_along_kPa",
                                     "crush_across_kPa", "shear_kPa", "hardness_N", "source"});
  if (!strength) return;
  const auto from_kilopascals = [&](std::string_view key) -> std::optional<Pressure> {
    const auto figure = strength->number_or_none(key, kilopascals);
    return figure ? std::optional(Pressure{*figure / 1000.0}) : std::nullopt;
  };
  species.rupture = from_kilopascals("rupture_kPa");
  species.crush_along = from_kilopascals("crush_along_kPa");
  species.crush_across = from_kilopascals("crush_across_kPa");
  species.shear = from_kilopascals("shear_kPa");
  if (const auto figure = strength->number_or_none("stiffness_MPa", megapascals)) {
    species.stiffness = Pressure{*figure};
  }
  if (const auto figure = strength->number_or_none("hardness_N", newtons)) {
    species.hardness = Force{*figure};
  }
  species.strength_source = strength->source();
}

void read_gravities(Species& species, Row& row) {
  const Keys keys = {"is", "source"};
  if (auto at_12 = row.table_or_none("gravity_12", keys)) {
    species.gravity_12 = at_12->number("is", gravities);
    species.gravity_source = fmt::format("at 12 %: {}", at_12->source());
  }
  if (auto nds = row.table_or_none("gravity_nds", keys)) {
    species.gravity_nds = nds->number("is", gravities);
    const std::string_view gap = species.gravity_source.empty() ? "" : "; ";
    species.gravity_source += fmt::format("{}ovendry: {}", gap, nds->source());
  }
}

void read_movement(Species& species, Row& row) {
  if (auto shrinkage =
          row.table_or_none("shrinkage", {"radial", "tangential", "volume", "source"})) {
    species.shrink_radial = shrinkage->number_or_none("radial", percents);
    species.shrink_tangential = shrinkage->number_or_none("tangential", percents);
    species.shrink_volume = shrinkage->number_or_none("volume", percents);
    species.shrinkage_source = shrinkage->source();
  }
  if (auto movement = row.table_or_none("movement", {"radial", "tangential", "source"})) {
    species.move_radial = movement->number_or_none("radial", movements);
    species.move_tangential = movement->number_or_none("tangential", movements);
    species.movement_source = movement->source();
  }
}

}  // namespace

std::optional<NominalSize> read_size(const Cell& cell, Page& page) {
  static const Keys keys = {"name",         "aka",   "kind",    "dry",  "thinnest", "thickest",
                            "sheet_length", "green", "nominal", "sold", "source"};
  Row row(cell, page, keys);
  NominalSize size;
  size.name = row.text("name");
  size.aka = row.texts_or_none("aka");
  size.kind = row.choice("kind", stock_kinds);
  size.dry = row.section("dry");
  size.thinnest = row.length_or_zero("thinnest");
  size.thickest = row.length_or_zero("thickest");
  size.green = row.section_or_none("green");
  size.nominal = row.section_or_none("nominal").value_or(Section());
  if (const LengthList* list = row.list_or_none("sold")) {
    size.lengths = list->lengths;
    size.length_source = list->source;
  }
  size.source = row.source();
  check_thickness(size, row);
  if (size.kind == StockKind::sheet) {
    size.sheet_length = row.length("sheet_length");
  } else if (row.has("sheet_length")) {
    row.refuse("sheet_length", "only a sheet has a `sheet_length`",
               "name a list of lengths with `sold`");
  }
  return row.is_sound() ? std::optional(std::move(size)) : std::nullopt;
}

std::optional<Species> read_species(const Cell& cell, Page& page) {
  static const Keys keys = {"name",        "aka",      "kind",      "members",  "gravity_12",
                            "gravity_nds", "strength", "shrinkage", "movement", "cautions"};
  Row row(cell, page, keys);
  Species species;
  species.name = row.text("name");
  species.aka = row.texts_or_none("aka");
  species.members = row.texts_or_none("members");
  species.kind = row.choice("kind", wood_kinds);
  species.cautions = row.cautions("cautions");
  read_gravities(species, row);
  read_strength(species, row);
  read_movement(species, row);
  return row.is_sound() ? std::optional(std::move(species)) : std::nullopt;
}

}  // namespace kw::lumber
