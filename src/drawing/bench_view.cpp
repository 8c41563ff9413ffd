#include "bench_view.h"

namespace kw {

Look look_at(Side side) {
  switch (side) {
    case Side::start:
      return {{-1, 0, 0}, {0, 0, 1}};
    case Side::end:
      return {{1, 0, 0}, {0, 0, 1}};
    case Side::low_edge:
      return {{0, -1, 0}, {0, 0, 1}};
    case Side::high_edge:
      return {{0, 1, 0}, {0, 0, -1}};
    case Side::back:
      return {{0, 0, -1}, {0, -1, 0}};
    case Side::front:
      break;
  }
  return {{0, 0, 1}, {0, 1, 0}};
}

Frame bench_frame(const Part& part) {
  const Lie& lie = part.members.front().lie;
  return {lie.move, lie.turn({1, 0, 0}), lie.turn({0, 1, 0}), lie.turn({0, 0, 1})};
}

View bench_view(const std::vector<Body>& bodies, const Part& part, const Look& look,
                bool with_hidden) {
  const Member& first = part.members.front();
  const Body& body = bodies[static_cast<std::size_t>(first.body)];
  const auto mesh = mesh_of(*body.shape);
  return view_of({Shown{body.shape.get(), mesh.get(), bench_frame(part)}}, look, with_hidden);
}

}  // namespace kw
