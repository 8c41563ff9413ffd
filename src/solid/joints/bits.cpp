#include "joints/bits.h"

namespace kw {

const Fastener* Bits::fastener(const std::string& name) {
  if (name.empty()) return nullptr;
  const auto [at, is_new] = fasteners_.try_emplace(name, nullptr);
  if (is_new) at->second = find_fastener(built_in_catalogue(), name);
  return at->second;
}

double Bits::pilot_in(int board, const Fastener& fastener) {
  const int stock = piece_.boards[static_cast<std::size_t>(board)].stock;
  return (is_hard(stock) ? fastener.pilot_hard : fastener.pilot_soft).in_mm();
}

bool Bits::is_hard(int stock) {
  auto& known = is_hard_[static_cast<std::size_t>(stock)];
  if (!known) {
    const std::string& name = piece_.stocks[static_cast<std::size_t>(stock)].species;
    const Species* species = name.empty() ? nullptr : find_species(built_in_catalogue(), name);
    known = species && species->kind == WoodKind::hardwood;
  }
  return *known;
}

}  // namespace kw
