// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What curves leave open, and the one more test that would close it.
#pragma once

#include "sim/film_lab/film_fit.hpp"
#include "sim/film_lab/fit_error.hpp"

namespace hoopfield::detail {

struct AdviceInput {
  const FitProblem& problem;
  const Eigen::MatrixXd& information;  ///< of the curves at hand
  bool two_temperatures = false;
  LawError error;
};

struct TestWorth {
  std::string words;
  Eigen::MatrixXd covariance;  ///< with the information of this test added
};

/// For every undetermined parameter: the standard tests are made virtually on the fitted film, their information is
/// added one at a time, and the test that narrows the parameter most is named. Fills `test`, `error_with_test` and the
/// plain sentences of `unknown`. Returns what each test would bring.
std::vector<TestWorth> advise(const AdviceInput& input, FilmFit& fit, Observer* observer);

/// A sentence at the front of `unknown` about derived numbers known to worse than a tenth.
void say_poor_numbers(FilmFit& fit);

}  // namespace hoopfield::detail
