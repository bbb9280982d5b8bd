// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The numbers films are compared by: intervals, and what they ask of the covariance.
#pragma once

#include "sim/film_lab/fit_advice.hpp"
#include "sim/film_lab/fit_result.hpp"

namespace hoopfield::detail {

/// d(number)/d(parameter), a row per number of derived_fields().
struct NumberSlopes {
  Eigen::MatrixXd slope;
};

/// Fills `fit.derived`: variance through the slopes, plus that of going beyond the curves (fit_evidence.hpp),
/// plus that among other laws which meet the curves as well. Then
/// widens `fit.covariance` where it knows a number better than that: for slope g and the variance v asked for,
///
///     C <- C + (min(v, w) - g^T C g)/w^2 (D g)(D g)^T,    w = g^T D g,
///
/// D the covariance with the information of the curves weakened to a share of 1/9 (errors three times as large) or,
/// where less will do, until w = v; then g^T C g = v. Parameters stay near what is assumed of them, since the term
/// added never exceeds D. So whoever draws laws from the covariance finds the number as uncertain as it is said to be,
/// or as uncertain as this law can be made without leaving the curves.
[[nodiscard]] NumberSlopes derive_intervals(const FitOutcome& outcome, const FitOptions& options, FilmFit& fit,
                                            Observer* observer);

/// For numbers not determined, the test that would narrow them most.
void name_tests(const NumberSlopes& numbers, const std::vector<TestWorth>& tests, FilmFit& fit);

}  // namespace hoopfield::detail
