#include "kerfwright/lumber/sold.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace kw {
namespace {

// Common practice, no published source.
std::vector<Length> bits_of(LengthUnit unit) {
  std::vector<Length> bits;
  if (unit == LengthUnit::mm) {
    for (int half = 2; half <= 20; ++half) bits.push_back(Length::mm(half / 2.0));
    for (const int mm :
         {11, 12, 13, 14, 15, 16, 18, 20, 22, 24, 25, 26, 28, 30, 32, 35, 38, 40, 45, 50})
      bits.push_back(Length::mm(mm));
    return bits;
  }
  for (int n = 4; n <= 32; ++n) bits.push_back(Length::inches(n / 64.0));
  for (int n = 9; n <= 24; ++n) bits.push_back(Length::inches(n / 16.0));
  for (int n = 13; n <= 17; ++n) bits.push_back(Length::inches(n / 8.0));
  return bits;
}

bool is_metric(const Fastener& fastener) {
  return fastener.diameter.in_ticks() % (Length::ticks_per_mm / 2) == 0;
}

std::vector<Length> dowels_of(LengthUnit unit) {
  std::vector<Length> sizes;
  for (const Fastener& f : built_in_catalogue().fasteners) {
    if (f.kind == FastenerKind::dowel && is_metric(f) == (unit == LengthUnit::mm))
      sizes.push_back(f.diameter);
  }
  std::sort(sizes.begin(), sizes.end());
  return sizes;
}

double apart(Length a, Length b) {
  return std::abs((a - b).in_mm());
}

constexpr double alike = 0.02;        // mm: diameters as near as one another; the thicker is taken
constexpr double most_change = 0.15;  // of the diameter: past it nothing stands in its place

bool stands_for(Length other, Length diameter) {
  return apart(other, diameter) <= most_change * diameter.in_mm();
}

// Better in place of `wanted`: nearer in diameter, then the longest not longer, then the shortest.
bool is_better(const Fastener& a, const Fastener& b, const Fastener& wanted) {
  const double near_a = apart(a.diameter, wanted.diameter);
  const double near_b = apart(b.diameter, wanted.diameter);
  if (std::abs(near_a - near_b) > alike) return near_a < near_b;
  if (a.diameter != b.diameter) return a.diameter > b.diameter;
  const bool fits_a = a.length <= wanted.length;
  const bool fits_b = b.length <= wanted.length;
  if (fits_a != fits_b) return fits_a;
  return fits_a ? a.length > b.length : a.length < b.length;
}

}  // namespace

Length bit_sold(Length diameter, BitFor use, LengthUnit unit) {
  constexpr double gives = 0.02;  // mm that a clearance hole may be tighter than asked for
  const auto sizes = use == BitFor::dowel ? dowels_of(unit) : bits_of(unit);
  if (sizes.empty() || diameter > sizes.back())
    return use == BitFor::dowel ? bit_sold(diameter, BitFor::hole, unit) : diameter;
  if (use == BitFor::clearance) {
    return *std::find_if(sizes.begin(), sizes.end(),
                         [&](Length size) { return size.in_mm() >= diameter.in_mm() - gives; });
  }
  const Length nearest = *std::min_element(sizes.begin(), sizes.end(), [&](Length a, Length b) {
    return apart(a, diameter) < apart(b, diameter);
  });
  return use == BitFor::dowel && !stands_for(nearest, diameter)
             ? bit_sold(diameter, BitFor::hole, unit)
             : nearest;
}

const Fastener& fastener_sold(const Catalogue& catalogue, const Fastener& fastener,
                              LengthUnit unit) {
  const bool wants_metric = unit == LengthUnit::mm;
  if (is_metric(fastener) == wants_metric) return fastener;
  const Fastener* best = nullptr;
  for (const Fastener& other : catalogue.fasteners) {
    if (other.kind != fastener.kind || is_metric(other) != wants_metric ||
        !stands_for(other.diameter, fastener.diameter))
      continue;
    if (best == nullptr || is_better(other, *best, fastener)) best = &other;
  }
  return best == nullptr ? fastener : *best;
}

std::string hardware_sold(const Catalogue& catalogue, const std::string& name, LengthUnit unit) {
  const Fastener* said = find_fastener(catalogue, name);
  if (said == nullptr) return name;
  const Fastener& sold = fastener_sold(catalogue, *said, unit);
  if (&sold != said) return sold.name;
  if (unit != LengthUnit::mm || is_metric(*said)) return name;
  return fmt::format("{} ({:.1f} x {:.1f} mm)", name, said->diameter.in_mm(), said->length.in_mm());
}

}  // namespace kw
