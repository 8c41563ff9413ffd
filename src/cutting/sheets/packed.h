// Small counts side by side in words, each with a spare bit, so that all are added and compared at
// once.
#pragma once

#include <array>
#include <bit>
#include <cstdint>
#include <optional>
#include <vector>

namespace kw::cutting::sheets {

template <std::size_t N>
using Packed = std::array<std::uint64_t, N>;

template <std::size_t N>
struct Packing {
  std::vector<Packed<N>> one = {};  // by kind: a count of one; nothing where it is not watched
  Packed<N> spare = {};             // the spare bits
  Packed<N> over = {};  // added to counts, sets the spare bit of each that is beyond its limit

  // False when `limits` need more words.
  bool lay_out(const std::vector<int>& limits, const std::vector<bool>& is_watched) {
    std::size_t word = 0;
    unsigned at = 0;
    one.resize(limits.size());
    for (std::size_t k = 0; k < limits.size(); ++k) {
      if (!is_watched[k]) continue;
      const auto limit = static_cast<std::uint64_t>(limits[k]);
      const auto bits = static_cast<unsigned>(std::bit_width(limit));
      if (at + bits + 1 > 64) ++word, at = 0;
      if (word >= N) return false;
      one[k][word] = std::uint64_t{1} << at;
      spare[word] |= std::uint64_t{1} << (at + bits);
      over[word] |= ((std::uint64_t{1} << bits) - 1 - limit) << at;
      at += bits + 1;
    }
    return true;
  }

  // None when a count gets beyond its limit.
  [[nodiscard]] std::optional<Packed<N>> sum(const Packed<N>& a, const Packed<N>& b) const {
    Packed<N> c;
    std::uint64_t beyond = 0;
    for (std::size_t i = 0; i < N; ++i) {
      c[i] = a[i] + b[i];
      beyond |= (c[i] + over[i]) & spare[i];
    }
    if (beyond != 0) return std::nullopt;
    return c;
  }

  // Whether no count of a is above that of b.
  [[nodiscard]] bool is_within(const Packed<N>& a, const Packed<N>& b) const {
    std::uint64_t short_by = 0;
    for (std::size_t i = 0; i < N; ++i) short_by |= spare[i] & ~((b[i] | spare[i]) - a[i]);
    return short_by == 0;
  }
};

template <std::size_t N>
std::uint64_t mixed(const Packed<N>& p) {
  std::uint64_t h = 0;
  for (const std::uint64_t w : p) {
    h = (h ^ w) * 0x9e3779b97f4a7c15;  // the golden ratio, as in splitmix64
    h ^= h >> 29;
  }
  return h;
}

}  // namespace kw::cutting::sheets
