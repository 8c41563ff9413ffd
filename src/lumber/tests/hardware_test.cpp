// Fasteners, adhesives and finishes against values from outside, each with where it was had.
#include <cmath>
#include <gtest/gtest.h>
#include <string>

#include "kerfwright/lumber/catalogue.h"

namespace kw {
namespace {

const Catalogue& book() {
  return built_in_catalogue();
}

bool is_screw_of_a_gauge(const Fastener& fastener) {
  const bool is_screw = fastener.kind == FastenerKind::wood_screw ||
                        fastener.kind == FastenerKind::deck_screw ||
                        fastener.kind == FastenerKind::pocket_screw;
  return is_screw && fastener.name.find(" mm") == std::string::npos;
}

// ASME B18.6.1: D = 0.060 + 0.013 N in.
TEST(Screws, KeepTheGaugeRule) {
  int seen = 0;
  for (const Fastener& screw : book().fasteners) {
    if (!is_screw_of_a_gauge(screw)) continue;
    const int gauge = std::stoi(screw.name.substr(screw.name.find("screw ") + 6));
    EXPECT_EQ(screw.diameter, Length::inches(0.060 + 0.013 * gauge)) << screw.name;
    ++seen;
  }
  EXPECT_GE(seen, 60);
}

// NDS 2018 Appendix L Table L3: shank, root and head, in (secondary transcription).
TEST(Screws, AgreeWithTheDesignSpecification) {
  struct Row {
    const char* name = "";
    double shank = 0, root = 0, head = 0;
  };
  const Row rows[] = {
      {"wood screw 6 x 1", 0.138, 0.113, 0.262},  {"wood screw 8 x 1-1/4", 0.164, 0.131, 0.312},
      {"wood screw 9 x 2", 0.177, 0.142, 0.337},  {"wood screw 10 x 2", 0.190, 0.152, 0.363},
      {"wood screw 12 x 3", 0.216, 0.171, 0.414}, {"wood screw 14 x 3", 0.242, 0.196, 0.480}};
  for (const Row& row : rows) {
    const Fastener* screw = find_fastener(book(), row.name);
    ASSERT_NE(screw, nullptr) << row.name;
    EXPECT_EQ(screw->diameter, Length::inches(row.shank)) << row.name;
    EXPECT_EQ(screw->root, Length::inches(row.root)) << row.name;
    EXPECT_EQ(screw->head, Length::inches(row.head)) << row.name;
  }
}

// The footnote of Table L3: cut thread of two thirds of the length; rolled thread the greater of
// that and four diameters.
TEST(Screws, HaveTheThreadOfTheirKind) {
  const double tolerance = Length::inches(0.0006).in_mm();
  for (const Fastener& screw : book().fasteners) {
    if (!is_screw_of_a_gauge(screw)) continue;
    double wanted = screw.length.in_mm() * 2 / 3;
    if (screw.kind == FastenerKind::deck_screw) {
      wanted = std::max(wanted, 4 * screw.diameter.in_mm());
    }
    EXPECT_NEAR(screw.thread.in_mm(), wanted, tolerance) << screw.name;
  }
}

// Shop chart: No. 8 takes 7/64 in softwood, 1/8 in hardwood, 11/64 clear.
TEST(Screws, HaveTheBitsOfTheShopChart) {
  const Fastener* screw = find_fastener(book(), "screw-8x1-1/4");
  ASSERT_NE(screw, nullptr);
  EXPECT_EQ(screw->pilot_soft, Length::inches(7.0 / 64));
  EXPECT_EQ(screw->pilot_hard, Length::inches(1.0 / 8));
  EXPECT_EQ(screw->clearance, Length::inches(11.0 / 64));
}

TEST(Screws, NeverTakeAPilotThickerThanTheirShankNorAClearanceThinner) {
  for (const Fastener& each : book().fasteners) {
    if (each.kind == FastenerKind::dowel) continue;
    EXPECT_LE(each.pilot_soft, each.diameter) << each.name;
    EXPECT_LE(each.pilot_hard, each.diameter) << each.name;
    if (each.pilot_soft != Length()) {
      EXPECT_LE(each.pilot_soft, each.pilot_hard) << each.name;
    }
    if (each.clearance != Length()) {
      EXPECT_GE(each.clearance, each.diameter) << each.name;
    }
  }
}

// NDS 2018 Appendix L Table L4 (secondary transcription), in.
TEST(Nails, AgreeWithTheDesignSpecification) {
  struct Row {
    const char* name = "";
    double diameter = 0, length = 0, head = 0;
  };
  const Row rows[] = {{"6d common", 0.113, 2, 0.266},       {"nail-8d", 0.131, 2.5, 0.281},
                      {"common nail 10d", 0.148, 3, 0.312}, {"16d common", 0.162, 3.5, 0.344},
                      {"common nail 60d", 0.263, 6, 0.531}, {"box nail 10d", 0.128, 3, 0},
                      {"sinker nail 16d", 0.148, 3.25, 0}};
  for (const Row& row : rows) {
    const Fastener* nail = find_fastener(book(), row.name);
    ASSERT_NE(nail, nullptr) << row.name;
    EXPECT_EQ(nail->diameter, Length::inches(row.diameter)) << row.name;
    EXPECT_EQ(nail->length, Length::inches(row.length)) << row.name;
    EXPECT_EQ(nail->head, Length::inches(row.head)) << row.name;
  }
}

// NDS 2018 12.1.6.2: a bored hole of at most 75 % of the nail, 90 % where G is over 0.6.
TEST(Nails, HaveHolesWithinTheLimit) {
  for (const Fastener& nail : book().fasteners) {
    if (nail.kind != FastenerKind::nail) continue;
    EXPECT_LE(nail.pilot_soft.in_mm(), 0.75 * nail.diameter.in_mm()) << nail.name;
    EXPECT_LE(nail.pilot_hard.in_mm(), 0.90 * nail.diameter.in_mm()) << nail.name;
  }
}

// Root diameters as they enter the printed lag screw tables of NDS 2018 (12J, 12K), in; the thread
// of the worked example AWC E2.3: 1/2 x 4 has 2 1/2 in with its tip.
TEST(LagScrews, AgreeWithTheDesignSpecification) {
  EXPECT_EQ(find_fastener(book(), "lag screw 1/4 x 2")->root, Length::inches(0.173));
  EXPECT_EQ(find_fastener(book(), "lag screw 3/8 x 3")->root, Length::inches(0.265));
  EXPECT_EQ(find_fastener(book(), "lag screw 1/2 x 4")->root, Length::inches(0.371));
  EXPECT_EQ(find_fastener(book(), "lag screw 1/2 x 4")->thread, Length::inches(2.5));
}

TEST(Bolts, WhoseFiguresAreAnagramsAreKeptApart) {
  const Fastener* thin = find_fastener(book(), "hex bolt 1/4 x 1-1/2");
  ASSERT_NE(thin, nullptr);
  EXPECT_EQ(thin->diameter, Length::inches(0.25));
  EXPECT_EQ(find_fastener(book(), "hex bolt 1/2 x 1-1/4"), nullptr);
}

TEST(Dowels, FillTheirHole) {
  const Fastener* dowel = find_fastener(book(), "dowel 3/8 x 2");
  ASSERT_NE(dowel, nullptr);
  EXPECT_EQ(dowel->diameter, Length::inches(0.375));
  EXPECT_EQ(dowel->pilot_soft, dowel->diameter);
  EXPECT_EQ(find_fastener(book(), "dowel 8 x 40 mm")->length, Length::mm(40));
}

// 1 ft^2 / US gal is 0.0245424 m^2/l (0.09290304 / 3.785411784).
TEST(Adhesives, CoverByTheLitre) {
  const Adhesive* glue = find_adhesive(book(), "pva");
  ASSERT_NE(glue, nullptr);
  EXPECT_NEAR(glue->coverage_m2_per_litre.value(), 250 * 0.0245424, 1e-4);
  EXPECT_EQ(glue->open_minutes, 4);
  EXPECT_EQ(glue->clamp_minutes, 60);
  EXPECT_EQ(glue->full_hours, 24);
}

// One maker's table, ft^2/gal: new smooth 200-225, new rough 125-150, weathered 150-175 and
// 100-125.
TEST(Finishes, CoverByTheLitre) {
  const Finish* smooth = find_finish(book(), "exterior stain");
  ASSERT_NE(smooth, nullptr);
  EXPECT_NEAR(smooth->coverage_m2_per_litre_low.value(), 200 * 0.0245424, 1e-4);
  EXPECT_NEAR(smooth->coverage_m2_per_litre_high.value(), 225 * 0.0245424, 1e-4);
  const Finish* rough = find_finish(book(), "exterior stain on weathered rough wood");
  ASSERT_NE(rough, nullptr);
  EXPECT_NEAR(rough->coverage_m2_per_litre_low.value(), 100 * 0.0245424, 1e-4);
}

}  // namespace
}  // namespace kw
