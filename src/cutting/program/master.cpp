#include "master.h"

#include <algorithm>
#include <coin/ClpEventHandler.hpp>
#include <coin/ClpSimplex.hpp>

namespace kw::cutting::program {
namespace {

constexpr double tolerance = 1e-9;  // primal and dual; patterns are small whole numbers
constexpr int ask_every = 50;       // pivots between looks at the caller's stop

// Asks the caller whether to stop. CLP keeps a clone, so this only points at the question.
class Asking : public ClpEventHandler {
 public:
  explicit Asking(const std::function<bool()>* is_over) : is_over_(is_over) {}
  [[nodiscard]] ClpEventHandler* clone() const override { return new Asking(*this); }
  int event(Event which) override {
    if (which != endOfIteration || ++count_ % ask_every != 0) return -1;
    return is_over_ != nullptr && *is_over_ && (*is_over_)() ? 5 : -1;
  }

 private:
  const std::function<bool()>* is_over_ = nullptr;
  int count_ = 0;
};

double bounded(double value) {
  return value == endless ? COIN_DBL_MAX : value == -endless ? -COIN_DBL_MAX : value;
}

std::span<const double> span_of(const double* first, int size) {
  return {first, static_cast<std::size_t>(size)};
}

}  // namespace

struct Master::Inside {
  ClpSimplex lp = {};
  bool has_new_columns = false;  // or new costs: the basis is primal feasible if it ever was
  bool has_new_rows = false;     // or new bounds: the basis is dual feasible if it ever was
  int pivots = 0;
  // Columns added since the last solve or row, given to CLP in one go: one by one it copies all.
  std::vector<double> cost = {}, lower = {}, upper = {}, values = {};
  std::vector<int> starts = {0}, rows = {};

  void flush() {
    if (cost.empty()) return;
    lp.addColumns(static_cast<int>(cost.size()), lower.data(), upper.data(), cost.data(),
                  starts.data(), rows.data(), values.data());
    cost.clear(), lower.clear(), upper.clear(), values.clear(), rows.clear();
    starts = {0};
  }
};

Master::Master() : inside_(std::make_unique<Inside>()) {
  ClpSimplex& lp = inside_->lp;
  lp.setLogLevel(0);
  lp.scaling(0);
  lp.setPrimalTolerance(tolerance);
  lp.setDualTolerance(tolerance);
  lp.setPerturbation(100);
  lp.setOptimizationDirection(1);
}

Master::~Master() = default;
Master::Master(Master&&) noexcept = default;
Master& Master::operator=(Master&&) noexcept = default;

int Master::add_row(RowBounds bounds, const std::vector<Entry>& by_column) {
  inside_->flush();
  std::vector<int> columns;
  std::vector<double> values;
  for (const Entry& e : by_column) columns.push_back(e.at), values.push_back(e.value);
  inside_->lp.addRow(static_cast<int>(columns.size()), columns.data(), values.data(),
                     bounded(bounds.lower), bounded(bounds.upper));
  inside_->has_new_rows = true;
  return inside_->lp.numberRows() - 1;
}

int Master::add_column(const Column& column) {
  Inside& in = *inside_;
  in.cost.push_back(column.cost);
  in.lower.push_back(bounded(column.lower));
  in.upper.push_back(bounded(column.upper));
  for (const Entry& e : column.entries) in.rows.push_back(e.at), in.values.push_back(e.value);
  in.starts.push_back(static_cast<int>(in.rows.size()));
  in.has_new_columns = true;
  return columns() - 1;
}

void Master::remove_columns(const std::vector<int>& columns) {
  inside_->flush();
  if (columns.empty()) return;
  inside_->lp.deleteColumns(static_cast<int>(columns.size()), columns.data());
}

void Master::remove_rows(const std::vector<int>& rows) {
  inside_->flush();
  if (rows.empty()) return;
  inside_->lp.deleteRows(static_cast<int>(rows.size()), rows.data());
}

void Master::set_row(int row, RowBounds bounds) {
  inside_->lp.setRowBounds(row, bounded(bounds.lower), bounded(bounds.upper));
  inside_->has_new_rows = true;
}

void Master::set_bounds(int column, double lower, double upper) {
  inside_->flush();
  inside_->lp.setColumnBounds(column, bounded(lower), bounded(upper));
  inside_->has_new_rows = true;
}

void Master::set_cost(int column, double cost) {
  inside_->flush();
  inside_->lp.setObjectiveCoefficient(column, cost);
  inside_->has_new_columns = true;
}

int Master::rows() const {
  return inside_->lp.numberRows();
}

int Master::columns() const {
  return inside_->lp.numberColumns() + static_cast<int>(inside_->cost.size());
}

Status Master::solve(const std::function<bool()>& is_over) {
  Inside& in = *inside_;
  in.flush();
  ClpSimplex& lp = in.lp;
  Asking asking(&is_over);
  lp.passInEventHandler(&asking);
  const bool by_dual = in.has_new_rows && !in.has_new_columns;
  if (by_dual) {
    lp.dual();
  } else {
    lp.primal();
  }
  in.pivots = lp.numberIterations();
  // What one method could not finish the other one, or a fresh start, can. Nor is it believed that
  // there is no solution before the fresh start has said so.
  const auto is_settled = [&] { return lp.status() == 0 || lp.status() == 3 || lp.status() == 5; };
  const auto again = [&](bool by_primal) {
    if (is_settled()) return;
    by_primal ? lp.primal() : lp.dual();
    in.pivots += lp.numberIterations();
  };
  again(by_dual);
  if (!is_settled()) lp.allSlackBasis(true);
  again(true);
  again(false);
  if (lp.status() == 0) in.has_new_rows = in.has_new_columns = false;
  switch (lp.status()) {
    case 0:
      return Status::optimal;
    case 1:
      return Status::infeasible;
    case 2:
      return Status::unbounded;
    case 3:
    case 5:
      return Status::stopped;
    default:
      return Status::failed;
  }
}

double Master::value() const {
  return inside_->lp.objectiveValue();
}

std::span<const double> Master::primal() const {
  return span_of(inside_->lp.primalColumnSolution(), inside_->lp.numberColumns());
}

std::span<const double> Master::duals() const {
  return span_of(inside_->lp.dualRowSolution(), inside_->lp.numberRows());
}

std::span<const double> Master::reduced() const {
  return span_of(inside_->lp.dualColumnSolution(), inside_->lp.numberColumns());
}

std::span<const double> Master::activity() const {
  return span_of(inside_->lp.primalRowSolution(), inside_->lp.numberRows());
}

bool Master::is_basic(int column) const {
  return inside_->lp.getColumnStatus(column) == ClpSimplex::basic;
}

bool Master::is_row_basic(int row) const {
  return inside_->lp.getRowStatus(row) == ClpSimplex::basic;
}

int Master::pivots() const {
  return inside_->pivots;
}

Basis Master::basis() const {
  Basis basis;
  for (int j = 0; j < inside_->lp.numberColumns(); ++j)
    basis.columns.push_back(static_cast<unsigned char>(inside_->lp.getColumnStatus(j)));
  for (int i = 0; i < rows(); ++i)
    basis.rows.push_back(static_cast<unsigned char>(inside_->lp.getRowStatus(i)));
  return basis;
}

void Master::set_basis(const Basis& basis) {
  inside_->flush();
  for (std::size_t j = 0; j < basis.columns.size(); ++j)
    inside_->lp.setColumnStatus(static_cast<int>(j),
                                static_cast<ClpSimplex::Status>(basis.columns[j]));
  for (std::size_t i = 0; i < basis.rows.size(); ++i)
    inside_->lp.setRowStatus(static_cast<int>(i), static_cast<ClpSimplex::Status>(basis.rows[i]));
}

}  // namespace kw::cutting::program
