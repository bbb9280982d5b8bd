// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// How well a fit knows the comparison numbers.
#pragma once

#include "sim/film_lab/fit_advice.hpp"
#include "sim/film_lab/fit_result.hpp"

namespace hoopfield::detail {

/// Fills `fit.derived`. Interval: the parameters' covariance through the slopes of each number. Where that leaves any
/// number open the law is no straight line over it: open numbers get the span of drawn laws instead (fit_draws.hpp),
/// the others the wider of the two. `tests`: which test would narrow an open number most.
void derive_intervals(const FitOutcome& outcome, const FitOptions& options, const std::vector<TestWorth>& tests,
                      FilmFit& fit, Observer* observer);

}  // namespace hoopfield::detail
