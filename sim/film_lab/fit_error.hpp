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
/// leg. Legs err independently. With the normal prior P of the parameters the covariance given such curves is
///
///     C = (J^T R^-1 J + P^-1)^-1,    J the derivatives of the stress by the parameters.
///
/// The fit itself weighs readings one by one; that the intervals hold all the same is what their coverage tests.
/// Pinned by tests/unit/film_fit_error_test.cpp.
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

/// J^T R^-1 J: what curves with these errors tell.
[[nodiscard]] Eigen::MatrixXd shared_error_information(const FitProblem& problem, const Eigen::VectorXd& parameters,
                                                       const LawError& error);

}  // namespace hoopfield::detail
