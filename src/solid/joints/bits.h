// Private to solid: what the catalogue says of a piece's fasteners and woods, each looked up once.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "kerfwright/piece/resolved.h"

namespace kw {

class Bits {
 public:
  explicit Bits(const Resolved& piece) : piece_(piece), is_hard_(piece.stocks.size()) {}

  // Null for "" and for what the catalogue does not have.
  [[nodiscard]] const Fastener* fastener(const std::string& name);
  // The bit for a pilot hole in a board (mm), by whether its species is a hardwood; 0 when there is
  // none.
  [[nodiscard]] double pilot_in(int board, const Fastener& fastener);

 private:
  bool is_hard(int stock);

  const Resolved& piece_;
  std::vector<std::optional<bool>> is_hard_;  // by stock
  std::map<std::string, const Fastener*> fasteners_ = {};
};

}  // namespace kw
