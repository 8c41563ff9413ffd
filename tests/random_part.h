// For tests: a board with random ends, holes in rows, tapers and half-laps with boards that cross
// it, as text. The same seed gives the same piece.
#pragma once

#include <cmath>
#include <fmt/core.h>
#include <random>
#include <string>

namespace kw::test {

class RandomPart {
 public:
  explicit RandomPart(unsigned seed) : random_(seed) {}

  std::string text() {
    const double length = whole(0, 3) == 0 ? real(3, 9) : real(9, 90);
    static constexpr const char* sections[] = {"1x2", "1x4", "2x4", "1x8", "2x6", "4x4", "1x12"};
    std::string toml = fmt::format(
        "[stock.a]\nsection = \"{}\"\nspecies = \"white ash\"\n[board.part]\nstock = "
        "\"a\"\nat = [\"0\", \"0\", \"0\"]\nalong = \"right\"\nlength = \"{:.3f}\"\n"
        "face = \"up\"\n{}{}",
        sections[whole(0, 6)], length, end("start"), end("end"));
    const int crossings = whole(0, 3);
    for (int i = 0; i < crossings; ++i) toml += crossing(i, length * (i + 0.8) / (crossings + 0.6));
    const int rows = whole(0, 3);
    for (int i = 0; i < rows; ++i) toml += holes(i, length);
    if (whole(0, 2) == 0)
      toml += fmt::format(
          "[cut.taper]\nof = [\"part\"]\nedge = \"+y\"\nfrom = \"{:.3f}\"\nto = \"{:.3f}\"\nends = "
          "\"{:.3f}\"\n",
          real(0.3, 0.6), real(0.7, 0.9), length * real(0.3, 0.6));
    return toml;
  }

 private:
  int whole(int low, int high) { return std::uniform_int_distribution<int>(low, high)(random_); }
  double real(double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random_);
  }
  std::string end(const char* which) {
    if (whole(0, 2) == 0) return "";
    const double mitre = whole(0, 1) == 0 ? 0 : real(-60, 60);
    const double bevel = whole(0, 1) == 0 ? 0 : real(-50, 50);
    return fmt::format("{} = {{ mitre = \"{:.2f} deg\", bevel = \"{:.2f} deg\" }}\n", which, mitre,
                       bevel);
  }
  std::string crossing(int i, double x) {
    const double a = real(40, 140) * 3.14159265 / 180;
    const double k = real(8, 20);
    return fmt::format(
        "[board.cross-{0}]\nstock = \"a\"\nruns = [[\"{1:.4f}\", \"{2:.4f}\", \"0\"], "
        "[\"{3:.4f}\", \"{4:.4f}\", \"0\"]]\nface = \"up\"\n[joint.lap-{0}]\nkind = "
        "\"half-lap\"\nof "
        "= [\"part\", \"cross-{0}\"]\n",
        i, x - k * std::cos(a), -k * std::sin(a), x + k * std::cos(a), k * std::sin(a));
  }
  std::string holes(int i, double length) {
    static constexpr const char* faces[] = {"+z", "-z", "+y", "-y"};
    const int count = whole(1, 12);
    return fmt::format(
        "[hole.row-{0}]\nof = [\"part\"]\nface = \"{1}\"\nalong = \"{2:.3f}\"\nacross = "
        "\"{3:.3f}\"\n"
        "diameter = \"{4:.3f}\"\ncount = {5}\nstep = \"{6:.3f}\"\n",
        i, faces[whole(0, 3)], length * real(0.05, 0.3), real(-0.1, 0.1), real(0.06, 0.2), count,
        length * real(0.2, 0.6) / count);
  }
  std::mt19937 random_;
};

}  // namespace kw::test
