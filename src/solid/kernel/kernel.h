// Private to solid: what the geometry kernel is asked. It lives in a shared library of its own,
// kw_kernel, that `to_step` loads when it is called and that the tests link as a judge; no type of
// the kernel's is seen here. Solids are built from true planes and true cylinders, not from the
// core's facets.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "recipe.h"

namespace kw::kernel {

// What the kernel makes of one recipe, in the board's frame.
struct Measured {
  bool is_valid = false;   // the kernel's own checker finds nothing
  std::size_t solids = 0;  // 0: nothing left; more than 1: it falls into pieces
  std::size_t faces = 0, cylindrical_faces = 0;
  double volume = 0;  // mm^3
  double area = 0;    // mm^2
  Vec3 centroid = {};
  std::string failure = {};  // what the kernel threw; "" when it did not
};
[[nodiscard]] Measured measure(const Recipe& recipe);

// A recipe in its place.
struct Placed {
  std::string name = {};
  Recipe recipe = {};
  Frame frame = {};
};

// The wood that two boards both want, mm^3; negative when the kernel failed.
[[nodiscard]] double common_volume(const Placed& a, const Placed& b);

struct StepRequest {
  std::string title = {}, author = {};
  std::vector<Placed> boards = {};
};
struct StepAnswer {
  std::string text = {};    // the file; empty when it failed
  std::string failed = {};  // the board that could not be made, "" when it was the file
  std::string reason = {};  // the kernel's words
};

// The one door that is looked up by name in the loaded library.
using WriteStep = void(const StepRequest&, StepAnswer&);
inline constexpr const char* write_step_symbol = "kw_kernel_write_step";

}  // namespace kw::kernel

extern "C" void kw_kernel_write_step(const kw::kernel::StepRequest& request,
                                     kw::kernel::StepAnswer& answer);
