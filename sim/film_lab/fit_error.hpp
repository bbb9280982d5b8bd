// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Errors of readings against a law that is not quite the film's, and what they leave of the parameters' certainty.
///
/// A law that misses the film misses it the same way over a stretch of a curve, so residuals hang together and a curve
/// of two thousand points says no more than a few. The error of reading i of a leg (one loading, hold, unloading or
/// free piece of a curve) has the covariance
///
///     R_ij = delta_ij n_i^2 + m^2 S_i S_j (1/2 + 1/2 exp(-|x_i - x_j|/L)),
///
/// n the scatter of the averaged points, S the scale of a reading, x its place along the leg (0 to 1), m the relative
/// error of the law: what the residuals show beyond the scatter, what the scatter may hide (two standard deviations of
/// its mean square), and never less than `model_error`. L is the mean run of residuals of one sign, at least 0.3 of the
/// leg. Legs err independently. The estimate minimises squares weighted by W = diag(1/e^2) with a normal prior P, so
/// its covariance under R is
///
///     C = A^-1 (J^T W R W J + P^-1) A^-1,    A = J^T W J + P^-1.
///
/// With R = W^-1 this is A^-1, the usual covariance. Pinned by tests/unit/film_fit_error_test.cpp.
#pragma once

#include "sim/film_lab/fit_problem.hpp"

namespace hoopfield::detail {

struct LawError {
  double size = 0.0;    ///< m, relative
  double length = 0.3;  ///< L, of a leg
};

/// m and L from the residuals of a fit; `least` is the relative error of any law, whatever the residuals say.
[[nodiscard]] LawError law_error(const FitProblem& problem, const Eigen::VectorXd& parameters, double least);

/// R of all readings, Pa^2; block-diagonal by legs.
[[nodiscard]] Eigen::MatrixXd reading_covariance(const std::vector<FitPath>& paths, const LawError& error);

/// C as above.
[[nodiscard]] Eigen::MatrixXd robust_covariance(const FitProblem& problem, const Eigen::VectorXd& parameters,
                                                const LawError& error);

/// J^T R^-1 J: what curves with these errors would tell a fit that weighs them by R.
[[nodiscard]] Eigen::MatrixXd robust_information(const FitProblem& problem, const Eigen::VectorXd& parameters,
                                                 const LawError& error);

/// The information that turns the prior into this covariance; directions the curves say nothing about get none.
[[nodiscard]] Eigen::MatrixXd information_behind(const Eigen::MatrixXd& covariance, const Eigen::VectorXd& prior_error);

}  // namespace hoopfield::detail
