// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/fit_error.hpp"

#include <Eigen/Cholesky>

#include <algorithm>
#include <cmath>

namespace hoopfield::detail {

namespace {

constexpr double least_length = 0.3;
constexpr double common_share = 0.5;    // of the law's error: the same over a whole leg
constexpr double least_scatter = 1e-5;  // of the scale: keeps R regular for curves without noise

double scatter_of(const FitPath& path, const FitReading& reading) {
  return std::max(least_scatter, path.noise / std::sqrt(reading.count));
}

/// Mean length of a run of residuals of one sign, as a share of its leg.
double mean_run(const std::vector<FitPath>& paths, const Eigen::VectorXd& residuals) {
  double legs = 0.0, runs = 0.0;
  Eigen::Index row = 0;
  for (const FitPath& path : paths)
    for (std::size_t i = 0; i < path.readings.size(); ++i, ++row) {
      const bool first = i == 0 || path.readings[i].leg != path.readings[i - 1].leg;
      legs += first ? 1.0 : 0.0;
      runs += first || residuals[row] * residuals[row - 1] < 0.0 ? 1.0 : 0.0;
    }
  return runs > 0.0 ? legs / runs : 1.0;
}

}  // namespace

LawError law_error(const FitProblem& problem, const Eigen::VectorXd& parameters, double least) {
  const Eigen::VectorXd residuals = problem.relative_residuals(parameters);
  double scatter = 0.0;
  for (const FitPath& path : *problem.paths)
    for (const FitReading& reading : path.readings) scatter += std::pow(scatter_of(path, reading), 2);
  const auto count = static_cast<double>(residuals.size());
  const double beyond = std::max(0.0, (residuals.squaredNorm() - scatter) / count);
  const double hidden = 2.0 * std::sqrt(2.0 / count) * scatter / count;
  return {std::sqrt(least * least + beyond + hidden), std::max(least_length, mean_run(*problem.paths, residuals))};
}

Eigen::MatrixXd reading_covariance(const std::vector<FitPath>& paths, const LawError& error) {
  Eigen::Index size = 0;
  for (const FitPath& path : paths) size += static_cast<Eigen::Index>(path.readings.size());
  Eigen::MatrixXd r = Eigen::MatrixXd::Zero(size, size);
  Eigen::Index start = 0;
  for (const FitPath& path : paths) {
    const auto n = static_cast<Eigen::Index>(path.readings.size());
    for (Eigen::Index i = 0; i < n; ++i) {
      const FitReading& a = path.readings[static_cast<std::size_t>(i)];
      for (Eigen::Index j = 0; j <= i; ++j) {
        const FitReading& b = path.readings[static_cast<std::size_t>(j)];
        if (a.leg != b.leg) continue;
        const double together =
            common_share + (1.0 - common_share) * std::exp(-std::abs(a.place - b.place) / error.length);
        const double value = error.size * error.size * a.scale * b.scale * together;
        r(start + i, start + j) = r(start + j, start + i) = value;
      }
      r(start + i, start + i) += std::pow(scatter_of(path, a) * a.scale, 2);
    }
    start += n;
  }
  return r;
}

Eigen::MatrixXd shared_error_information(const FitProblem& problem, const Eigen::VectorXd& parameters,
                                         const LawError& error) {
  Eigen::VectorXd residuals;
  Eigen::MatrixXd jacobian;
  problem.residuals(parameters, residuals, &jacobian);
  const Eigen::MatrixXd j = problem.errors().asDiagonal() * jacobian;  // Pa
  return j.transpose() * reading_covariance(*problem.paths, error).ldlt().solve(j);
}

}  // namespace hoopfield::detail
