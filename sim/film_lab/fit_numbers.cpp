// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/fit_numbers.hpp"

#include "models/error.hpp"
#include "sim/film_lab/fit_draws.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield::detail {

namespace {

constexpr double interval_width = 1.96;
constexpr double poorly_known = 0.10;    // of a number, half of its interval
constexpr std::size_t least_draws = 39;  // their span holds the next one 38 times out of 40
constexpr double worth_a_test = 0.7;

/// d(number)/d(parameter) by differences of half a standard deviation; a row per number.
Eigen::MatrixXd slopes(const FitOutcome& outcome, const FitOptions& options, const DerivedNumbers& centre,
                       const FilmFit& fit, Observer* observer) {
  const FitLayout& layout = outcome.problem.layout;
  const auto& fields = derived_fields();
  Eigen::MatrixXd slope = Eigen::MatrixXd::Zero(static_cast<Eigen::Index>(fields.size()), layout.size());
  const double temperature = options.derived.temperature.value_or(fit.film.reference_temperature);
  const bool warm = std::abs(temperature - fit.film.reference_temperature) > 0.01;
  for (Eigen::Index i = 0; i < layout.size(); ++i) {
    if (layout.thermal(i) && !warm) continue;
    Eigen::VectorXd moved = outcome.parameters;
    // Upwards only where the network locks earlier below.
    const double step = std::min(0.5 * std::sqrt(fit.covariance(i, i)), 0.05 * outcome.problem.prior.error[i]);
    moved[i] += step;
    const DerivedNumbers there = derive_numbers(film_from(layout, moved, fit.film), options.derived, observer);
    for (std::size_t f = 0; f < fields.size(); ++f) {
      const auto &a = centre.*fields[f].value, &b = there.*fields[f].value;
      if (a && b) slope(static_cast<Eigen::Index>(f), i) = (*b - *a) / step;
    }
  }
  return slope;
}

double through(const Eigen::MatrixXd& slope, std::size_t number, const Eigen::MatrixXd& covariance) {
  const auto row = slope.row(static_cast<Eigen::Index>(number));
  const double variance = row * covariance * row.transpose();
  return std::sqrt(std::max(0.0, variance));
}

void judge(DerivedInterval& number) {
  number.determined = !number.value || number.high - number.low <= 2.0 * poorly_known * std::abs(*number.value);
}

/// The span of the draws for numbers the covariance leaves open; it may widen the others. False when too few could be
/// made or tested.
bool widen(const std::vector<FilmDescription>& films, const DerivedSettings& settings,
           std::vector<DerivedInterval>& numbers, Observer* observer) {
  std::vector<DerivedNumbers> drawn;
  for (const FilmDescription& film : films) {
    try {
      drawn.push_back(derive_numbers(film, settings, observer));
    } catch (const SolverError&) {
      continue;  // a law no strip can be led through
    }
  }
  if (drawn.size() < least_draws) return false;
  const auto& fields = derived_fields();
  for (std::size_t f = 0; f < fields.size(); ++f) {
    DerivedInterval& number = numbers[f];
    if (!number.value) continue;
    // Where the law is straight enough both are right, and the covariance does not hang on chance.
    if (!number.determined) number.low = number.high = *number.value;
    for (const DerivedNumbers& one : drawn) {
      const auto& value = one.*fields[f].value;
      if (!value) continue;
      number.low = std::min(number.low, *value);
      number.high = std::max(number.high, *value);
    }
    number.error = 0.5 * (number.high - number.low) / interval_width;
    judge(number);
  }
  return true;
}

}  // namespace

void derive_intervals(const FitOutcome& outcome, const FitOptions& options, const std::vector<TestWorth>& tests,
                      FilmFit& fit, Observer* observer) {
  const DerivedNumbers centre = derive_numbers(fit.film, options.derived, observer);
  const auto& fields = derived_fields();
  for (const DerivedField& field : fields) {
    DerivedInterval& number = fit.derived.emplace_back();
    number.parameter = field.parameter;
    number.value = centre.*field.value;
    number.low = number.high = number.value.value_or(0.0);
  }
  if (!options.derived_intervals) return;
  const Eigen::MatrixXd slope = slopes(outcome, options, centre, fit, observer);
  for (std::size_t f = 0; f < fields.size(); ++f) {
    DerivedInterval& number = fit.derived[f];
    if (!number.value) continue;
    number.error = through(slope, f, fit.covariance);
    number.low = *number.value - interval_width * number.error;
    number.high = *number.value + interval_width * number.error;
    judge(number);
  }
  const auto poor = [](const DerivedInterval& number) { return !number.determined; };
  if (std::none_of(fit.derived.begin(), fit.derived.end(), poor)) return;
  if (!widen(draw_films(outcome, fit.film, options.seed, observer), options.derived, fit.derived, observer))
    fit.warnings.push_back(
        "too few other laws that meet the curves were found: the intervals of the comparison numbers hold only near "
        "the fitted law");
  for (std::size_t f = 0; f < fields.size(); ++f) {
    DerivedInterval& number = fit.derived[f];
    if (number.determined) continue;
    double least = worth_a_test * through(slope, f, fit.covariance);
    for (const TestWorth& test : tests) {
      const double with_test = through(slope, f, test.covariance);
      if (with_test < least) least = with_test, number.test = test.words;
    }
  }
}

}  // namespace hoopfield::detail
