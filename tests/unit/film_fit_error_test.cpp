// SPDX-License-Identifier: BSD-3-Clause
// Errors of a law that is not the film's: covariance of readings and parameters, runs, and the errors of reaching out.
#include "sim/film_lab/film_fit.hpp"
#include "sim/film_lab/fit_error.hpp"
#include "sim/film_lab/fit_evidence.hpp"
#include "sim/film_lab/fit_numbers.hpp"
#include "sim/film_lab/fit_runs.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/films.hpp"
#include "tests/support/lab_curves.hpp"

#include <Eigen/Cholesky>

#include <algorithm>
#include <cmath>

using namespace hoopfield;
using detail::LawError;

namespace {

struct Set {
  std::vector<LabCurve> curves;
  std::vector<FitPath> paths;
  detail::FitProblem problem;
  Eigen::VectorXd law;

  explicit Set(double noise, unsigned seed) : curves(test::curve_set(test::general_film(), noise, seed)) {
    for (const LabCurve& curve : curves) paths.push_back(make_fit_path(curve));
    problem.paths = &paths;
    problem.layout = FitLayout(3);
    double invariant = 0.0;
    for (const FitPath& path : paths)
      for (const FitStep& step : path.steps) invariant = std::max(invariant, path.mode.invariant(step.stretch) - 3.0);
    problem.prior = detail::fit_prior(problem.layout, invariant);
    for (Eigen::Index i = 0; i < problem.layout.size(); ++i) problem.free.push_back(!problem.layout.thermal(i));
    law = parameters_from(problem.layout, test::general_film());
  }
  Set(const Set&) = delete;
  Set& operator=(const Set&) = delete;
};

FitReading reading(double scale, std::size_t leg, double place, double count) {
  FitReading r;
  r.scale = scale;
  r.leg = leg;
  r.place = place;
  r.count = count;
  return r;
}

}  // namespace

TEST_CASE("film fit: readings of one leg err together, legs apart", "[film_fit]") {
  FitPath path;
  path.noise = 0.02;
  path.readings = {reading(2e6, 0, 0.1, 4.0), reading(3e6, 0, 0.4, 1.0), reading(3e6, 1, 0.4, 1.0)};
  const LawError error{0.03, 0.5};
  const Eigen::MatrixXd r = detail::reading_covariance({path, path}, error);
  REQUIRE(r.rows() == 6);
  CHECK(r(0, 0) == Approx(0.03 * 0.03 * 4e12 + 0.01 * 0.01 * 4e12));
  CHECK(r(0, 1) == Approx(0.03 * 0.03 * 6e12 * (0.5 + 0.5 * std::exp(-0.3 / 0.5))));
  CHECK(r(1, 0) == r(0, 1));
  CHECK(r(1, 2) == 0.0);
  CHECK(r(0, 3) == 0.0);
}

TEST_CASE("film fit: without an error of the law the information is the usual one", "[film_fit]") {
  Set set(0.01, 2);
  set.problem.misfit = 0.0;
  const Eigen::MatrixXd usual = detail::information(set.problem, set.law);
  const Eigen::MatrixXd plain = detail::shared_error_information(set.problem, set.law, {0.0, 0.3});
  CHECK((plain - usual).norm() <= 1e-8 * usual.norm());
  const Eigen::VectorXd& prior = set.problem.prior.error;
  const Eigen::MatrixXd known = detail::shared_error_information(set.problem, set.law, {0.02, 0.3});
  const Eigen::MatrixXd sure = detail::covariance_of(plain, prior), unsure = detail::covariance_of(known, prior);
  for (Eigen::Index i = 0; i < unsure.rows(); ++i) {
    CHECK(unsure(i, i) >= sure(i, i) * (1.0 - 1e-9));
    CHECK(unsure(i, i) <= prior[i] * prior[i] * (1.0 + 1e-9));
  }
}

TEST_CASE("film fit: the covariance is that of estimates from many sets of readings", "[film_fit]") {
  // Of a model linear in its parameters: parameters and errors drawn, parameters estimated, the misses as C says.
  Set set(0.01, 2);
  const LawError error{0.02, 0.3};
  const Eigen::VectorXd& prior = set.problem.prior.error;
  const Eigen::MatrixXd c = detail::covariance_of(detail::shared_error_information(set.problem, set.law, error), prior);
  Eigen::VectorXd residuals;
  Eigen::MatrixXd j;
  set.problem.residuals(set.law, residuals, &j);
  j = (set.problem.errors().asDiagonal() * j).eval();
  const Eigen::LLT<Eigen::MatrixXd> r(detail::reading_covariance(set.paths, error));
  const Eigen::MatrixXd root = r.matrixL(), gain = c * r.solve(j).transpose();
  std::mt19937 random(5);
  std::normal_distribution<double> normal;
  const auto draw = [&](Eigen::Index n) {
    return Eigen::VectorXd(Eigen::VectorXd::NullaryExpr(n, [&] { return normal(random); }));
  };
  constexpr int draws = 4000;
  Eigen::VectorXd square = Eigen::VectorXd::Zero(j.cols());
  for (int n = 0; n < draws; ++n) {
    const Eigen::VectorXd truth = prior.cwiseProduct(draw(j.cols()));
    square += (gain * (j * truth + root * draw(j.rows())) - truth).cwiseAbs2();
  }
  for (Eigen::Index i = 0; i < j.cols(); ++i) CHECK(square[i] / draws == Approx(c(i, i)).epsilon(0.12));
}

TEST_CASE("film fit: the error of a law is what residuals show beyond their scatter", "[film_fit]") {
  const Set quiet(0.0, 1), noisy(0.03, 1);
  CHECK(detail::law_error(quiet.problem, quiet.law, 0.0).size < 1e-3);
  CHECK(detail::law_error(noisy.problem, noisy.law, 0.0).size < 0.01);  // 3 % scatter is no error of the law
  CHECK(detail::law_error(noisy.problem, noisy.law, 0.02).size >= 0.02);
  Eigen::VectorXd off = quiet.law;
  off[quiet.problem.layout.network_modulus()] += 0.2;
  const LawError error = detail::law_error(quiet.problem, off, 0.0);
  CHECK(error.size > 0.03);
  CHECK(error.length > 0.3);  // off the same way all along
}

TEST_CASE("film fit: runs of residuals against chance", "[film_fit]") {
  std::vector<double> turning, halves;
  for (int i = 0; i < 20; ++i) {
    turning.push_back(i % 2 == 0 ? 1.0 : -1.0);
    halves.push_back(i < 10 ? 1.0 : -1.0);
  }
  const double expected = 11.0, variance = 200.0 * 180.0 / (400.0 * 19.0);
  CHECK(detail::runs_deviation(turning) == Approx((20.0 - expected) / std::sqrt(variance)));
  CHECK(detail::runs_deviation(halves) == Approx((2.0 - expected) / std::sqrt(variance)));
  CHECK(detail::runs_deviation({1.0, 2.0, 3.0}) == 0.0);
  CHECK(detail::runs_deviation(std::vector<double>(20, 1.0)) < -3.0);
}

TEST_CASE("film fit: a law that cannot follow says where", "[film_fit]") {
  FitOptions options;
  options.base = assumed_film();
  options.derived_intervals = false;
  const auto curves = test::curve_set(test::general_film(), 0.005, 1);
  const auto told = [&](std::size_t branches) {
    options.branches = branches;
    std::string all;
    for (const std::string& warning : fit_film(curves, options).warnings) all += warning + "\n";
    return all;
  };
  CHECK_THAT(told(1), ContainsSubstring("the law cannot follow") && ContainsSubstring("cycle, unloading") &&
                          ContainsSubstring("% too "));
  CHECK_THAT(told(3), !ContainsSubstring("cannot follow"));
}

TEST_CASE("film fit: held-out curves are predicted, not fitted", "[film_fit]") {
  auto curves = test::curve_set(test::general_film(), 0.0, 1);
  FitOptions options;
  options.base = assumed_film();
  options.derived_intervals = false;
  options.branches = 3;
  options.hold_out = {curves.back()};
  curves.pop_back();
  const FilmFit fit = fit_film(curves, options);
  REQUIRE(fit.held_out.size() == 1);
  CHECK(fit.curves.size() == curves.size());
  CHECK(fit.held_out.front().rms < 0.02);
  options.hold_out.front().points.back().stress *= 2.0;  // a fit that saw it would move
  CHECK(fit_film(curves, options).film.network.modulus == fit.film.network.modulus);
}

TEST_CASE("film fit: reaching beyond the curves costs what is stated", "[film_fit]") {
  detail::Evidence evidence;
  evidence.rates = {0.1};
  evidence.longest_hold = 600.0;
  evidence.slowest_pull = 30.0;
  DerivedNumbers numbers;
  numbers.stress_at_200 = 8e6;
  numbers.stress_at_300 = 9e6;
  DerivedSettings settings;
  settings.rate = 1.0;
  const auto of = [&](std::optional<double> DerivedNumbers::*number) {
    const auto& fields = derived_fields();
    const auto at = std::find_if(fields.begin(), fields.end(), [&](const auto& f) { return f.value == number; });
    return detail::reaching_errors(numbers, evidence, settings, 0.02)[static_cast<std::size_t>(at - fields.begin())];
  };
  CHECK(of(&DerivedNumbers::stress_at_100) == Approx(0.03));
  CHECK(of(&DerivedNumbers::secant_modulus) == Approx(std::hypot(0.03, 0.05)));
  CHECK(of(&DerivedNumbers::kept_1_min) == Approx(0.02));
  CHECK(of(&DerivedNumbers::kept_24_h) == Approx(std::hypot(0.02, 0.07 * std::log10(144.0))));
  CHECK(of(&DerivedNumbers::unloading_stiffness) == Approx(std::hypot(0.04, 0.03, 0.35)));
  CHECK(of(&DerivedNumbers::permanent_set) == Approx(0.30 * 2.5));
  evidence.unloads = true;
  CHECK(of(&DerivedNumbers::unloading_stiffness) == Approx(std::hypot(0.04, 0.03, 0.12)));
  CHECK(of(&DerivedNumbers::permanent_set) == Approx(0.12 * 2.5));
  evidence.longest_free = 8640.0;
  CHECK(of(&DerivedNumbers::permanent_set) == Approx(2.5 * std::hypot(0.05, 0.05)));
  evidence.start_misfit = 0.2;
  CHECK(of(&DerivedNumbers::secant_modulus) == Approx(std::hypot(0.03, 0.05, 0.2)));
  const double g = 16.0 - 0.25 - (9.0 - 1.0 / 3.0), stress = std::hypot(0.02, 0.03);
  CHECK(of(&DerivedNumbers::hardening_slope) ==
        Approx(stress * std::sqrt(0.5) * std::hypot(std::hypot(36e6, 24e6), 36e6 - 24e6) / g));
}

TEST_CASE("film fit: laws drawn from the covariance know no number better than it is said to be", "[film_fit]") {
  Set set(0.01, 3);
  const LawError error{0.02, 0.3};
  const Eigen::MatrixXd known = detail::shared_error_information(set.problem, set.law, error);
  const Eigen::MatrixXd covariance = detail::covariance_of(known, set.problem.prior.error);
  const detail::FitOutcome outcome{set.problem, set.law, false, known, error};
  FitOptions options;
  FilmFit fit;
  fit.film = test::general_film();
  fit.covariance = covariance;
  const detail::NumberSlopes numbers = detail::derive_intervals(outcome, options, fit, nullptr);
  int widened = 0;
  for (std::size_t f = 0; f < fit.derived.size(); ++f) {
    const DerivedInterval& number = fit.derived[f];
    if (!number.value || number.parameter->key == "film_numbers.break_stretch") continue;
    const auto row = numbers.slope.row(static_cast<Eigen::Index>(f));
    const double drawn = row * fit.covariance * row.transpose(), before = row * covariance * row.transpose();
    const Eigen::MatrixXd loose = detail::covariance_of(known / 9.0, set.problem.prior.error);
    const double reached = row * loose * row.transpose(), asked = std::pow(0.49 * (number.high - number.low) / 1.96, 2);
    INFO(number.parameter->key << " asked " << asked << " drawn " << drawn << " before " << before);
    CHECK(drawn >= std::min(0.95 * asked, 0.99 * reached));
    if (drawn > 1.5 * before) ++widened;
  }
  CHECK(widened > 3);
  for (Eigen::Index i = 0; i < fit.covariance.rows(); ++i)  // nothing flies away
    CHECK(std::sqrt(fit.covariance(i, i)) < 2.5 * set.problem.prior.error[i]);
}
