#include "block.h"

#include <algorithm>

namespace kw::cutting::sheets {
namespace {

class Placing {
 public:
  explicit Placing(const Blocks& blocks) : blocks_(blocks) {}

  std::vector<Node> run(Size board) {
    place(blocks_.root, board);
    return std::move(nodes_);
  }

 private:
  int add() {
    nodes_.emplace_back();
    return static_cast<int>(nodes_.size()) - 1;
  }

  // What is left over is cut away first, and so that the larger rest stays whole.
  int place(int index, Size from) {
    const int node = add();
    if (index < 0) return node;
    const Block& block = blocks_.all[static_cast<std::size_t>(index)];
    const Size& size = block.size;
    if (from == size) {
      settle(block, node);
      return node;
    }
    const bool crosscut_first =
        from.w == size.w ||
        (from.l != size.l && Wide{from.l - size.l} * from.w >= Wide{from.w - size.w} * from.l);
    const Size below = crosscut_first ? Size{size.l, from.w} : Size{from.l, size.w};
    const int first = place(index, below), second = add();
    Node& n = nodes_[static_cast<std::size_t>(node)];
    n.way = crosscut_first ? Way::crosscut : Way::rip;
    n.at = crosscut_first ? size.l : size.w;
    n.below = first;
    n.beyond = second;
    return node;
  }

  void settle(const Block& block, int node) {
    if (block.way == Way::none) {
      nodes_[static_cast<std::size_t>(node)].kind = block.kind;
      nodes_[static_cast<std::size_t>(node)].turned = block.is_turned;
      return;
    }
    const Size& first = blocks_.all[static_cast<std::size_t>(block.first)].size;
    const bool is_crosscut = block.way == Way::crosscut;
    Size below = block.size, beyond = block.size;
    (is_crosscut ? below.l : below.w) = is_crosscut ? first.l : first.w;
    (is_crosscut ? beyond.l : beyond.w) -= is_crosscut ? first.l : first.w;
    const int a = place(block.first, below), b = place(block.second, beyond);
    Node& n = nodes_[static_cast<std::size_t>(node)];
    n.way = block.way;
    n.at = is_crosscut ? first.l : first.w;
    n.below = a;
    n.beyond = b;
  }

  const Blocks& blocks_;
  std::vector<Node> nodes_ = {};
};

}  // namespace

int Blocks::add_part(int kind, bool is_turned, Size size) {
  all.push_back({.kind = kind, .is_turned = is_turned, .size = size});
  return static_cast<int>(all.size()) - 1;
}

int Blocks::join(int first, int second, Way way) {
  if (first < 0) return second;
  if (second < 0) return first;
  const Size a = all[static_cast<std::size_t>(first)].size;
  const Size b = all[static_cast<std::size_t>(second)].size;
  const Size size = way == Way::crosscut ? Size{a.l + b.l, std::max(a.w, b.w)}
                                         : Size{std::max(a.l, b.l), a.w + b.w};
  all.push_back({.way = way, .first = first, .second = second, .size = size});
  return static_cast<int>(all.size()) - 1;
}

std::vector<int> counts_of(const Model& model, const Blocks& blocks) {
  std::vector<int> counts(model.kinds.size());
  for (const Block& b : blocks.all) {
    if (b.kind >= 0) ++counts[static_cast<std::size_t>(b.kind)];
  }
  return counts;
}

Pattern pattern_of(const Model& model, int board, const Blocks& blocks) {
  const Size size = model.boards[static_cast<std::size_t>(board)].size;
  return {board, Placing(blocks).run(size)};
}

}  // namespace kw::cutting::sheets
