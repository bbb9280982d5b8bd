// SPDX-License-Identifier: BSD-3-Clause
// Drawn laws against the covariance where data determine the law, and against the truth where they leave it open.
#include "sim/film_lab/film_fit.hpp"
#include "sim/film_lab/fit_draws.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/films.hpp"
#include "tests/support/lab_curves.hpp"

#include <cmath>
#include <iostream>
#include <vector>

using namespace hoopfield;

namespace {

detail::FitProblem problem_of(const std::vector<FitPath>& paths) {
  detail::FitProblem problem;
  problem.paths = &paths;
  problem.layout = FitLayout(3);
  double invariant = 0.0;
  for (const FitPath& path : paths)
    for (const FitStep& step : path.steps) invariant = std::max(invariant, path.mode.invariant(step.stretch) - 3.0);
  problem.prior = detail::fit_prior(problem.layout, invariant);
  for (Eigen::Index i = 0; i < problem.layout.size(); ++i) problem.free.push_back(!problem.layout.thermal(i));
  return problem;
}

double deviation(const std::vector<double>& values) {
  double mean = 0.0, square = 0.0;
  for (const double v : values) mean += v / static_cast<double>(values.size());
  for (const double v : values) square += (v - mean) * (v - mean);
  return std::sqrt(square / static_cast<double>(values.size() - 1));
}

LabCurve single_curve(double noise, double rate, unsigned seed) {
  return test::measured(test::general_film(), {{0.0, 1.0}, {2.5 / rate, 3.5}}, noise, seed, FilmTestKind::tensile);
}

FilmFit fit_single(double noise, double rate, unsigned seed) {
  FitOptions options;
  options.base = assumed_film();
  options.seed = seed + 1;
  return fit_film({single_curve(noise, rate, seed)}, options);
}

}  // namespace

TEST_CASE("film fit: draws spread as the covariance says where the curves determine the law", "[film_fit]") {
  const FilmDescription truth = test::general_film();
  std::vector<FitPath> paths;
  for (const LabCurve& curve : test::curve_set(truth, 0.01, 4)) paths.push_back(make_fit_path(curve));
  const detail::FitProblem problem = problem_of(paths);
  const detail::FitMinimum fit = detail::minimise(problem, parameters_from(problem.layout, truth), 300);
  // Variances four times as large for correlated neighbours: both routes must heed it.
  const detail::FitOutcome outcome{problem, fit.parameters, false, 4.0, {}};
  const auto films = detail::draw_films(outcome, truth, 1, nullptr);
  REQUIRE(films.size() == detail::draw_count);
  const Eigen::MatrixXd covariance =
      detail::covariance_of(detail::information(problem, fit.parameters) / outcome.widening, problem.prior.error);
  for (Eigen::Index i = 0; i < 3 + 3 * 3; ++i) {
    const double expected = std::sqrt(covariance(i, i));
    if (expected > 0.1) continue;  // not straight enough over its own error
    std::vector<double> values;
    for (const FilmDescription& film : films) values.push_back(parameters_from(problem.layout, film)[i]);
    INFO(problem.layout.key(i) << ": drawn " << deviation(values) << ", covariance " << expected);
    CHECK(deviation(values) == Approx(expected).epsilon(0.3));  // three errors of a deviation of 59 draws
  }
}

TEST_CASE("film fit: one curve leaves the permanent set open, and its interval holds laws unlike the fitted one", "[film_fit]") {
  const FilmFit fit = fit_single(0.005, 0.167, 0), again = fit_single(0.005, 0.167, 0);
  for (std::size_t f = 0; f < fit.derived.size(); ++f) {
    const DerivedInterval& number = fit.derived[f];
    CHECK(number.low == again.derived[f].low);
    if (!number.value) continue;
    INFO(number.parameter->key << " " << *number.value << ", " << number.low << " to " << number.high);
    CHECK(number.low <= *number.value);
    CHECK(number.high >= *number.value);
    CHECK(number.determined == (number.high - number.low <= 0.2 * *number.value));
    CHECK((number.determined || !number.test.empty()));
    if (number.parameter->key == "film_numbers.permanent_set") {
      CHECK_FALSE(number.determined);
      CHECK(number.low > 0.0);
      CHECK(number.high < 2.5);  // the stretch reached: a covariance alone goes beyond both ends
    }
    if (number.parameter->key == "film_numbers.stress_at_200") CHECK(number.determined);
  }
}

TEST_CASE("film fit: intervals of one tensile curve hold the true numbers, seeds 0 to 19", "[.slow][film_fit_draws_slow]") {
  const DerivedNumbers exact = derive_numbers(test::general_film());
  const double noises[] = {0.005, 0.01}, rates[] = {0.167, 0.1};
  for (std::size_t set = 0; set < 2; ++set) {
    std::vector<int> inside(derived_fields().size());
    for (unsigned seed = 0; seed < 20; ++seed) {
      const FilmFit fit = fit_single(noises[set], rates[set], seed);
      for (std::size_t f = 0; f < inside.size(); ++f) {
        const auto& truth = exact.*derived_fields()[f].value;
        if (!truth || (*truth >= fit.derived[f].low && *truth <= fit.derived[f].high)) ++inside[f];
      }
    }
    for (std::size_t f = 0; f < inside.size(); ++f) {
      std::cout << derived_fields()[f].parameter->key << ": " << inside[f] << " of 20 seeds\n";
      CHECK(inside[f] >= 18);
    }
  }
}
