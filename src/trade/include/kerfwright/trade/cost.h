// What a job costs, line by line, each with what it rests on. All money in whole coins; what has no
// price is named, never guessed.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kerfwright/lumber/catalogue.h"
#include "kerfwright/measure/vector.h"
#include "kerfwright/trade/labour.h"
#include "kerfwright/trade/planned.h"
#include "kerfwright/trade/work_of.h"

namespace kw::trade {

// A box of screws, a bottle of glue, a can of finish, a pack of sandpaper.
struct Package {
  double holds = 1;  // pieces, litres, square metres...
  Money price = {};
  bool is_charged_whole = false;  // once opened; else what is used of it
};
// Of so much: whole packages rounded up, or the share to the nearest coin.
[[nodiscard]] Money charge_for(const Package& package, double amount);

struct NamedPackage {
  std::string name = {};  // as the catalogue has it, or as the piece's file says
  Package package = {};
};

// Used up with the work: sandpaper by the square metre sanded, a blade by the cut.
struct Consumable {
  std::string name = {};
  Activity with = Activity::cut;
  Package package = {};
};

// What the maker's shop costs. Typed by its user.
struct Rates {
  std::vector<NamedPackage> hardware = {};  // holds pieces
  std::vector<NamedPackage> glues = {};     // holds litres
  std::vector<NamedPackage> finishes = {};  // holds litres
  std::vector<Consumable> consumables = {};
  Money wage = {};             // an hour
  double overhead_share = 0;   // of the wages
  Money overhead_hourly = {};  // and for each hour of work
};

// Finish of one name on so much of the wood.
struct Coating {
  std::string finish = {};
  Area area = {};
  int coats = 1;
};
struct Gluing {
  std::string glue = {};
  Area area = {};
};

// What there is to pay for. Pointers must outlive the call.
struct CostAsked {
  const Job* job = nullptr;
  const Sawing* sawing = nullptr;
  Estimate time = {};
  Work work = {};
  std::vector<Coating> coatings = {};
  std::vector<Gluing> gluings = {};
  OffcutRule offcuts = {};
};

enum class CostKind : std::uint8_t {
  boards,
  offcuts,  // kept: below zero
  hardware,
  glue,
  finish,
  consumables,
  labour,
  overhead,
};
[[nodiscard]] std::string_view name_of(CostKind kind);

struct CostLine {
  CostKind kind = CostKind::boards;
  std::string what = {};
  double quantity = 0;
  std::string unit = {};  // "boards", "l", "h"
  Money each = {};        // zero where it has no meaning
  Money total = {};
  std::string basis = {};  // where quantity and price come from
};

struct Cost {
  std::vector<CostLine> lines = {};
  Money total = {};
  int pieces = 0;
  Money each = {};  // of one piece, rounded up
  [[nodiscard]] Money of(CostKind kind) const;
};

// Warnings: trade.no-price (a board), trade.no-hardware-price, trade.no-glue-price,
// trade.no-finish-price, trade.no-coverage (the catalogue does not know how far it goes): their
// line is there with no money. Error: trade.money-range (a line or the sum beyond most_money; such
// a line has no money).
[[nodiscard]] Reading<Cost> cost_of(const CostAsked& asked, const Rates& rates,
                                    const Catalogue& catalogue);

// The finish and the glue of the pieces of a job, for CostAsked: the finish that a piece's file
// names, in its catalogue's number of coats.
[[nodiscard]] std::vector<Coating> coatings_of(const Job& job, const Catalogue& catalogue);
[[nodiscard]] std::vector<Gluing> gluings_of(const Job& job);

// ---- Sending

// A parcel: the greatest mass, the greatest length + girth (2 x (width + height)), its price.
struct ParcelRate {
  std::string name = {};
  Mass heaviest = {};
  Length longest = {};  // length and girth together
  Money price = {};
};
// The cheapest that takes a parcel of this mass and box (mm). Error: trade.cannot-send, with what
// is too much.
[[nodiscard]] Outcome<ParcelRate> parcel_for(const std::vector<ParcelRate>& rates, Mass mass,
                                             Vec3 box);

}  // namespace kw::trade
