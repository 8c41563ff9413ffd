#include "cache.h"

#include <bit>

namespace kw {
namespace {

class KeyWriter {
 public:
  explicit KeyWriter(RecipeKey& key) : key_(key) {}
  void add(double value) { key_.push_back(std::bit_cast<std::uint64_t>(value)); }
  void add(int value) { key_.push_back(static_cast<std::uint32_t>(value)); }
  void add_count(std::size_t count) { key_.push_back(count); }
  void add(Vec3 v) {
    for (const double d : {v.x, v.y, v.z}) add(d);
  }
  void add(const Plane& plane) {
    add(plane.normal);
    add(plane.offset);
  }
  void add(const std::string& text) {
    add_count(text.size());
    for (const char c : text) key_.push_back(static_cast<unsigned char>(c));
  }
  void add(const Cylinder& c) {
    add(c.point);
    add(c.axis);
    add(c.radius);
    add(c.is_hollow ? 1 : 0);
  }
  void add(const Recipe::Trim& trim) {
    add(trim.plane);
    for (const int i : {trim.feature, trim.side, trim.cylinder}) add(i);
  }
  void add(const Cutter& cutter) {
    add(cutter.feature);
    add(cutter.first_side);
    add_all(cutter.planes);
    add_all(cutter.cylinders);
  }
  void add(const Feature& f) {
    for (const int i : {static_cast<int>(f.kind), f.joint, f.partner, f.hole}) add(i);
    add(f.name);
    add_all(f.planes);
    add_all(f.cutter_begin);
    add(f.mouth);
    add(f.direction);
    add(f.diameter);
    add(f.depth);
  }
  template <class T>
  void add_all(const std::vector<T>& list) {
    add_count(list.size());
    for (const T& item : list) add(item);
  }

 private:
  RecipeKey& key_;
};

}  // namespace

void write_key(const Recipe& recipe, RecipeKey& key) {
  key.clear();
  KeyWriter writer(key);
  for (const double d : {recipe.from_x, recipe.to_x, recipe.half_width, recipe.half_thickness}) {
    writer.add(d);
  }
  writer.add_all(recipe.trims);
  writer.add_all(recipe.cutters);
  writer.add_all(recipe.cylinders);
  writer.add_all(recipe.features);
}

std::size_t RecipeKeyHash::operator()(const RecipeKey& key) const {
  // Each word is mixed with its place by itself, so that the processor need not wait for the one
  // before.
  std::uint64_t hash = 0, place = 0;
  for (const std::uint64_t word : key) {
    place += 0x9E3779B97F4A7C15u;
    hash += ((word >> 29) ^ word ^ place) * 0xBF58476D1CE4E5B9u;
  }
  return static_cast<std::size_t>(hash ^ (hash >> 31));
}

ShapeCache::ShapeCache() : store_(std::make_unique<Store>()) {}
ShapeCache::~ShapeCache() = default;
ShapeCache::ShapeCache(ShapeCache&&) noexcept = default;
ShapeCache& ShapeCache::operator=(ShapeCache&&) noexcept = default;

}  // namespace kw
