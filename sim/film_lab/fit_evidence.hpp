// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// How far the numbers films are compared by lie from the curves, and the error of going there with a law that is not
/// the film's.
///
/// A law fitted to pulls and short holds says something definite about a month in storage; another law that meets the
/// same curves says something else. These errors (standard deviations, added in quadrature to that of the parameters)
/// are own assumptions, in round numbers, chosen on the three films of tests/consistency/foreign_films.py that are
/// marked for it and tested on the others:
///
/// - stresses and work: 3 % per decade of rate from the nearest tensile curve;
/// - modulus and knee: 5 % beside it, and what the law misses of the first 3 % of strain;
/// - hardening slope: 4 and 3 times the law's error of two stresses, half of it in common, over the slope's span;
/// - stiffness let back: 12 % with an unloading curve, 35 % without, beside twice the law's error and the rate's;
/// - tension kept: the law's error, or 0.02, within the longest hold or the slowest pull, 0.07 per decade beyond;
/// - permanent set, of the strain: 0.05 with free recovery, 0.05 per decade beyond it; 0.12 with unloading only, 0.30
///   with neither.
///
/// \test tests/unit/film_fit_error_test.cpp and tests/consistency/test_foreign_films.py
#pragma once

#include "sim/film_lab/derived_numbers.hpp"
#include "sim/film_lab/film_fit.hpp"
#include "sim/film_lab/fit_path.hpp"

#include <vector>

namespace hoopfield::detail {

struct Evidence {
  std::vector<double> rates;  ///< 1/s, of first stretchings
  double longest_hold = 0.0;  ///< s
  double longest_free = 0.0;  ///< s
  double slowest_pull = 0.0;  ///< s, the longest a film was under way
  double start_misfit = 0.0;  ///< relative, root mean square over the first 3 % of strain
  bool unloads = false;
};

/// What the curves reach, and how well `curves` (residuals of the same fit) are met where they begin.
[[nodiscard]] Evidence evidence_of(const std::vector<FitPath>& paths, const std::vector<CurveResidual>& curves);

/// Standard deviations in the order of derived_fields(), of the logarithm where `even_in_logarithm`. `law_error` is the
/// relative error of a stress.
[[nodiscard]] std::vector<double> reaching_errors(const DerivedNumbers& numbers, const Evidence& evidence,
                                                  const DerivedSettings& settings, double law_error);

/// Stresses, stiffnesses and work; shares, strains and the slope are taken as they are.
[[nodiscard]] bool even_in_logarithm(std::optional<double> DerivedNumbers::*number);

}  // namespace hoopfield::detail
