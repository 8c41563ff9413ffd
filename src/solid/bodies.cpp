#include <utility>

#include "cache.h"

namespace kw {
namespace {

ShapeCache::Store::Made made_from(const Recipe& recipe) {
  auto outcome = shape_of(recipe);
  ShapeCache::Store::Made made{.diagnostics = outcome.diagnostics()};
  if (outcome) made.shape = std::make_shared<const Shape>(*std::move(outcome));
  return made;
}

void tell(const ShapeCache::Store::Made& made, const ResolvedBoard& board,
          Diagnostics& diagnostics) {
  for (Diagnostic diagnostic : made.diagnostics) {
    diagnostic.at = board.at;
    diagnostic.message = "board \"" + board.id + "\": " + diagnostic.message;
    diagnostics.push_back(std::move(diagnostic));
  }
}

}  // namespace

Reading<std::vector<Body>> bodies_of(const Resolved& piece, ShapeCache& cache) {
  Reading<std::vector<Body>> reading;
  auto& shapes = cache.store().shapes;
  decltype(ShapeCache::Store::shapes) used;
  const std::vector<Recipe> recipes = recipes_of(piece, reading.diagnostics);
  RecipeKey key;
  for (std::size_t i = 0; i < recipes.size(); ++i) {
    write_key(recipes[i], key);
    auto found = used.find(key);
    if (found == used.end()) {
      auto kept = shapes.extract(key);
      found = kept.empty() ? used.emplace(key, made_from(recipes[i])).first
                           : used.insert(std::move(kept)).position;
    }
    const ResolvedBoard& board = piece.boards[i];
    tell(found->second, board, reading.diagnostics);
    if (found->second.shape == nullptr) continue;
    reading.value.push_back({static_cast<int>(i), board.frame, found->second.shape});
  }
  shapes = std::move(used);
  return reading;
}

Reading<std::vector<Body>> bodies_of(const Resolved& piece) {
  ShapeCache cache;
  return bodies_of(piece, cache);
}

std::vector<std::shared_ptr<const Mesh>> meshes_of(const std::vector<Body>& bodies,
                                                   ShapeCache& cache) {
  auto& meshes = cache.store().meshes;
  decltype(ShapeCache::Store::meshes) used;
  std::vector<std::shared_ptr<const Mesh>> all;
  for (const Body& body : bodies) {
    auto& meshed = used[body.shape.get()];
    if (meshed.mesh == nullptr) {
      const auto before = meshes.find(body.shape.get());
      meshed = {body.shape, before != meshes.end() ? before->second.mesh : mesh_of(*body.shape)};
    }
    all.push_back(meshed.mesh);
  }
  meshes = std::move(used);
  return all;
}

std::vector<std::shared_ptr<const Mesh>> meshes_of(const std::vector<Body>& bodies) {
  ShapeCache cache;
  return meshes_of(bodies, cache);
}

}  // namespace kw
