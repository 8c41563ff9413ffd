// A linear programme over columns, re-solved warm while columns and rows come and go: the master of
// column generation. Hides CLP, the only home of which is master.cpp.
//
// Minimise sum c_j x_j so that row_lower <= sum a_ij x_j <= row_upper and lower_j <= x_j <=
// upper_j. All answers are floating point: nothing here proves anything. A proof takes the duals,
// rounds them to whole numbers and reckons anew (see cover.h).
//
//   Master master;
//   const int row = master.add_row({.lower = 3});       // parts wanted
//   master.add_column({.cost = 5, .entries = {{row, 2}}});
//   if (master.solve() == Status::optimal) use(master.duals()[row]);
//
// Indices of columns change when columns are removed: keep patterns, not indices, across that.
#pragma once

#include <functional>
#include <limits>
#include <memory>
#include <span>
#include <vector>

namespace kw::cutting::program {

constexpr double endless = std::numeric_limits<double>::infinity();

struct Entry {
  int at = 0;  // row of a column, or column of a row
  double value = 0;
};

struct RowBounds {
  double lower = -endless, upper = endless;
};

struct Column {
  double cost = 0;
  std::vector<Entry> entries = {};  // by row, each row once
  double lower = 0, upper = endless;
};

enum class Status {
  optimal,
  infeasible,
  unbounded,
  stopped,  // by the caller; the answers are those of a basis on the way
  failed,   // numerically; try the problem anew
};

// Which columns and rows are basic, or at which bound. Fits the master only while it has the
// columns and rows it had.
struct Basis {
  std::vector<unsigned char> columns = {}, rows = {};
};

class Master {
 public:
  Master();
  ~Master();
  Master(Master&&) noexcept;
  Master& operator=(Master&&) noexcept;

  // Return the index of what was added. A new row starts basic, a new column at its lower bound.
  int add_row(RowBounds bounds, const std::vector<Entry>& by_column = {});
  int add_column(const Column& column);

  void remove_columns(const std::vector<int>& columns);
  void remove_rows(const std::vector<int>& rows);

  void set_row(int row, RowBounds bounds);
  void set_bounds(int column, double lower, double upper);  // lower == upper fixes it
  void set_cost(int column, double cost);

  [[nodiscard]] int rows() const;
  [[nodiscard]] int columns() const;

  // Warm from the last basis: primal simplex when columns or costs changed, else dual. `is_over`
  // is asked now and then and stops the work by true.
  Status solve(const std::function<bool()>& is_over = {});

  // Of the last solve.
  [[nodiscard]] double value() const;
  [[nodiscard]] std::span<const double> primal() const;    // by column
  [[nodiscard]] std::span<const double> duals() const;     // by row; >= 0 for a row at its lower
  [[nodiscard]] std::span<const double> reduced() const;   // by column
  [[nodiscard]] std::span<const double> activity() const;  // by row
  [[nodiscard]] bool is_basic(int column) const;
  [[nodiscard]] bool is_row_basic(int row) const;
  [[nodiscard]] int pivots() const;  // of the last solve

  [[nodiscard]] Basis basis() const;
  void set_basis(const Basis& basis);

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace kw::cutting::program
