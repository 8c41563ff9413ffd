#include "own_cuts.h"

#include <cmath>
#include <utility>

#include "bore.h"

namespace kw {
namespace {

FeatureKind kind_of(CutSource source) {
  switch (source) {
    case CutSource::start:
      return FeatureKind::start;
    case CutSource::end:
      return FeatureKind::end;
    case CutSource::free:
      return FeatureKind::cut;
    case CutSource::taper:
      return FeatureKind::taper;
    case CutSource::outline:
      return FeatureKind::outline;
    case CutSource::corner:
      return FeatureKind::corner;
  }
  return FeatureKind::cut;
}

// The feature of that kind and name, made when there is none yet: the planes of one [corner] or of
// an outline are sides of one feature.
int feature_for(Recipe& recipe, FeatureKind kind, const std::string& name) {
  for (std::size_t i = 1; i < recipe.features.size(); ++i)
    if (recipe.features[i].kind == kind && recipe.features[i].name == name)
      return static_cast<int>(i);
  recipe.features.push_back({.kind = kind, .name = name});
  return static_cast<int>(recipe.features.size()) - 1;
}

void add_trims(const ResolvedBoard& board, Recipe& recipe) {
  for (const PlaneCut& cut : board.cuts) {
    const int number = feature_for(recipe, kind_of(cut.source), cut.name);
    Feature& feature = recipe.features[static_cast<std::size_t>(number)];
    const auto side = static_cast<int>(feature.planes.size());
    recipe.trims.push_back({cut.plane, number, side, cut.curve});
    feature.cutter_begin.push_back(side);
    feature.planes.push_back({-cut.plane.normal, -cut.plane.offset});
  }
}

void add_hollow(const Hollow& hollow, Recipe& recipe) {
  const int number = feature_for(recipe, FeatureKind::outline, "");
  Feature& feature = recipe.features[static_cast<std::size_t>(number)];
  Cutter cutter{.feature = number, .first_side = static_cast<int>(feature.planes.size())};
  for (std::size_t i = 0; i < hollow.points.size(); ++i) {
    const Vec2 from = hollow.points[i], to = hollow.points[(i + 1) % hollow.points.size()];
    if (norm(to - from) < 1e-9) continue;
    cutter.planes.push_back(side_of(from, to));
    cutter.cylinders.push_back(hollow.curves[i] < 0 ? -1 : hollow.curves[i]);
  }
  feature.cutter_begin.push_back(cutter.first_side);
  feature.planes.insert(feature.planes.end(), cutter.planes.begin(), cutter.planes.end());
  recipe.cutters.push_back(std::move(cutter));
}

void add_hole(const ResolvedHole& hole, int number, Recipe& recipe) {
  add_bore(recipe, {.kind = FeatureKind::hole,
                    .name = hole.name,
                    .joint = hole.joint,
                    .hole = number,
                    .mouth = hole.mouth,
                    .direction = hole.direction,
                    .diameter = hole.diameter,
                    .depth = hole.is_through ? endless : hole.depth});
}

}  // namespace

Plane side_of(Vec2 a, Vec2 b) {
  const Vec2 along = (b - a) * (1.0 / norm(b - a));
  return {{along.y, -along.x, 0}, along.y * a.x - along.x * a.y};
}

Recipe own_cuts_of(const ResolvedBoard& board) {
  Recipe recipe{.from_x = board.from_x,
                .to_x = board.to_x,
                .half_width = board.section.width.in_mm() / 2,
                .half_thickness = board.section.thickness.in_mm() / 2};
  recipe.features.push_back({.kind = FeatureKind::stick});
  // Curves first, so that a curve's number is its cylinder's.
  for (const Curve& curve : board.curves)
    recipe.cylinders.push_back(
        {{curve.centre.x, curve.centre.y, 0}, {0, 0, 1}, curve.radius, curve.is_hollow});
  add_trims(board, recipe);
  for (const Hollow& hollow : board.hollows) add_hollow(hollow, recipe);
  for (std::size_t i = 0; i < board.holes.size(); ++i)
    add_hole(board.holes[i], static_cast<int>(i), recipe);
  return recipe;
}

}  // namespace kw
