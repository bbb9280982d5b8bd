// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/datasheet.hpp"

#include "models/error.hpp"
#include "models/units.hpp"
#include "sim/base/number_text.hpp"
#include "sim/film_lab/fit_problem.hpp"
#include "sim/film_lab/fit_result.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield {

namespace {

constexpr std::size_t branches = 3;
constexpr double assumed_weibull_modulus = 10.0;
constexpr double assumed_specimen = 0.025 * 0.05;  // m^2
constexpr double modulus_strain = 0.01;            // of the secant
constexpr double longest_strain_step = 0.01;

void stretch_to(FitPath& path, double& strain, double to, double rate, int reading) {
  const int pieces = std::max(1, static_cast<int>(std::ceil((to - strain) / longest_strain_step)));
  for (int i = 1; i <= pieces; ++i)
    path.steps.push_back(
        {1.0 + strain + (to - strain) * i / pieces, (to - strain) / pieces / rate, i == pieces ? reading : -1});
  strain = to;
  path.greatest_stretch = std::max(path.greatest_stretch, 1.0 + to);
}

FitPath new_path(const FilmSheet& sheet, FilmTestKind kind) {
  FitPath path;
  path.name = "data sheet";
  path.kind = kind;
  path.temperature = sheet.base.reference_temperature;
  path.mode = WidthMode::free();
  path.rate = sheet.rate;
  path.legs = {kind == FilmTestKind::relaxation ? FitLeg::hold : FitLeg::loading};
  return path;
}

void read_at(FitPath& path, double time, double strain, double stress) {
  path.readings.push_back({time, 1.0 + strain, stress, stress, 1.0, 0, 0.0});
}

FitPath tensile_path(const FilmSheet& sheet) {
  FitPath path = new_path(sheet, FilmTestKind::tensile);
  double strain = 0.0;
  const auto add = [&](double to, double stress) {
    stretch_to(path, strain, to, sheet.rate, static_cast<int>(path.readings.size()));
    read_at(path, to / sheet.rate, to, stress);
  };
  add(modulus_strain, *sheet.modulus * modulus_strain);
  for (const auto& [at, stress] : sheet.stress_at) add(at, stress);
  return path;
}

/// Stress the sheet gives at a strain, straight between its numbers and from zero.
double sheet_stress(const FilmSheet& sheet, double strain) {
  if (strain <= modulus_strain) return *sheet.modulus * strain;
  double at0 = modulus_strain, stress0 = *sheet.modulus * modulus_strain;
  for (const auto& [at, stress] : sheet.stress_at) {
    if (strain <= at) return stress0 + (stress - stress0) * (strain - at0) / (at - at0);
    at0 = at;
    stress0 = stress;
  }
  return stress0;
}

FitPath hold_path(const FilmSheet& sheet) {
  FitPath path = new_path(sheet, FilmTestKind::relaxation);
  path.longest_hold = sheet.hold->time;
  double strain = 0.0;
  stretch_to(path, strain, sheet.hold->stretch, sheet.rate, -1);
  path.steps.push_back({1.0 + strain, sheet.hold->time, 0});
  read_at(path, strain / sheet.rate + sheet.hold->time, strain, sheet.hold->kept * sheet_stress(sheet, strain));
  return path;
}

/// Centres of the illustrative general film, widths of what films of one family may differ by; own choice, no source.
detail::FitPrior sheet_prior(const FitLayout& layout, double greatest_invariant, double temperature) {
  constexpr double moduli[] = {53.2e6, 6.8e6, 156.3e6}, rates[] = {0.8, 2e-7, 1.3e-14},
                   flows[] = {0.532e6, 0.171e6, 0.259e6};
  detail::FitPrior prior = detail::fit_prior(layout, greatest_invariant);
  const auto set = [&](Eigen::Index i, double centre, double error) {
    prior.centre[i] = std::clamp(std::log(centre), prior.low[i] + 0.05, prior.high[i]);
    prior.error[i] = error;
  };
  set(layout.network_modulus(), 0.783e6, 0.7);
  set(layout.stretch_limit(), 28.6, 0.4);
  set(layout.viscous_share(), 0.13, 0.6);
  for (std::size_t k = 0; k < branches; ++k) {
    set(layout.modulus(k), moduli[k], 0.7);
    set(layout.rate(k), rates[k], 3.5);
    set(layout.flow_stress(k), flows[k], 0.4);
    prior.centre[layout.activation(k)] = detail::assumed_activation(std::log(rates[k]), temperature);
  }
  return prior;
}

LabCurve sheet_curve(const FitPath& path, const FilmSheet& sheet) {
  LabCurve curve;
  curve.name = path.kind == FilmTestKind::tensile ? "data sheet" : "data sheet, hold";
  curve.kind = path.kind;
  curve.rows_read = path.readings.size();
  curve.temperature = path.temperature;
  curve.illustrative = sheet.base.provenance.illustrative;
  return curve;
}

void add_remarks(const FilmSheet& sheet, FilmFit& fit) {
  if (sheet.rate_assumed)
    fit.warnings.push_back(
        "the sheet gives no rate: 0.167 1/s was assumed (500 mm/min on 50 mm; common practice, no source)");
  if (sheet.hold && (sheet.hold->stretch > sheet.stress_at.back().first))
    fit.warnings.push_back("kept_stretch lies beyond the last force of the sheet: that force was used there");
  for (const CurveResidual& curve : fit.curves)
    if (curve.rms > 1.5 * sheet.error)
      fit.warnings.push_back("the fitted law meets the numbers of the sheet only to within " +
                             fixed(curve.rms * 100.0, 0) +
                             " %: they may be inconsistent, or the film differs from polyethylene stretch film");
  if (sheet.break_stretch)
    fit.unknown.push_back(
        "A data sheet cannot determine the spread of the stretch at break. [break] assumes a Weibull modulus of " +
        fixed(assumed_weibull_modulus, 0) + " on a specimen of 25 mm x 50 mm (own assumption, no source).");
}

}  // namespace

std::string sheet_verdict(const FilmSheet& sheet) {
  const std::string kept = sheet.hold ? "" : "how much tension stays, ";
  return "This film file is good for a first look and for ranking films whose sheets give the same numbers. It is no "
         "promise of a containment force: " +
         kept +
         "how far the film comes back, and what speed and temperature change rest on what is assumed of polyethylene "
         "stretch film (own assumption), so measure before you rely on it.";
}

std::string sheet_price_text(const FilmSheet& sheet) {
  if (!sheet.price) return {};
  return "The price of the roll is " + short_number(*sheet.price) +
         " per kg of film; it belongs into the scenario: [film] price = \"" + short_number(*sheet.price) + " /kg\".";
}

FilmFit film_from_sheet(const FilmSheet& sheet, const FitOptions& options, Observer* observer) {
  std::vector<FitPath> paths{tensile_path(sheet)};
  if (sheet.hold) paths.push_back(hold_path(sheet));
  detail::FitProblem problem;
  problem.paths = &paths;
  problem.reference_temperature = sheet.base.reference_temperature;
  problem.layout = FitLayout(branches);
  double greatest = 0.0;
  for (const FitPath& path : paths) greatest = std::max(greatest, path.mode.invariant(path.greatest_stretch) - 3.0);
  problem.prior = sheet_prior(problem.layout, greatest, problem.reference_temperature);
  problem.misfit = sheet.error;
  for (Eigen::Index i = 0; i < problem.layout.size(); ++i) problem.free.push_back(!problem.layout.thermal(i));
  const detail::FitMinimum minimum = detail::minimise(problem, problem.prior.centre, 400);
  if (!std::isfinite(minimum.cost))
    throw SolverError("no film law goes through the numbers of the data sheet",
                      "check the units and the section of the specimen");
  FilmFit fit;
  FitOptions all = options;
  all.base = sheet.base;
  if (sheet.break_stretch)
    all.base.breaking = BreakParameters{*sheet.break_stretch, assumed_weibull_modulus, assumed_specimen};
  std::vector<LabCurve> curves;
  for (const FitPath& path : paths) curves.push_back(sheet_curve(path, sheet));
  fit.misfit = sheet.error;
  const Eigen::MatrixXd known = detail::information(problem, minimum.parameters);
  detail::complete_fit({problem, minimum.parameters, false, known, {sheet.error, 0.3}}, curves, all, fit, observer);
  fit.film.provenance.source = sheet.base.provenance.source + std::string(data_sheet_mark);
  fit.film.provenance.fitted_to = std::to_string(fit.readings) +
                                  " numbers of a data sheet, each taken as accurate to " +
                                  fixed(100.0 * sheet.error, 0) + " %";
  fit.film.provenance.illustrative = sheet.base.provenance.illustrative;
  add_remarks(sheet, fit);
  return fit;
}

}  // namespace hoopfield
