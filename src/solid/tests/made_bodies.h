// Bodies of a made-up piece, board by board.
#pragma once

#include <memory>

#include "recipe.h"

namespace kw::test {

inline std::vector<Body> bodies_from(const Resolved& piece) {
  Diagnostics ignored;
  const std::vector<Recipe> recipes = recipes_of(piece, ignored);
  std::vector<Body> bodies;
  for (std::size_t i = 0; i < recipes.size(); ++i) {
    auto shape = shape_of(recipes[i]);
    bodies.push_back(
        {static_cast<int>(i), piece.boards[i].frame, std::make_shared<Shape>(*std::move(shape))});
  }
  return bodies;
}

}  // namespace kw::test
