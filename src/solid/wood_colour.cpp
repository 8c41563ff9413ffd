#include "wood_colour.h"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <string>

namespace kw {
namespace {

struct Tint {
  std::string_view word = {};        // in the species' name, lower case
  int red = 0, green = 0, blue = 0;  // sRGB
};

constexpr Tint tints[] = {
    {"walnut", 104, 75, 56},    {"cherry", 176, 116, 80},   {"mahogany", 150, 88, 62},
    {"teak", 168, 124, 76},     {"redcedar", 176, 114, 84}, {"cedar", 186, 130, 96},
    {"redwood", 164, 98, 76},   {"oak", 198, 160, 112},     {"ash", 216, 188, 146},
    {"maple", 228, 202, 164},   {"birch", 226, 200, 156},   {"beech", 214, 172, 130},
    {"poplar", 206, 200, 158},  {"larch", 202, 152, 104},   {"douglas", 210, 158, 110},
    {"hemlock", 220, 188, 146}, {"plywood", 218, 186, 138}, {"fir", 224, 192, 146},
    {"spruce", 232, 206, 162},  {"pine", 230, 194, 140},
};
constexpr Tint plain = {"", 228, 196, 148};

// IEC 61966-2-1, the transfer function of sRGB.
double linear(int value) {
  const double s = value / 255.0;
  return s <= 0.04045 ? s / 12.92 : std::pow((s + 0.055) / 1.055, 2.4);
}

}  // namespace

std::array<double, 3> wood_colour_of(std::string_view species) {
  std::string name(species);
  std::transform(name.begin(), name.end(), name.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  const auto* found = std::find_if(std::begin(tints), std::end(tints), [&](const Tint& tint) {
    return name.find(tint.word) != std::string::npos;
  });
  const Tint& tint = found == std::end(tints) ? plain : *found;
  return {linear(tint.red), linear(tint.green), linear(tint.blue)};
}

}  // namespace kw
