// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/fit_result.hpp"

#include "models/film/eyring_activation.hpp"
#include "models/text.hpp"
#include "sim/base/build_info.hpp"
#include "sim/base/number_text.hpp"
#include "sim/film_lab/fit_advice.hpp"
#include "sim/film_lab/fit_numbers.hpp"
#include "sim/film_lab/fit_runs.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield::detail {

namespace {

constexpr double interval_width = 1.96;

/// Standard deviation above which a number is of little use, in the units of FitLayout; own choice: a third of a
/// modulus, a decade of a rate, 15 kJ/mol.
double useful_error(const FitLayout& layout, Eigen::Index i) {
  if (layout.thermal(i)) return i < layout.softening() ? 1.5 : 0.003;
  return i > layout.viscous_share() && (i - 3) % 3 == 1 ? 2.3 : 0.3;
}

CurveResidual residuals_of(const LabCurve& lab, const FitPath& path, const FitOutcome& outcome) {
  Eigen::VectorXd stress;
  model_stress(path, outcome.problem.layout, outcome.parameters, outcome.problem.reference_temperature, stress);
  CurveResidual curve;
  curve.name = lab.name;
  curve.kind = lab.kind;
  curve.break_stretch = lab.break_stretch;
  curve.rows_read = lab.rows_read;
  curve.temperature = path.temperature;
  curve.rate = path.rate;
  curve.noise = path.noise;
  double mean = 0.0, square = 0.0;
  for (std::size_t i = 0; i < path.readings.size(); ++i) {
    const FitReading& reading = path.readings[i];
    const double model = stress[static_cast<Eigen::Index>(i)];
    curve.time.push_back(reading.time);
    curve.stretch.push_back(reading.stretch);
    curve.measured.push_back(reading.stress);
    curve.fitted.push_back(model);
    mean += std::abs(reading.stress);
    square += (model - reading.stress) * (model - reading.stress);
    curve.greatest = std::max(curve.greatest, std::abs(model - reading.stress));
  }
  const auto count = static_cast<double>(path.readings.size());
  curve.rms = std::sqrt(square / count) / (mean / count);
  curve.greatest /= mean / count;
  return curve;
}

std::vector<CurveResidual> curve_residuals(const FitOutcome& outcome, const std::vector<LabCurve>& curves) {
  std::vector<CurveResidual> list;
  for (std::size_t c = 0; c < curves.size(); ++c)
    list.push_back(residuals_of(curves[c], (*outcome.problem.paths)[c], outcome));
  return list;
}

/// Curves the fit has not seen; without a temperature they are taken at the film's.
std::vector<CurveResidual> held_out_residuals(const FitOutcome& outcome, const std::vector<LabCurve>& curves) {
  std::vector<CurveResidual> list;
  for (const LabCurve& curve : curves) {
    FitPath path = make_fit_path(curve);
    if (!curve.temperature_given) path.temperature = outcome.problem.reference_temperature;
    list.push_back(residuals_of(curve, path, outcome));
  }
  return list;
}

void fill_parameters(const FitOutcome& outcome, FilmFit& fit) {
  const FitLayout& layout = outcome.problem.layout;
  const Eigen::VectorXd& p = outcome.parameters;
  for (Eigen::Index i = 0; i < layout.size(); ++i) {
    FittedParameter parameter;
    const double unit = i >= layout.activation(0) && i < layout.softening() ? activation_unit : 1.0;
    const double error = std::sqrt(fit.covariance(i, i));
    parameter.key = layout.key(i);
    parameter.error = error * (layout.logarithmic(i) ? 1.0 : unit);
    parameter.prior_error = fit.prior_error[i] * (layout.logarithmic(i) ? 1.0 : unit);
    const auto at = [&](double move) { return layout.logarithmic(i) ? std::exp(p[i] + move) : (p[i] + move) * unit; };
    parameter.value = at(0.0);
    parameter.low = at(-interval_width * error);
    parameter.high = at(interval_width * error);
    parameter.determined = error < 0.5 * fit.prior_error[i] && error < useful_error(layout, i);
    fit.parameters.push_back(parameter);
  }
}

void check_bounds(const FitOutcome& outcome, FilmFit& fit) {
  const FitLayout& layout = outcome.problem.layout;
  for (Eigen::Index i = 0; i < layout.size(); ++i) {
    if (!outcome.problem.free[static_cast<std::size_t>(i)]) continue;
    const double span = outcome.problem.prior.high[i] - outcome.problem.prior.low[i];
    const double share = (outcome.parameters[i] - outcome.problem.prior.low[i]) / span;
    if (share < 1e-3 || share > 1.0 - 1e-3)
      fit.warnings.push_back(layout.key(i) +
                             " reached its bound: the curves call for a value that no film is expected to have");
  }
  for (const BranchParameters& branch : fit.film.branches) {
    if (branch["activation_energy"] < eyring_least_activation(branch["reference_rate"], fit.film.reference_temperature))
      fit.warnings.push_back("an activation energy is too small for its branch's rate: predictions away from " +
                             fixed(fit.film.reference_temperature - 273.15, 0) + " degC will be refused");
  }
}

void fill_provenance(const std::vector<LabCurve>& curves, FilmFit& fit) {
  std::string names;
  for (const LabCurve& curve : curves) {
    names += (names.empty() ? "" : ", ") + file_name(curve.name);
    fit.film.provenance.illustrative = fit.film.provenance.illustrative || curve.illustrative;
  }
  fit.film.provenance.fitted_to = names;
  fit.film.provenance.source = std::string(fit.film.provenance.illustrative ? "illustrative: " : "") +
                               "fitted by hoopfield " + build_version() + " to " + std::to_string(curves.size()) +
                               (curves.size() == 1 ? " curve" : " curves");
  FilmCovariance covariance;
  const std::size_t n = fit.parameters.size();
  for (std::size_t i = 0; i < n; ++i) {
    covariance.keys.push_back(fit.parameters[i].key);
    covariance.error.push_back(fit.parameters[i].error);
    for (std::size_t j = 0; j < n; ++j) covariance.correlation.push_back(std::clamp(correlation(fit, i, j), -1.0, 1.0));
  }
  fit.film.covariance = covariance;
}

}  // namespace

void complete_fit(const FitOutcome& outcome, const std::vector<LabCurve>& curves, const FitOptions& options,
                  FilmFit& fit, Observer* observer) {
  fit.readings = static_cast<std::size_t>(outcome.problem.readings());
  fit.prior_error = outcome.problem.prior.error;
  fit.covariance = covariance_of(outcome.known, fit.prior_error);
  fit.film = film_from(outcome.problem.layout, outcome.parameters, options.base);
  fit.film.reference_temperature = outcome.problem.reference_temperature;
  fit.curves = curve_residuals(outcome, curves);
  fit.held_out = held_out_residuals(outcome, options.hold_out);
  const NumberSlopes numbers = derive_intervals(outcome, options, fit, observer);
  fill_parameters(outcome, fit);
  check_bounds(outcome, fit);
  if (const std::string lawless = lawless_ranges(*outcome.problem.paths, fit.curves); !lawless.empty())
    fit.warnings.push_back(lawless);
  fill_provenance(curves, fit);
  const auto tests = advise({outcome.problem, outcome.known, outcome.two_temperatures, outcome.error}, fit, observer);
  name_tests(numbers, tests, fit);
  say_poor_numbers(fit);
}

}  // namespace hoopfield::detail
