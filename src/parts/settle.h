// Private to parts: letting boards settle against one another with the least gaps.
#pragma once

#include <memory>
#include <vector>

#include "kerfwright/measure/vector.h"

namespace kw {

// One place where two bodies touch: `normal` looks out of body `a` towards `b`; `weight` is the
// area that the place stands for.
struct Touch {
  int a = 0, b = 0;
  Vec3 at = {}, normal = {};
  double weight = 1;
};

// Least squares, weighted, over small shifts and turns of every body. The touches are fixed, the
// openings vary, so the normal equations are factored once.
class Settling {
 public:
  // `centres`: one point a body, about which it turns.
  Settling(const std::vector<Touch>& touches, const std::vector<Vec3>& centres);
  ~Settling();
  Settling(Settling&&) noexcept;
  Settling& operator=(Settling&&) noexcept;

  // `opening[i]`: how far touch i stands open (mm, negative: overlaps) before the bodies settle.
  // Gives what stays open after.
  [[nodiscard]] std::vector<double> settle(const std::vector<double>& opening) const;

 private:
  struct Equations;
  std::unique_ptr<Equations> equations_;
};

}  // namespace kw
