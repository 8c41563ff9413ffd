#include "unit.h"

#include <algorithm>
#include <array>

namespace kw {
namespace {

// One unit, and what it measures in base units as over / under.
struct UnitSize {
  std::string_view word = {};
  Dimension dimension = {};
  std::int64_t over = 1;
  std::int64_t under = 1;
};

// In the order of Unit. The inch is 25.4 mm and the pound 0.45359237 kg, both exactly
// (international yard and pound agreement, 1959; NIST SP 811, appendix B); an ounce is 1/16 lb; a
// pound-force is a pound times 9.80665 m/s^2 (standard gravity, 3rd CGPM 1901). 1 N = 1 kg m/s^2 =
// 2 * 10^10 kg tick/s^2.
constexpr std::array<UnitSize, 14> unit_sizes = {{
    {"", a_number},
    {"in", a_length, Length::ticks_per_inch},
    {"ft", a_length, 12 * Length::ticks_per_inch},
    {"mm", a_length, Length::ticks_per_mm},
    {"cm", a_length, 10 * Length::ticks_per_mm},
    {"m", a_length, 1000 * Length::ticks_per_mm},
    {"deg", an_angle},
    {"rad", an_angle, 180},
    {"kg", a_mass},
    {"g", a_mass, 1, 1000},
    {"lb", a_mass, 45'359'237, 100'000'000},
    {"oz", a_mass, 45'359'237, 1'600'000'000},
    {"N", a_force, 1000 * Length::ticks_per_mm},
    {"lbf", a_force, 8'896'443'230'521, 100},
}};

const UnitSize& size_of(Unit unit) {
  return unit_sizes[static_cast<std::size_t>(unit)];
}

struct Mark {
  std::string_view text = {};
  Unit unit = Unit::none;
};
// Two single marks are a double one, so they stand first.
constexpr std::array<Mark, 13> marks = {{{"\"", Unit::inch},
                                         {"''", Unit::inch},
                                         {"'", Unit::foot},
                                         {"\u2033", Unit::inch},
                                         {"\u201D", Unit::inch},
                                         {"\u201C", Unit::inch},
                                         {"\u2032\u2032", Unit::inch},
                                         {"\u2019\u2019", Unit::inch},
                                         {"\u2018\u2018", Unit::inch},
                                         {"\u2032", Unit::foot},
                                         {"\u2019", Unit::foot},
                                         {"\u2018", Unit::foot},
                                         {"\u00B0", Unit::degree}}};

}  // namespace

std::optional<Unit> unit_called(std::string_view word) {
  const auto found = std::find_if(unit_sizes.begin() + 1, unit_sizes.end(),
                                  [&](const UnitSize& size) { return size.word == word; });
  if (found == unit_sizes.end()) return std::nullopt;
  return static_cast<Unit>(found - unit_sizes.begin());
}

std::optional<Unit> take_mark(Cursor& cursor) {
  const char c = cursor.peek();
  if (c != '"' && c != '\'' && static_cast<unsigned char>(c) < 0x80U) return std::nullopt;
  for (const Mark& mark : marks) {
    if (cursor.take(mark.text)) return mark.unit;
  }
  return std::nullopt;
}

Dimension dimension_of(Unit unit) {
  return size_of(unit).dimension;
}

Ratio ratio_of(Unit unit) {
  return {size_of(unit).over, size_of(unit).under};
}

}  // namespace kw
