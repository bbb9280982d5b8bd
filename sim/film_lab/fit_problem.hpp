// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Inner parts of the film fit: priors, bounds, the least-squares problem and its covariance.
#pragma once

#include "sim/base/observer.hpp"
#include "sim/film_lab/fit_model.hpp"

#include <Eigen/Core>

#include <vector>

namespace hoopfield::detail {

/// What is assumed of each parameter before any curve, and where it is kept. Vectors of FitLayout.
struct FitPrior {
  Eigen::VectorXd centre, error, low, high;
};

/// Wide: shaped to polyethylene film as the illustrative films of this project are; own choice, no source but the
/// activation energies (109 and 192 kJ/mol, published for branched polyethylene).
[[nodiscard]] FitPrior fit_prior(const FitLayout& layout, double greatest_invariant);

/// Activation energy assumed for a branch of a rate: the published value of the fast or the slow relaxation, and never
/// less than a predicting program accepts (R T ln(2 100 s^-1/r)). From ln r, in the unit of FitLayout.
[[nodiscard]] double assumed_activation(double log_rate, double temperature);

struct FitProblem {
  const std::vector<FitPath>* paths = nullptr;
  double reference_temperature = 296.15;
  FitLayout layout{1};
  FitPrior prior;
  std::vector<bool> free;  ///< per parameter
  double misfit = 0.003;   ///< relative error beyond the scatter of the points

  [[nodiscard]] Eigen::Index readings() const;
  /// Residuals of the readings, weighted; derivatives (readings x all parameters) when asked.
  void residuals(const Eigen::VectorXd& parameters, Eigen::VectorXd& r, Eigen::MatrixXd* jacobian = nullptr) const;
  /// The same relative to the scale of each reading, unweighted.
  [[nodiscard]] Eigen::VectorXd relative_residuals(const Eigen::VectorXd& parameters) const;
  /// Standard deviation of each reading, Pa.
  [[nodiscard]] Eigen::VectorXd errors() const;
};

struct FitMinimum {
  Eigen::VectorXd parameters;
  double cost = 0.0;  ///< sum of squares, priors included
};

/// Levenberg-Marquardt from one start.
[[nodiscard]] FitMinimum minimise(const FitProblem& problem, const Eigen::VectorXd& start, int most_steps);

/// Information of readings (J^T J over the free parameters and the others alike) and the posterior covariance.
[[nodiscard]] Eigen::MatrixXd information(const FitProblem& problem, const Eigen::VectorXd& parameters);
[[nodiscard]] Eigen::MatrixXd covariance_of(const Eigen::MatrixXd& information, const Eigen::VectorXd& prior_error);

}  // namespace hoopfield::detail
