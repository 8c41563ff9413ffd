// The values of sizes, derived values, stocks, points and boards: each worked out once, when it is
// first asked for, in whatever order the file has them. Values that need one another in a ring are
// piece.cycle.
//
// A bare number is a length in the file's unit, unless it is used to count (counts.h).
#pragma once

#include <array>
#include <deque>
#include <optional>
#include <set>
#include <tuple>
#include <vector>

#include "kerfwright/measure/expression.h"

#include "faults.h"
#include "meaning.h"

namespace kw::resolving {

// Sizes and derived values, (scope, of, index), whose bare figures count and so are no lengths.
using Counts = std::set<std::tuple<int, Of, int>>;

class Values {
 public:
  Values(const Sites& sites, const Counts& counts, Faults& faults);

  // Each is empty when it cannot be had; why not has been told then.
  [[nodiscard]] std::optional<Value> of(const Node& node, Span at = {});
  [[nodiscard]] std::optional<Value> of(const Formula& formula, int site);
  // Brought to one kind with another value: a bare number becomes a length beside a length.
  [[nodiscard]] std::optional<Value> like(const Value& other, const Value& value, Span at);
  [[nodiscard]] std::optional<Length> length(const Node& node, Span at = {});
  [[nodiscard]] std::optional<Length> length(const Formula& formula, int site);
  [[nodiscard]] std::optional<Angle> angle(const Formula& formula, int site);
  [[nodiscard]] std::optional<double> number(const Formula& formula, int site);
  // A whole number from `least` to `most` (piece.bad-count).
  [[nodiscard]] std::optional<int> count(const Formula& formula, int site, int least, int most);
  // A length in millimetres, not rounded to a tick as a Length is, so that angles come out of
  // coordinates as exactly as a double can hold them; but what is a whole tick to rounding is one.
  [[nodiscard]] std::optional<double> mm(const Value& value, Span at);
  // In millimetres; above zero (piece.not-positive), or not below it (piece.negative).
  [[nodiscard]] std::optional<double> mm(const Formula& formula, int site);
  [[nodiscard]] std::optional<double> positive_mm(const Formula& formula, int site);
  [[nodiscard]] std::optional<double> mm_from_zero(const Formula& formula, int site);

  [[nodiscard]] const Sites& sites() const { return sites_; }
  [[nodiscard]] LengthUnit unit() const { return sites_.given().document.unit; }

 private:
  enum class State : std::uint8_t { open, busy, done };
  struct Cell {
    State state = State::open;
    std::optional<Value> value = {};
  };
  using Room = std::array<std::vector<Cell>, 9>;  // of one site, by `Of`
  struct Need {
    Node node = {};
    Span at = {};
  };
  struct Asked {
    const Formula* formula = nullptr;
    int site = 0;
  };
  struct Step {
    Need need = {};
    std::vector<Need> needs = {};
    std::size_t next = 0;
  };

  [[nodiscard]] Room room_for(int site) const;
  [[nodiscard]] Cell& cell(const Node& node);
  void solve(const Need& goal);
  void tell_ring(const std::vector<Step>& path, const Need& closing);
  [[nodiscard]] Outcome<Value> look_up(std::string_view name, Span at, int site);
  [[nodiscard]] std::vector<Need> needs_of(const Formula& formula, int site) const;

  // What a value is made from, and how (values_of.cpp).
  [[nodiscard]] std::vector<Need> needs_of(const Node& node) const;
  [[nodiscard]] std::vector<Asked> formulas_of(const Node& node) const;
  [[nodiscard]] std::optional<Value> worked_out(const Node& node);
  [[nodiscard]] std::optional<Value> settled(const Node& node);
  [[nodiscard]] std::optional<Value> stock_value(const Node& node);
  [[nodiscard]] std::optional<Value> ripped(const Node& node);
  [[nodiscard]] std::optional<Value> panel_width(const Node& node);
  [[nodiscard]] std::optional<Value> line_length(const Node& node);
  [[nodiscard]] std::optional<double> mm_on(const PointRef& point, int axis, int site);

  const Sites& sites_;
  const Counts& counts_;
  Faults& faults_;
  std::deque<Room> rooms_ = {};
  std::vector<std::optional<Formula>> overrides_ = {};  // by size
  int formulas_left_ = 0;
};

// The overrides by size; faults of theirs have no place in the text.
[[nodiscard]] std::vector<std::optional<Formula>> overrides_of(const Given& given, Faults& faults);

}  // namespace kw::resolving
