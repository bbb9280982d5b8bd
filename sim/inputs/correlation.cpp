// SPDX-License-Identifier: BSD-3-Clause
#include "sim/inputs/correlation.hpp"

#include "models/units.hpp"

#include <Eigen/Eigenvalues>

#include <cmath>

namespace hoopfield {

std::vector<double> read_correlation(const RawNode& rows, std::size_t size, const CorrelationComplaint& complain) {
  if (rows.kind != RawNode::Kind::array || rows.children.size() + 1 != size)
    complain(rows, "one row per parameter but the first");
  std::vector<double> matrix(size * size, 0.0);
  for (std::size_t i = 0; i < size; ++i) {
    matrix[i * size + i] = 1.0;
    if (i == 0) continue;
    const RawNode& row = rows.children[i - 1];
    if (row.kind != RawNode::Kind::array || row.children.size() != i) complain(row, "rows of 1, 2, 3, ... numbers");
    for (std::size_t j = 0; j < i; ++j) {
      const RawNode& value = row.children[j];
      const bool is_number = value.kind == RawNode::Kind::number || value.kind == RawNode::Kind::integer;
      if (!is_number || !(std::abs(value.number) <= 1.0)) complain(value, "numbers from -1 to 1");
      matrix[i * size + j] = matrix[j * size + i] = value.number;
    }
  }
  return matrix;
}

std::string correlation_text(const std::vector<double>& correlation, std::size_t size) {
  std::string text = "[\n";
  for (std::size_t i = 1; i < size; ++i) {
    text += "  [";
    for (std::size_t j = 0; j < i; ++j) text += (j == 0 ? "" : ", ") + format_number(correlation[i * size + j], 4);
    text += "],\n";
  }
  return text + "]";
}

std::vector<double> symmetric_root(const std::vector<double>& correlation, std::size_t size) {
  if (size == 0) return {};  // nothing was fitted; the solver wants at least one
  using Square = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
  const auto n = static_cast<Eigen::Index>(size);
  const Eigen::SelfAdjointEigenSolver<Square> solver(Eigen::Map<const Square>(correlation.data(), n, n));
  const Eigen::VectorXd roots = solver.eigenvalues().cwiseMax(0.0).cwiseSqrt();
  const Square root = solver.eigenvectors() * roots.asDiagonal() * solver.eigenvectors().transpose();
  return {root.data(), root.data() + root.size()};
}

}  // namespace hoopfield
