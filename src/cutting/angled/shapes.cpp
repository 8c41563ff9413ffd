#include "angled/shapes.h"

#include <algorithm>
#include <map>

namespace kw::cutting::angled {

Shapes shapes_of(const Model& model) {
  Shapes shapes;
  std::map<Shape, int> known;
  for (const Kind& kind : model.kinds) {
    Shape shape;
    for (const Pose& pose : kind.poses) shape.push_back({pose.left, pose.right});
    std::sort(shape.begin(), shape.end());
    const auto [place, is_new] = known.try_emplace(shape, static_cast<int>(shapes.all.size()));
    if (is_new) shapes.all.push_back(shape);
    shapes.of_kind.push_back(place->second);
  }
  shapes.ends = static_cast<int>(model.ends.size());
  for (int right = 0; right < shapes.ends; ++right) {
    for (int left = 0; left < shapes.ends; ++left)
      shapes.gaps.push_back(cutting::gap(model, right, left));
  }
  return shapes;
}

}  // namespace kw::cutting::angled
