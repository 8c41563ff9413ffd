// What is wrong with a piece, gathered while it is worked out.
#pragma once

#include <set>
#include <string>
#include <tuple>
#include <vector>

#include "kerfwright/diag/outcome.h"
#include "kerfwright/lumber/catalogue.h"
#include "kerfwright/measure/length.h"

namespace kw::resolving {

// A fault told already, as a leaf's answer: filed nowhere.
[[nodiscard]] inline Diagnostic told() {
  return {};
}

class Faults {
 public:
  explicit Faults(LengthUnit unit) : unit_(unit) {}

  // Files a fault unless one of its code stands at its place already: what an assembly does wrong
  // is told once, however often it is used. Past most_faults only one more, piece.too-many-faults.
  void report(Diagnostic fault);
  void report(const Diagnostics& faults);

  // Past the last fault that is told: nothing need be found out for a message.
  [[nodiscard]] bool is_full() const;

  // `3 1/2"` or `89 mm`, as messages write lengths.
  [[nodiscard]] std::string length(double mm) const;

  // The faults so far, by their place in the text.
  [[nodiscard]] Diagnostics take() &&;

 private:
  LengthUnit unit_;
  Diagnostics faults_ = {};
  std::set<std::tuple<std::string_view, std::uint32_t, std::uint32_t, std::string>> known_ = {};
};

// "did you mean `leg-a`?", or what there is to choose from, or "".
[[nodiscard]] std::string hint_for(std::string_view word, const std::vector<std::string>& known,
                                   std::string_view what);

// The same for what the tables of wood and hardware have, by any of their names: the nearest, or
// those that hold all the words of `word`, or how to look them up.
[[nodiscard]] std::string hint_from_tables(const Catalogue& catalogue, std::string_view word,
                                           const std::vector<std::string>& known);

// All names of the rows of a table, the other names too.
template <class Row>
std::vector<std::string> all_names(const std::vector<Row>& rows) {
  std::vector<std::string> names;
  for (const Row& row : rows) {
    names.push_back(row.name);
    names.insert(names.end(), row.aka.begin(), row.aka.end());
  }
  return names;
}

}  // namespace kw::resolving
