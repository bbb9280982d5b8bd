// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/fit_numbers.hpp"

#include "models/error.hpp"
#include "sim/film_lab/fit_evidence.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield::detail {

namespace {

constexpr double interval_width = 1.96;
constexpr double poorly_known = 0.10;  // of a number, half of its interval
constexpr double worth_a_test = 0.7;

/// d(number)/d(parameter) by differences of a twentieth of a standard deviation; a row per number.
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
    const double step = std::min(0.05 * std::sqrt(fit.covariance(i, i)), 0.005 * outcome.problem.prior.error[i]);
    moved[i] += step;
    const DerivedNumbers there = derive_numbers(film_from(layout, moved, fit.film), options.derived, observer);
    for (std::size_t f = 0; f < fields.size(); ++f) {
      const auto &a = centre.*fields[f].value, &b = there.*fields[f].value;
      if (a && b) slope(static_cast<Eigen::Index>(f), i) = (*b - *a) / step;
    }
  }
  return slope;
}

double through(const Eigen::RowVectorXd& slope, const Eigen::MatrixXd& covariance) {
  return std::max(0.0, slope.dot(slope * covariance));
}

/// What a number cannot leave: shares stay shares, set stays within the strain.
void keep_within(const DerivedField& field, double strain, DerivedInterval& number) {
  if (even_in_logarithm(field.value) || field.value == &DerivedNumbers::hardening_slope) return;
  const double most = field.value == &DerivedNumbers::permanent_set ? strain : 1.0;
  number.low = std::clamp(number.low, 0.0, std::max(most, *number.value));
  number.high = std::clamp(number.high, 0.0, std::max(most, *number.value));
}

void set_interval(const DerivedField& field, double variance, double strain, DerivedInterval& number) {
  const double half = interval_width * std::sqrt(variance);
  if (even_in_logarithm(field.value)) {
    number.low = *number.value * std::exp(-half);
    number.high = *number.value * std::exp(half);
  } else {
    number.low = *number.value - half;
    number.high = *number.value + half;
    keep_within(field, strain, number);
  }
  number.error = 0.5 * (number.high - number.low) / interval_width;
  number.determined = number.high - number.low <= 2.0 * poorly_known * std::abs(*number.value);
}

/// The numbers of the other laws that meet the curves; those no strip can be led through are left out.
std::vector<DerivedNumbers> numbers_of_others(const FitOutcome& outcome, const FilmDescription& film,
                                              const DerivedSettings& settings, Observer* observer) {
  std::vector<DerivedNumbers> list;
  for (const Eigen::VectorXd& other : outcome.as_good) {
    try {
      list.push_back(derive_numbers(film_from(outcome.problem.layout, other, film), settings, observer));
    } catch (const SolverError&) {
      continue;
    }
  }
  return list;
}

/// The farthest of the other laws stands two standard deviations away.
double variance_among(const std::vector<DerivedNumbers>& others, const DerivedField& field, double value) {
  double farthest = 0.0;
  for (const DerivedNumbers& other : others) {
    const auto& there = other.*field.value;
    if (!there) continue;
    const bool logarithm = even_in_logarithm(field.value) && *there > 0.0 && value > 0.0;
    farthest = std::max(farthest, std::abs(logarithm ? std::log(*there / value) : *there - value));
  }
  return 0.25 * farthest * farthest;
}

/// See derive_intervals: the information `known` of the curves is weakened until the number is as uncertain as wanted,
/// or to the limit.
void widen(Eigen::MatrixXd& covariance, const Eigen::MatrixXd& known, const Eigen::VectorXd& prior_error,
           const Eigen::RowVectorXd& slope, double wanted) {
  constexpr double weakest = 1.0 / 9.0;  // three times the law's error; own choice
  constexpr int halvings = 12;
  const double now = through(slope, covariance);
  if (wanted <= now) return;
  double strong = 0.0, weak = std::log(weakest);  // logarithms of the share of information left
  Eigen::MatrixXd loose = covariance_of(weakest * known, prior_error);
  if (through(slope, loose) > wanted)
    for (int i = 0; i < halvings; ++i) {
      const double middle = 0.5 * (strong + weak);
      loose = covariance_of(std::exp(middle) * known, prior_error);
      (through(slope, loose) > wanted ? weak : strong) = middle;
    }
  const double reached = through(slope, loose);
  if (reached <= now) return;
  const Eigen::VectorXd way = loose * slope.transpose();
  covariance += (std::min(wanted, reached) - now) / (reached * reached) * way * way.transpose();
}

}  // namespace

NumberSlopes derive_intervals(const FitOutcome& outcome, const FitOptions& options, FilmFit& fit, Observer* observer) {
  const DerivedNumbers centre = derive_numbers(fit.film, options.derived, observer);
  const auto& fields = derived_fields();
  for (const DerivedField& field : fields) {
    DerivedInterval& number = fit.derived.emplace_back();
    number.parameter = field.parameter;
    number.value = centre.*field.value;
    number.low = number.high = number.value.value_or(0.0);
  }
  if (!options.derived_intervals) return {};
  NumberSlopes numbers{slopes(outcome, options, centre, fit, observer)};
  const Eigen::MatrixXd covariance = fit.covariance;
  const auto others = numbers_of_others(outcome, fit.film, options.derived, observer);
  const std::vector<double> reaching =
      reaching_errors(centre, evidence_of(*outcome.problem.paths, fit.curves), options.derived, outcome.error.size);
  for (std::size_t f = 0; f < fields.size(); ++f) {
    DerivedInterval& number = fit.derived[f];
    if (!number.value || fields[f].value == &DerivedNumbers::break_stretch) continue;
    const double unit = even_in_logarithm(fields[f].value) ? *number.value : 1.0;
    const Eigen::RowVectorXd slope = numbers.slope.row(static_cast<Eigen::Index>(f)) / unit;
    const double variance =
        through(slope, covariance) + reaching[f] * reaching[f] + variance_among(others, fields[f], *number.value);
    set_interval(fields[f], variance, options.derived.stretch, number);
    widen(fit.covariance, outcome.known, outcome.problem.prior.error, slope, variance);
  }
  return numbers;
}

void name_tests(const NumberSlopes& numbers, const std::vector<TestWorth>& tests, FilmFit& fit) {
  if (numbers.slope.size() == 0) return;
  for (std::size_t f = 0; f < fit.derived.size(); ++f) {
    DerivedInterval& number = fit.derived[f];
    if (number.determined) continue;
    const Eigen::RowVectorXd slope = numbers.slope.row(static_cast<Eigen::Index>(f));
    double least = worth_a_test * worth_a_test * through(slope, fit.covariance);
    for (const TestWorth& test : tests) {
      const double with_test = through(slope, test.covariance);
      if (with_test < least) least = with_test, number.test = test.words;
    }
  }
}

}  // namespace hoopfield::detail
