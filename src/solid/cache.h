// Private to solid: what ShapeCache keeps from call to call.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <vector>

#include "near.h"
#include "recipe.h"

namespace kw {

// Everything that a shape is made from, so that two recipes are equal when their keys are.
using RecipeKey = std::vector<std::uint64_t>;
[[nodiscard]] RecipeKey key_of(const Recipe& recipe);

struct ShapeCache::Store {
  struct Made {
    std::shared_ptr<const Shape> shape = {};  // null when there is none
    Diagnostics diagnostics = {};             // without place
  };
  std::map<RecipeKey, Made> shapes = {};
  // By shape, which is kept alive beside its mesh so that no other can take its place in memory.
  struct Meshed {
    std::shared_ptr<const Shape> shape = {};
    std::shared_ptr<const Mesh> mesh = {};
  };
  std::map<const Shape*, Meshed> meshes = {};  // looked up only; its order is never seen
  Told<Clash> clashes = {};
  Told<Contact> contacts = {};
};

}  // namespace kw
