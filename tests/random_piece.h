// For tests: random pieces as text. The same seed gives the same piece.
#pragma once

#include <fmt/core.h>
#include <random>
#include <string>

namespace kw::test {

class RandomPiece {
 public:
  explicit RandomPiece(unsigned seed) : random_(seed) {}

  // Sixty-fourths of an inch in [low, high), as the trade writes them.
  std::string inches(int low, int high) {
    const int n = std::uniform_int_distribution<int>(low * 64, high * 64 - 1)(random_);
    return fmt::format("{} {}/64", n / 64, n % 64);
  }
  int whole(int low, int high) { return std::uniform_int_distribution<int>(low, high)(random_); }
  double real(double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random_);
  }

  // Tables (no head) of one crossing frame: two leaning legs half-lapped, a shelf housed between
  // two uprights, an arm with a compound end. All sizes random, every board sound.
  std::string frame() {
    return fmt::format(R"toml(
[derived]
lean = "{0} deg"
tall = "{1}"
reach = "tall * tan(lean)"
wide = "{2}"
[plane.top]
at = ["0", "0", "tall"]
faces = "up"
[board.leg-a]
stock = "leg"
runs = [["0", "-reach / 2", "0"], ["0", "reach / 2", "tall"]]
face = "+x"
start = "floor"
end = "top"
[board.leg-b]
stock = "leg"
runs = [["0", "reach / 2", "0"], ["0", "-reach / 2", "tall"]]
face = "+x"
start = "floor"
end = "top"
[joint.cross]
kind = "half-lap"
of = ["leg-a", "leg-b"]
[board.side-l]
stock = "side"
at = ["60", "0", "0"]
along = "up"
length = "tall"
face = "right"
hold = ["middle", "low"]
[board.side-r]
stock = "side"
at = ["60 + wide", "0", "0"]
along = "up"
length = "tall"
face = "left"
hold = ["middle", "low"]
[board.shelf]
stock = "side"
runs = [["60", "0", "{3}"], ["60 + wide", "0", "{3}"]]
face = "up"
start = {{ against = "side-l" }}
end = {{ against = "side-r" }}
[joint.shelf]
kind = "housing"
of = ["side-*", "shelf"]
depth = "{4}"
[board.arm]
stock = "leg"
at = ["0", "80", "10"]
along = "right"
length = "{5}"
face = "up"
start = {{ mitre = "{6:.3f} deg", bevel = "{7:.3f} deg" }}
)toml",
                       whole(20, 44), inches(24, 40), inches(18, 48), inches(6, 18), depth(),
                       inches(12, 60), real(-45, 45), real(-40, 40));
  }

  static std::string stocks() {
    return "[stock.leg]\nsection = \"2x4\"\nspecies = \"red oak\"\nrip = \"3\"\n"
           "[stock.side]\nsection = \"1x8\"\nspecies = \"white ash\"\n";
  }

 private:
  std::string depth() { return fmt::format("{}/64", whole(6, 40)); }
  std::mt19937 random_;
};

}  // namespace kw::test
