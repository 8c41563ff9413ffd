// Every row of the tables against transcriptions kept beside the tree, where they are present.
#include <functional>
#include <gtest/gtest.h>
#include <set>

#include "kerfwright/lumber/catalogue.h"
#include "kerfwright/measure/text.h"

#include "reference_table.h"

namespace kw {
namespace {

using test::Record;
using test::records_in;

#define KW_RECORDS_OR_SKIP(records, name)      \
  const auto records = records_in(name);       \
  if (records.empty()) {                       \
    GTEST_SKIP() << name << " is not present"; \
  }

const Catalogue& book() {
  return built_in_catalogue();
}

double number(const std::string& cell) {
  return std::stod(cell);
}

void expect_figure(const std::string& cell, std::optional<double> figure, const std::string& what) {
  ASSERT_EQ(figure.has_value(), !cell.empty()) << what;
  if (figure) {
    EXPECT_NEAR(*figure, number(cell), 1e-9 * std::abs(number(cell))) << what;
  }
}

template <class Quantity>
std::optional<double> scaled(const std::optional<Quantity>& quantity, double scale) {
  return quantity ? std::optional(quantity->value * scale) : std::nullopt;
}

TEST(Reference, EveryLumberRowHasItsSections) {
  KW_RECORDS_OR_SKIP(records, "lumber-sizes.tsv");
  int checked = 0;
  for (const Record& row : records) {
    if (row.at("class") == "timber") continue;
    const bool is_thickness = row.at("dimension") == "thickness";
    const auto side = [&](const Section& s) { return is_thickness ? s.thickness : s.width; };
    const StockKind kind = row.at("class") == "board" ? StockKind::board : StockKind::dimension;
    int sections = 0;
    for (const NominalSize& size : book().sizes) {
      if (size.kind != kind) continue;
      if (side(size.nominal) != Length::inches(number(row.at("nominal_in")))) continue;
      EXPECT_EQ(side(size.dry), Length::inches(number(row.at("dry_in")))) << size.name;
      EXPECT_EQ(side(size.green.value()), Length::inches(number(row.at("green_in")))) << size.name;
      ++sections;
    }
    EXPECT_GT(sections, 0) << row.at("class") << " " << row.at("dimension") << " "
                           << row.at("nominal");
    ++checked;
  }
  EXPECT_GE(checked, 35);
}

TEST(Reference, EveryPlywoodRowHasItsSheet) {
  KW_RECORDS_OR_SKIP(records, "plywood-thickness.tsv");
  for (const Record& row : records) {
    const NominalSize* size = find_size(book(), "plywood " + row.at("category"));
    ASSERT_NE(size, nullptr) << row.at("category");
    EXPECT_EQ(size->dry.thickness, *parse_length(row.at("category"), LengthUnit::inch));
    EXPECT_EQ(size->thinnest, Length::inches(number(row.at("min_in")))) << size->name;
    EXPECT_EQ(size->thickest, Length::inches(number(row.at("max_in")))) << size->name;
  }
}

TEST(Reference, EverySpeciesHasItsStrength) {
  KW_RECORDS_OR_SKIP(records, "species-12pct-metric.tsv");
  for (const Record& row : records) {
    const Species* wood = find_species(book(), row.at("species"));
    ASSERT_NE(wood, nullptr) << row.at("species");
    const std::string& name = wood->name;
    EXPECT_EQ(name, row.at("species"));
    EXPECT_EQ(wood->kind == WoodKind::hardwood, row.at("class") == "hardwood") << name;
    expect_figure(row.at("sg_12"), wood->gravity_12, name);
    expect_figure(row.at("mor_kPa"), scaled(wood->rupture, 1000), name);
    expect_figure(row.at("moe_MPa"), scaled(wood->stiffness, 1), name);
    expect_figure(row.at("comp_parallel_kPa"), scaled(wood->crush_along, 1000), name);
    expect_figure(row.at("comp_perp_kPa"), scaled(wood->crush_across, 1000), name);
    expect_figure(row.at("shear_kPa"), scaled(wood->shear, 1000), name);
    expect_figure(row.at("side_hardness_N"), scaled(wood->hardness, 1), name);
  }
}

// Two printings of one table: the inch-pound one agrees with ours within half a printed step of
// each, but for three cells. Trap: western white pine is 0.38 in one and 0.35 in the other; western
// hemlock's crushing and shear differ too. We keep the metric printing throughout.
TEST(Reference, BothPrintingsOfTheStrengthsAgreeButForThreeCells) {
  KW_RECORDS_OR_SKIP(records, "species-inch-pound.tsv");
  struct Column {
    const char* printed;
    double to_ours, step, our_step;  // of what is printed; ours in MPa, N
    std::function<std::optional<double>(const Species&)> figure;
  };
  constexpr double psi = 0.006894757, pound = 4.448222;
  const auto value = [](const auto& quantity) { return scaled(quantity, 1); };
  const Column columns[] = {
      {"sg", 1, 0.001, 0.001, [](const Species& w) { return w.gravity_12; }},
      {"mor_psi", psi, 100, 1, [&](const Species& w) { return value(w.rupture); }},
      {"moe_Mpsi", psi * 1e6, 0.01, 100, [&](const Species& w) { return value(w.stiffness); }},
      {"comp_parallel_psi", psi, 10, 0.1, [&](const Species& w) { return value(w.crush_along); }},
      {"comp_perp_psi", psi, 10, 0.1, [&](const Species& w) { return value(w.crush_across); }},
      {"shear_psi", psi, 10, 0.1, [&](const Species& w) { return value(w.shear); }},
      {"side_hardness_lbf", pound, 10, 100, [&](const Species& w) { return value(w.hardness); }}};
  std::set<std::string> apart;
  for (const Record& row : records) {
    if (row.at("condition") != "12%") continue;
    const Species* wood = find_species(book(), row.at("species"));
    ASSERT_NE(wood, nullptr) << row.at("species");
    for (const Column& column : columns) {
      const std::string& cell = row.at(column.printed);
      const auto ours = column.figure(*wood);
      if (cell.empty() || !ours) continue;
      const double off = std::abs(number(cell) * column.to_ours - *ours);
      if (off > (column.step * column.to_ours + column.our_step) / 2 + 1e-9)
        apart.insert(wood->name + ", " + column.printed);
    }
  }
  EXPECT_EQ(apart,
            (std::set<std::string>{"Hemlock, western, comp_parallel_psi",
                                   "Hemlock, western, shear_psi", "Pine, western white, sg"}));
  EXPECT_EQ(find_species(book(), "Pine, western white")->gravity_12, 0.35);
}

TEST(Reference, EverySpeciesHasItsShrinkageAndMovement) {
  KW_RECORDS_OR_SKIP(records, "shrinkage.tsv");
  for (const Record& row : records) {
    const Species* wood = find_species(book(), row.at("species"));
    ASSERT_NE(wood, nullptr) << row.at("species");
    if (!row.at("S_radial_pct").empty()) {
      expect_figure(row.at("S_radial_pct"), wood->shrink_radial, wood->name);
      expect_figure(row.at("S_tangential_pct"), wood->shrink_tangential, wood->name);
      expect_figure(row.at("S_volumetric_pct"), wood->shrink_volume, wood->name);
    }
    if (!row.at("C_R").empty()) {
      expect_figure(row.at("C_R"), wood->move_radial, wood->name);
      expect_figure(row.at("C_T"), wood->move_tangential, wood->name);
    }
  }
}

TEST(Reference, EveryGroupHasItsGravity) {
  KW_RECORDS_OR_SKIP(records, "nds-specific-gravity.tsv");
  for (const Record& row : records) {
    const Species* wood = find_species(book(), row.at("species_combination"));
    ASSERT_NE(wood, nullptr) << row.at("species_combination");
    expect_figure(row.at("G"), wood->gravity_nds, wood->name);
  }
}

TEST(Reference, EveryScrewHasTheFiguresOfItsGauge) {
  KW_RECORDS_OR_SKIP(records, "screw-gauges.tsv");
  int checked = 0;
  for (const Record& row : records) {
    const std::string begin = "wood screw " + row.at("gauge") + " x ";
    for (const Fastener& screw : book().fasteners) {
      if (screw.name.rfind(begin, 0) != 0 || screw.name.find(" mm") != std::string::npos) continue;
      ASSERT_FALSE(row.at("D_root_in").empty()) << screw.name << " has no published root";
      EXPECT_EQ(screw.diameter, Length::inches(number(row.at("D_in")))) << screw.name;
      EXPECT_EQ(screw.root, Length::inches(number(row.at("D_root_in")))) << screw.name;
      EXPECT_EQ(screw.head, Length::inches(number(row.at("D_head_in")))) << screw.name;
      ++checked;
    }
  }
  EXPECT_GE(checked, 40);
}

TEST(Reference, EveryNailIsThere) {
  KW_RECORDS_OR_SKIP(records, "nails.tsv");
  for (const Record& row : records) {
    const Fastener* nail = find_fastener(book(), row.at("type") + " nail " + row.at("penny"));
    ASSERT_NE(nail, nullptr) << row.at("type") << row.at("penny");
    EXPECT_EQ(nail->diameter, Length::inches(number(row.at("D_in")))) << nail->name;
    EXPECT_EQ(nail->length, Length::inches(number(row.at("L_in")))) << nail->name;
    const std::string& head = row.at("head_in");
    EXPECT_EQ(nail->head, head.empty() ? Length() : Length::inches(number(head))) << nail->name;
  }
}

}  // namespace
}  // namespace kw
