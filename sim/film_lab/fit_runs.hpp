// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Whether a law can follow the curves it was fitted to.
#pragma once

#include "sim/film_lab/film_fit.hpp"
#include "sim/film_lab/fit_path.hpp"

#include <string>
#include <vector>

namespace hoopfield::detail {

/// Runs test of Wald and Wolfowitz on the signs of residuals (NIST/SEMATECH e-Handbook 1.3.5.13, from memory): with n1
/// and n2 of either sign, chance gives `1 + 2 n1 n2/(n1 + n2)` runs on the average with the variance
/// `2 n1 n2 (2 n1 n2 - n1 - n2)/((n1 + n2)^2 (n1 + n2 - 1))`. Standard deviations by which the runs are fewer (below 0)
/// or more; 0 where there are too few signs to tell.
[[nodiscard]] double runs_deviation(const std::vector<double>& residuals);

/// One sentence about the loadings, holds, unloadings and free pieces of curves that the law cannot follow, empty when
/// there is none: fewer runs than chance gives once in a thousand times, and a misfit beyond the scatter of more than
/// `least` of the stress. Says where the law lies farthest from the curve, and on which side.
[[nodiscard]] std::string lawless_ranges(const std::vector<FitPath>& paths, const std::vector<CurveResidual>& curves,
                                         double least = 0.01);

}  // namespace hoopfield::detail
