// Private to solid: what ShapeCache keeps from call to call.
#pragma once

#include <cstdint>
#include <memory>
#include <unordered_map>
#include <vector>

#include "near.h"
#include "recipe.h"

namespace kw {

// Everything that a shape is made from, so that two recipes are equal when their keys are.
using RecipeKey = std::vector<std::uint64_t>;
void write_key(const Recipe& recipe, RecipeKey& key);  // keeps the memory that the key has
struct RecipeKeyHash {
  [[nodiscard]] std::size_t operator()(const RecipeKey& key) const;
};

struct ShapeCache::Store {
  struct Made {
    std::shared_ptr<const Shape> shape = {};  // null when there is none
    Diagnostics diagnostics = {};             // without place
  };
  // Looked up only, as the meshes: the order in them is never seen.
  std::unordered_map<RecipeKey, Made, RecipeKeyHash> shapes = {};
  // By shape, which is kept alive beside its mesh so that no other can take its place in memory.
  struct Meshed {
    std::shared_ptr<const Shape> shape = {};
    std::shared_ptr<const Mesh> mesh = {};
  };
  std::unordered_map<const Shape*, Meshed> meshes = {};
  Told<Clash> clashes = {};
  Told<Contact> contacts = {};
};

}  // namespace kw
