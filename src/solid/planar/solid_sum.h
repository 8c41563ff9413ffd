// Private to solid: volume and centre of what loops bound, by the divergence theorem.
#pragma once

#include <span>

#include "kerfwright/measure/vector.h"

namespace kw {

// Sums pyramids from an apex over each loop of the surface (outer loops counter-clockwise seen from
// outside, holes clockwise). Exact for flat faces; an apex near the solid keeps the digits.
class SolidSum {
 public:
  explicit SolidSum(Vec3 apex) : apex_(apex) {}

  void add(std::span<const Vec3> loop) {
    const Vec3 a = loop[0] - apex_;
    for (std::size_t i = 2; i < loop.size(); ++i) {
      const Vec3 b = loop[i - 1] - apex_, c = loop[i] - apex_;
      const double six_volumes = dot(a, cross(b, c));
      six_volumes_ += six_volumes;
      moment_ += (a + b + c) * six_volumes;
    }
  }
  [[nodiscard]] double volume() const { return six_volumes_ / 6; }  // mm^3
  // The apex when there is no volume.
  [[nodiscard]] Vec3 centre() const {
    return six_volumes_ == 0 ? apex_ : apex_ + moment_ * (0.25 / six_volumes_);
  }

 private:
  Vec3 apex_ = {};
  double six_volumes_ = 0;
  Vec3 moment_ = {};
};

}  // namespace kw
