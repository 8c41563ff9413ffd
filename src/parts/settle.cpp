#include "settle.h"

#include <Eigen/Sparse>
#include <Eigen/SparseCholesky>

namespace kw {
namespace {

constexpr double arm = 100.0;   // mm: a turn is told as the shift it makes at this distance
constexpr double leash = 1e-9;  // holds what nothing else holds

Eigen::Index unknown(int body, int which) {
  return static_cast<Eigen::Index>(body) * 6 + which;
}

using Entries = std::vector<Eigen::Triplet<double>>;

void add_body(Entries& entries, Eigen::Index row, int body, Vec3 normal, Vec3 lever, double sign) {
  const Vec3 turning = cross(lever, normal) * (1.0 / arm);
  const double columns[6] = {normal.x, normal.y, normal.z, turning.x, turning.y, turning.z};
  for (int i = 0; i < 6; ++i) entries.emplace_back(row, unknown(body, i), sign * columns[i]);
}

// Weights with a mean of 1, so that the leash stays as weak as it is meant.
Eigen::VectorXd shares_of(const std::vector<Touch>& touches) {
  Eigen::VectorXd weights(static_cast<Eigen::Index>(touches.size()));
  for (std::size_t i = 0; i < touches.size(); ++i) {
    weights[static_cast<Eigen::Index>(i)] = touches[i].weight;
  }
  const double sum = weights.sum();
  return sum > 0 ? Eigen::VectorXd(weights * (static_cast<double>(touches.size()) / sum)) : weights;
}

}  // namespace

struct Settling::Equations {
  Eigen::SparseMatrix<double> rows;
  Eigen::VectorXd weights;
  Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factor;
};

Settling::Settling(const std::vector<Touch>& touches, const std::vector<Vec3>& centres)
    : equations_(std::make_unique<Equations>()) {
  Entries entries;
  for (std::size_t i = 0; i < touches.size(); ++i) {
    const Touch& t = touches[i];
    const auto row = static_cast<Eigen::Index>(i);
    add_body(entries, row, t.b, t.normal, t.at - centres[static_cast<std::size_t>(t.b)], 1.0);
    add_body(entries, row, t.a, t.normal, t.at - centres[static_cast<std::size_t>(t.a)], -1.0);
  }
  const auto unknowns = static_cast<Eigen::Index>(centres.size()) * 6;
  auto& e = *equations_;
  e.rows.resize(static_cast<Eigen::Index>(touches.size()), unknowns);
  e.rows.setFromTriplets(entries.begin(), entries.end());
  e.weights = shares_of(touches);
  Eigen::SparseMatrix<double> identity(unknowns, unknowns);
  identity.setIdentity();
  const Eigen::SparseMatrix<double> normal = e.rows.transpose() * e.weights.asDiagonal() * e.rows;
  e.factor.compute(normal + leash * identity);
}

Settling::~Settling() = default;
Settling::Settling(Settling&&) noexcept = default;
Settling& Settling::operator=(Settling&&) noexcept = default;

std::vector<double> Settling::settle(const std::vector<double>& opening) const {
  const auto& e = *equations_;
  const Eigen::Map<const Eigen::VectorXd> before(opening.data(),
                                                 static_cast<Eigen::Index>(opening.size()));
  const Eigen::VectorXd shifts =
      e.factor.solve(-(e.rows.transpose() * e.weights.cwiseProduct(before)));
  const Eigen::VectorXd after = before + e.rows * shifts;
  return {after.data(), after.data() + after.size()};
}

}  // namespace kw
