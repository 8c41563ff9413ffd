#include "recognise.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "lie.h"

namespace kw {
namespace {

struct Candidate {
  int board = 0;
  Signature signature = {};
  std::size_t group = 0;
};

bool is_square(const ResolvedBoard& board) {
  return board.strips == 1 && board.section.thickness == board.section.width;
}

std::optional<Vec3> show_of(const ResolvedBoard& board) {
  if (board.show.size() != 2) return std::nullopt;
  const double sign = board.show[0] == '-' ? -1.0 : 1.0;
  return board.show[1] == 'y' ? Vec3{0, sign, 0} : Vec3{0, 0, sign};
}

bool keeps_show(const Lie& turn, const ResolvedBoard& from, const ResolvedBoard& onto) {
  const auto a = show_of(from);
  const auto b = show_of(onto);
  if (!a && !b) return true;
  return a && b && dot(turn.turn(*a), *b) > 0.5;
}

// The turn that carries `body` onto a candidate, if one does.
std::optional<Lie> turn_onto(const Resolved& piece, const Body& body, const Signature& signature,
                             const Candidate& onto) {
  const auto& board = piece.boards[static_cast<std::size_t>(body.board)];
  const auto& other = piece.boards[static_cast<std::size_t>(onto.board)];
  for (const Lie& turn : turns_of_a_stick(is_square(board))) {
    if (keeps_show(turn, board, other) && carries(turn, signature, onto.signature)) return turn;
  }
  return std::nullopt;
}

using Key = std::tuple<int, int, std::int64_t>;  // stock, strips, width in ticks

Key key_of(const ResolvedBoard& board) {
  return {board.stock, board.strips, board.section.width.in_ticks()};
}

}  // namespace

std::vector<Alike> recognise(const Resolved& piece, const std::vector<Body>& bodies) {
  std::vector<Alike> groups;
  std::map<Key, std::multimap<double, Candidate>> known;  // by volume
  std::map<const Shape*, Signature> signatures;
  for (std::size_t i = 0; i < bodies.size(); ++i) {
    const Body& body = bodies[i];
    const auto& board = piece.boards[static_cast<std::size_t>(body.board)];
    auto [entry, is_new] = signatures.try_emplace(body.shape.get());
    if (is_new) entry->second = signature_of(*body.shape);
    const Signature& signature = entry->second;
    auto& candidates = known[key_of(board)];
    const double slack = 1e-6 * signature.volume + 1e-3;
    auto near = candidates.lower_bound(signature.volume - slack);
    bool placed = false;
    for (; near != candidates.end() && near->first <= signature.volume + slack; ++near) {
      const auto turn = turn_onto(piece, body, signature, near->second);
      if (!turn) continue;
      groups[near->second.group].members.push_back({static_cast<int>(i), *turn});
      placed = true;
      break;
    }
    if (placed) continue;
    candidates.emplace(signature.volume, Candidate{body.board, signature, groups.size()});
    groups.push_back({{Member{static_cast<int>(i), turns_of_a_stick(false).front()}}});
  }
  return groups;
}

}  // namespace kw
