// Patterns worth more than they cost: the pricing of column generation, and the listing of every
// pattern that can be in a cheaper plan.
//
// Parts are chosen kind after kind. What the kinds still to come can add to a stick is bounded by a
// knapsack over their sizes (sizes.h), for every room at once and for every stick; whether what was
// chosen really fits is said by the shortest row (rows.h), where there are faulty zones by rows in
// the stretches between (stretches.h). Taking a part out of a row never makes
// it longer (NOTES.md), so what does not fit has nothing beyond it.
#pragma once

#include <cstdint>
#include <vector>

#include "angled/rows.h"
#include "angled/sizes.h"
#include "angled/stretches.h"
#include "work.h"

namespace kw::cutting::angled {

// In whole numbers at one scale. A pattern on a bar pays when its parts are worth more than the
// bar's threshold.
struct Worths {
  std::vector<std::int64_t> part = {};       // by kind, not negative
  std::vector<std::int64_t> threshold = {};  // by bar
};

// What may lie on a stick, and on which.
struct Available {
  std::vector<int> counts = {};  // by kind
  std::vector<int> copies = {};  // by bar
};

struct Found {
  Pattern pattern = {};
  std::int64_t surplus = 0;  // worth beyond the threshold
  bool fits = false;         // false: only if no joint had been rounded up; for bounds, not plans
};

struct Pricing {
  std::vector<Found> found = {};
  // No pattern on a bar is worth more. Holds also where the search was cut short.
  std::vector<std::int64_t> most = {};
  bool is_complete = false;
};

struct Listing {
  std::vector<Found> found = {};
  bool is_complete = false;
};

class Search {
 public:
  // All must outlive this.
  Search(const Model& model, const Shapes& shapes, const Sizes& sizes, Rows& rows,
         Stretches& stretches, Work& work);

  // For each kind the pattern that pays best among those whose longest part it is, `nodes` steps
  // for each at most.
  [[nodiscard]] Pricing price(const Worths& worths, const Available& available, std::int64_t nodes);

  // Every pattern whose worth is at least its threshold, but for those to which a part can be added
  // on the same stick. Gives up beyond `most`.
  [[nodiscard]] Listing list(const Worths& worths, const Available& available, std::size_t most,
                             std::int64_t nodes);

 private:
  struct Item {
    int kind = 0, count = 0, taken = 0;
    std::int64_t size = 0, worth = 0;
  };
  struct Room {
    int bar = 0;
    std::int64_t capacity = 0, usable = 0, threshold = 0;
    bool has_zones = false;
  };
  // The parts chosen so far.
  struct Chosen {
    int row = Rows::empty;
    int parts = 0;
    std::int64_t size = 0, length = 0, worth = 0;
  };

  void prepare(const Worths& worths, const Available& available);
  void fill_table();
  [[nodiscard]] std::int64_t ahead(std::size_t item, std::int64_t room) const;
  [[nodiscard]] bool is_hopeful(const Chosen& chosen, std::size_t item) const;
  void leave_open(const Chosen& chosen, std::size_t item);
  void extend(const Chosen& chosen, std::size_t first);
  void take(const Chosen& chosen, std::size_t item);
  [[nodiscard]] std::int64_t row_length(const Chosen& chosen) const;
  void file(const Chosen& chosen, std::int64_t row);
  [[nodiscard]] Fit fit(const Chosen& chosen, const Room& room, std::int64_t row);
  [[nodiscard]] bool has_place(const Chosen& chosen, std::int64_t row);
  [[nodiscard]] bool can_grow(const Chosen& chosen, const Room& room);
  [[nodiscard]] PartCounts parts() const;

  const Model& model_;
  const Shapes& shapes_;
  const Sizes& sizes_;
  Rows& rows_;
  Stretches& stretches_;
  Work& work_;
  std::int64_t rounding_ = 0, slack_of_prefix_ = 0;
  // Of the search that is on.
  std::vector<Item> items_ = {};  // longest first
  std::vector<Room> rooms_ = {};  // largest first
  std::int64_t cell_ = 1;
  std::size_t cells_ = 0;
  std::vector<std::int64_t> table_ = {};  // item * cells: worth of that item and later ones
  std::int64_t least_surplus_ = 0;        // what is worth looking for
  bool is_listing_ = false, is_cut_short_ = false, is_given_up_ = false;
  std::int64_t nodes_left_ = 0;
  std::size_t most_found_ = 0;
  Found best_ = {};
  std::vector<Found> found_ = {};
  std::vector<std::int64_t> most_ = {};
};

}  // namespace kw::cutting::angled
