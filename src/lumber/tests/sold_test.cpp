// Bits and fasteners in the other system of units.
#include "kerfwright/lumber/sold.h"

#include <cmath>
#include <gtest/gtest.h>

#include "kerfwright/measure/text.h"

namespace kw {
namespace {

Length inches(double n) {
  return Length::inches(n);
}

TEST(BitSold, IsTheNearestForAPilotAndNoSmallerForAShank) {
  EXPECT_EQ(bit_sold(inches(7.0 / 64), BitFor::hole, LengthUnit::mm), Length::mm(3));
  EXPECT_EQ(bit_sold(inches(3.0 / 32), BitFor::hole, LengthUnit::mm), Length::mm(2.5));
  EXPECT_EQ(bit_sold(inches(11.0 / 64), BitFor::clearance, LengthUnit::mm), Length::mm(4.5));
  EXPECT_EQ(bit_sold(inches(9.0 / 64), BitFor::clearance, LengthUnit::mm), Length::mm(4));
  EXPECT_EQ(bit_sold(Length::mm(5), BitFor::hole, LengthUnit::inch), inches(13.0 / 64));
  EXPECT_EQ(bit_sold(inches(3.0 / 8), BitFor::dowel, LengthUnit::mm), Length::mm(10));
  EXPECT_EQ(bit_sold(Length::mm(8), BitFor::dowel, LengthUnit::inch), inches(5.0 / 16));
}

TEST(BitSold, LeavesASizeThatIsSold) {
  EXPECT_EQ(bit_sold(inches(11.0 / 64), BitFor::clearance, LengthUnit::inch), inches(11.0 / 64));
  EXPECT_EQ(bit_sold(Length::mm(35), BitFor::hole, LengthUnit::mm), Length::mm(35));
  EXPECT_EQ(bit_sold(Length::mm(80), BitFor::hole, LengthUnit::mm), Length::mm(80));
}

// Every bit and every dowel prints without the mark of an inexact figure, for any hole up to 50 mm.
TEST(BitSold, PrintsExactly) {
  for (double mm = 0.3; mm < 50; mm += 0.137) {
    for (const BitFor use : {BitFor::hole, BitFor::clearance, BitFor::dowel}) {
      for (const LengthUnit unit : {LengthUnit::inch, LengthUnit::mm}) {
        const Length bit = bit_sold(Length::mm(mm), use, unit);
        if (bit == Length::mm(mm)) continue;  // past the largest
        EXPECT_EQ(format_length(bit, {.unit = unit}).find('~'), std::string::npos) << mm;
        if (use == BitFor::clearance) {
          EXPECT_GE(bit.in_mm(), mm - 0.02 - 1e-9);
        }
        // Steps are a millimetre or 1/16 in at most below 16 mm.
        if (mm > 1.5 && mm < 12.7 && use == BitFor::hole) {
          EXPECT_LE(std::abs(bit.in_mm() - mm), 0.5);
        }
      }
    }
  }
}

TEST(FastenerSold, IsNoLongerAndOfTheSameKind) {
  const Catalogue& book = built_in_catalogue();
  int changed = 0;
  for (const Fastener& f : book.fasteners) {
    for (const LengthUnit unit : {LengthUnit::inch, LengthUnit::mm}) {
      const Fastener& sold = fastener_sold(book, f, unit);
      EXPECT_EQ(sold.kind, f.kind);
      if (&sold == &f) continue;
      ++changed;
      EXPECT_LE(std::abs((sold.diameter - f.diameter).in_mm()), 0.15 * f.diameter.in_mm())
          << f.name << ": " << sold.name;
      const bool is_shortest =
          std::none_of(book.fasteners.begin(), book.fasteners.end(), [&](const Fastener& other) {
            return other.kind == sold.kind && other.diameter == sold.diameter &&
                   other.length <= f.length && other.length > sold.length;
          });
      EXPECT_TRUE(sold.length <= f.length || is_shortest) << f.name << ": " << sold.name;
    }
  }
  EXPECT_GE(changed, 100);
}

TEST(HardwareSold, NamesWhatIsOnTheShelf) {
  const Catalogue& book = built_in_catalogue();
  EXPECT_EQ(hardware_sold(book, "wood screw 8 x 1-1/4", LengthUnit::mm), "wood screw 4 x 30 mm");
  EXPECT_EQ(hardware_sold(book, "wood screw 8 x 1-1/4", LengthUnit::inch), "wood screw 8 x 1-1/4");
  EXPECT_EQ(hardware_sold(book, "wood screw 4 x 30 mm", LengthUnit::inch), "wood screw 8 x 1");
  EXPECT_EQ(hardware_sold(book, "deck screw 8 x 2", LengthUnit::mm),
            "deck screw 8 x 2 (4.2 x 50.8 mm)");
  EXPECT_EQ(hardware_sold(book, "brass hook", LengthUnit::mm), "brass hook");
}

}  // namespace
}  // namespace kw
