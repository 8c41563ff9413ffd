// What may be ordered of a piece that is offered, and an order. Private to server.
#pragma once

#include "kerfwright/piece/resolved.h"
#include "kerfwright/planbook/book.h"
#include "kerfwright/server/fit.h"

#include "message.h"

namespace kw::serving {

// As `read_form` reads it.
[[nodiscard]] std::string written(const Form& form);

struct OfferedSize {
  std::string name = {}, note = {};
  Value least = {}, most = {}, is = {};
};
struct Offer {
  PublishedPiece piece = {};
  LengthUnit unit = LengthUnit::inch;  // bare figures count in it
  std::vector<OfferedSize> sizes = {};
};
// Error: server.bad-offer (a size that the text does not have, or whose range cannot be read).
[[nodiscard]] Outcome<Offer> read_offer(PublishedPiece piece);

// As it is shown beside a field: `29 11/16"`, `810 mm`, `35°`, `4`.
[[nodiscard]] std::string words_of(const Value& value, LengthUnit unit);

struct FitOrder {
  std::vector<Override> sizes = {};
  LengthUnit unit = LengthUnit::inch;  // figures of the book
  Paper paper = Paper::letter;
  std::string buyer = {};
};
struct ReadOrder {
  FitOrder order = {};
  std::map<std::string, Diagnostic> faults = {};  // by field
};
// Fields `size.NAME`, `unit`, `paper`, `buyer`; a size that is not there stays as the piece has it.
// All faults are told: server.bad-size, server.out-of-range, server.bad-order.
[[nodiscard]] ReadOrder read_order(const Offer& offer, const Form& form);

}  // namespace kw::serving
