// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// From a minimum to everything that is said about it.
#pragma once

#include "sim/film_lab/film_fit.hpp"
#include "sim/film_lab/fit_error.hpp"

#include <vector>

namespace hoopfield::detail {

struct FitOutcome {
  const FitProblem& problem;
  const Eigen::VectorXd& parameters;  ///< at the minimum, branches sorted
  bool two_temperatures = false;
  Eigen::MatrixXd known;  ///< information of the curves
  LawError error;
  std::vector<Eigen::VectorXd> as_good = {};  ///< other laws of as many branches that meet the curves as well
};

/// Fills film, parameters, covariance, residuals, derived numbers and advice. `curves` go with the paths of the
/// problem.
void complete_fit(const FitOutcome& outcome, const std::vector<LabCurve>& curves, const FitOptions& options,
                  FilmFit& fit, Observer* observer);

}  // namespace hoopfield::detail
