// Every row of the table of splitting distances, as it is printed, against ours.
#include <gtest/gtest.h>

#include "kerfwright/checks/fastener.h"
#include "kerfwright/lumber/catalogue.h"

#include "reference_table.h"

namespace kw {
namespace {

using Figure = double Distances::*;

// A row's key, what it prints, and our figures in the order in which it prints its own.
struct Printed {
  std::string_view rules = {}, distance = {}, value = {};
  std::vector<std::pair<double, double>> pairs = {};  // ours, printed
};

constexpr std::string_view driven = "EC5 nails, no predrill, density <= 420",
                           bored = "EC5 nails, predrilled", thick = "NDS, D >= 1/4 in",
                           commentary = "NDS Commentary, wood screws and nails";

// Of nails under 5 mm along and across the grain, and of thicker ones.
std::vector<std::pair<double, double>> european(bool is_bored, Figure figure,
                                                std::array<double, 4> printed) {
  std::vector<std::pair<double, double>> pairs;
  std::size_t i = 0;
  for (const double diameter : {0.15, 0.25})
    for (const double degrees : {0.0, 90.0})
      pairs.emplace_back(european_distances(diameter, is_bored, degrees).*figure, printed.at(i++));
  return pairs;
}

std::vector<Printed> european_rows() {
  return {
      {driven, "a1 along grain", "d<5 mm: (5+5|cos a|)d; d>=5 mm: (5+7|cos a|)d",
       european(false, &Distances::in_row, {10, 5, 12, 5})},
      {driven, "a2 across grain", "5d", european(false, &Distances::between_rows, {5, 5, 5, 5})},
      {driven, "a3,t loaded end", "(10+5 cos a)d",
       european(false, &Distances::end_pulled, {15, 10, 15, 10})},
      {driven, "a3,c unloaded end", "10d",
       european(false, &Distances::end_pushed, {10, 10, 10, 10})},
      {driven, "a4,t loaded edge", "d<5: (5+2 sin a)d; d>=5: (5+5 sin a)d",
       european(false, &Distances::edge_pressed, {5, 7, 5, 10})},
      {driven, "a4,c unloaded edge", "5d", european(false, &Distances::edge, {5, 5, 5, 5})},
      {bored, "a1", "(4+|cos a|)d", european(true, &Distances::in_row, {5, 4, 5, 4})},
      {bored, "a2", "(3+|sin a|)d", european(true, &Distances::between_rows, {3, 4, 3, 4})},
      {bored, "a3,t", "(7+5 cos a)d", european(true, &Distances::end_pulled, {12, 7, 12, 7})},
      {bored, "a3,c", "7d", european(true, &Distances::end_pushed, {7, 7, 7, 7})},
      {bored, "a4,t", "d<5: (3+2 sin a)d; d>=5: (3+4 sin a)d",
       european(true, &Distances::edge_pressed, {3, 5, 3, 7})},
      {bored, "a4,c", "3d", european(true, &Distances::edge, {3, 3, 3, 3})},
  };
}

std::vector<Printed> american_rows() {
  const Distances soft = least_distances(0.375, true, false),
                  hard = least_distances(0.375, true, true), soft_least = smallest_distances(false),
                  hard_least = smallest_distances(true);
  const Distances unbored = least_distances(0.164, false, false),
                  pilot = least_distances(0.164, true, false);
  const auto both = [&](Figure figure, double first, double second) {
    return std::vector<std::pair<double, double>>{{unbored.*figure, first},
                                                  {pilot.*figure, second}};
  };
  return {
      {thick,
       "end distance full / half value, compression",
       "4D / 2D",
       {{soft.end_pushed, 4}, {soft_least.end_pushed, 2}}},
      {thick,
       "end distance full / half value, tension softwood",
       "7D / 3.5D",
       {{soft.end_pulled, 7}, {soft_least.end_pulled, 3.5}}},
      {thick,
       "end distance full / half value, tension hardwood",
       "5D / 2.5D",
       {{hard.end_pulled, 5}, {hard_least.end_pulled, 2.5}}},
      {thick,
       "spacing in row parallel, full / min",
       "4D / 3D",
       {{soft.in_row, 4}, {soft_least.in_row, 3}}},
      {thick, "edge, parallel load, l/D <= 6", "1.5D", {{soft.edge, 1.5}, {hard.edge, 1.5}}},
      {thick,
       "edge, perpendicular load, loaded / unloaded",
       "4D / 1.5D",
       {{soft.edge_pressed, 4}, {soft.edge, 1.5}}},
      // A lag that stands as lateral load asks stands well for withdrawal too.
      {"NDS, lag in withdrawal only",
       "edge / end / spacing",
       "1.5D / 4D / 4D",
       {{soft.edge, 1.5}, {soft.end_pushed, 4}, {soft.in_row, 4}}},
      {commentary, "edge distance, not prebored / prebored", "2.5D / 2.5D",
       both(&Distances::edge, 2.5, 2.5)},
      {commentary, "end distance tension, not prebored / prebored", "15D / 10D",
       both(&Distances::end_pulled, 15, 10)},
      {commentary, "end distance compression, not prebored / prebored", "10D / 5D",
       both(&Distances::end_pushed, 10, 5)},
      {commentary, "spacing in row parallel, not prebored / prebored", "15D / 10D",
       both(&Distances::in_row, 15, 10)},
      {commentary, "spacing in row perpendicular, not prebored / prebored", "10D / 5D",
       both(&Distances::in_row_across, 10, 5)},
      {commentary, "between rows in line, not prebored / prebored", "5D / 3D",
       both(&Distances::between_rows, 5, 3)},
      {commentary, "between rows staggered", "2.5D / 2.5D",
       both(&Distances::between_staggered, 2.5, 2.5)},
  };
}

TEST(Distances, AreThoseOfEveryRowOfTheTable) {
  std::vector<Printed> known = european_rows();
  for (Printed& row : american_rows()) known.push_back(std::move(row));
  for (const Printed& row : known)
    for (const auto& [ours, printed] : row.pairs)
      EXPECT_NEAR(ours, printed, 1e-9) << row.rules << ", " << row.distance;
  for (const test::Record& record : test::records_in("fastener-spacing.tsv")) {
    // One maker's report on its structural screws: such screws are not in our tables (below).
    if (record.at("rule_set").starts_with("Structural screw report")) continue;
    const auto row = std::find_if(known.begin(), known.end(), [&](const Printed& k) {
      return k.rules == record.at("rule_set") && k.distance == record.at("distance");
    });
    ASSERT_NE(row, known.end()) << record.at("rule_set") << ", " << record.at("distance");
    EXPECT_EQ(record.at("value"), row->value) << record.at("distance");
  }
}

TEST(Distances, OfStructuralScrewsAreNotNeeded) {
  for (const Fastener& fastener : built_in_catalogue().fasteners)
    EXPECT_EQ(fastener.name.find("structural"), std::string::npos) << fastener.name;
}

}  // namespace
}  // namespace kw
