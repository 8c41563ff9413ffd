// What the trade of the other system of units sells in place of a bit or a fastener: a plan in
// millimetres names what is on the shelf where rules are in millimetres, and the same the other
// way.
#pragma once

#include "kerfwright/lumber/catalogue.h"

namespace kw {

enum class BitFor : std::uint8_t {
  hole,       // the nearest size
  clearance,  // the nearest that is no smaller: the shank must pass
  dowel       // the nearest size that dowels are sold in
};

// The bit to take for a hole: `diameter` itself when that size is sold in the unit, else as `use`
// says. Sizes of bits: mm 1 to 10 by halves, 11 to 16, 18, 20, 22, 24 to 26, 28, 30, 32, 35, 38,
// 40, 45, 50; inches by 64ths from 1/16 to 1/2, by 16ths to 1 1/2, by 8ths to 2 1/8 (common
// practice, no published source). Dowels: those of data/dowels.toml. Past the largest: `diameter`.
[[nodiscard]] Length bit_sold(Length diameter, BitFor use, LengthUnit unit);

// The fastener of the same kind that is sold in the unit: the nearest diameter (of two as near the
// thicker), then the longest that is no longer (so that none comes out that did not); `fastener`
// itself when it is sold so, or when the tables have none within 15 % of its diameter. A size is
// metric when its diameter is a whole number of half millimetres.
[[nodiscard]] const Fastener& fastener_sold(const Catalogue& catalogue, const Fastener& fastener,
                                            LengthUnit unit);

// The name of that fastener. One that has none in millimetres is given its size in them: "deck
// screw 8 x 2 (4.2 x 50.8 mm)". A name that the catalogue does not know stays as it is.
[[nodiscard]] std::string hardware_sold(const Catalogue& catalogue, const std::string& name,
                                        LengthUnit unit);

}  // namespace kw
