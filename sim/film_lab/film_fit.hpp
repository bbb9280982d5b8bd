// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Identification of a film law from measured curves.
///
/// Least squares over all curves together: residual = (model - reading)/(scale x error), with wide normal priors on the
/// logarithms of the parameters that keep what no curve determines at a stated assumption. Minimised by
/// Levenberg-Marquardt (Eigen's port of MINPACK) in bounded variables from several starts (fit_starts.hpp); derivatives
/// by forward sensitivity. The number of branches is fixed or chosen by BIC. Intervals: residuals hang together where
/// the law is not the film's, and every law errs (fit_error.hpp); numbers that films are compared by get the error of
/// going beyond the curves, too (fit_evidence.hpp). Pinned by tests/unit/film_fit_test.cpp,
/// tests/consistency/film_fit_coverage_test.cpp and, for films of other laws, tests/consistency/test_foreign_films.py.
#pragma once

#include "models/film/description.hpp"
#include "sim/base/observer.hpp"
#include "sim/film_lab/derived_numbers.hpp"
#include "sim/film_lab/fit_model.hpp"
#include "sim/film_lab/lab_curve.hpp"

#include <Eigen/Core>

#include <optional>
#include <string>
#include <vector>

namespace hoopfield {

struct FitOptions {
  std::optional<std::size_t> branches;  ///< 1..8; chosen by BIC when left out
  int starts = 3;                       ///< minimisations per number of branches, 1..12
  double model_error = 0.02;            ///< relative error of any law's stress, beside what residuals show; own choice
  bool derived_intervals = true;        ///< intervals of the derived numbers too (a few dozen virtual tests)
  DerivedSettings derived;
  std::vector<LabCurve> hold_out;  ///< curves the fit does not see; the law's prediction is set beside them
  FilmDescription base;  ///< what curves cannot tell: name, density, neck_in, thermal expansion, heat capacity, break
};

/// One number of the law. `prior_*` is what is assumed about it before any curve.
struct FittedParameter {
  std::string key;               ///< of the film file
  double value = 0.0;            ///< SI
  double low = 0.0, high = 0.0;  ///< 95 % interval, SI
  double error = 0.0;            ///< standard deviation of ln(value); of the value for thermal numbers
  double prior_error = 0.0;      ///< the same before the curves
  bool determined = false;       ///< error below half of prior_error and small enough to be of use (film_fit.cpp)
  std::string test;              ///< for an undetermined one: the test that would narrow it most; empty when none would
  double error_with_test = 0.0;
};

struct CurveResidual {
  std::string name;
  FilmTestKind kind = FilmTestKind::tensile;
  std::size_t rows_read = 0;
  double temperature = 0.0, rate = 0.0;                 ///< K, 1/s
  double rms = 0.0;                                     ///< relative to the mean stress of the curve
  double greatest = 0.0;                                ///< greatest |residual|, the same
  std::optional<double> break_stretch;                  ///< strain at which the curve was taken to end in a break
  double noise = 0.0;                                   ///< scatter between neighbouring points, relative
  std::vector<double> time, stretch, measured, fitted;  ///< of the readings compared, SI; stretch as ratio
};

struct FitChoice {
  std::size_t branches = 0;
  double bic = 0.0;          ///< N ln(mean weighted square) + p ln N, N less for correlated neighbours; same N for all
  double square = 0.0;       ///< mean weighted square
  double correlation = 0.0;  ///< of neighbouring residuals
  double rms = 0.0;          ///< over all readings, relative to their scale
};

struct DerivedInterval {
  const Parameter* parameter = nullptr;
  std::optional<double> value;
  double low = 0.0, high = 0.0;  ///< 95 % interval; even in the logarithm for stresses, stiffnesses and work
  double error = 0.0;            ///< half of the interval / 1.96
  bool determined = true;        ///< half of the interval is at most a tenth of the value
  std::string test;              ///< for a number not determined: the test that would narrow it most
};

struct FilmFit {
  FilmDescription film;
  std::vector<FittedParameter> parameters;
  Eigen::MatrixXd covariance;  ///< of the vector of FitLayout
  Eigen::VectorXd prior_error;
  std::vector<CurveResidual> curves;
  std::vector<CurveResidual> held_out;  ///< of FitOptions::hold_out; `fitted` is predicted there
  std::vector<FitChoice> choices;       ///< one per number of branches tried
  std::vector<DerivedInterval> derived;
  std::vector<std::string> unknown;  ///< plain sentences: what the curves cannot tell
  std::vector<std::string> warnings;
  double misfit = 0.0;       ///< relative error beyond the scatter of the points
  double law_error = 0.0;    ///< relative error of the law that the intervals allow for
  double correlation = 0.0;  ///< of neighbouring residuals
  std::size_t readings = 0;
};

/// What is assumed of a polyethylene film beyond its law: 920 kg/m^3, neck-in 0.2, expansion 1.8e-4 1/K, heat capacity
/// 2200 J/kg/K (data-sheet ranges; neck-in: common practice, no source).
[[nodiscard]] FilmDescription assumed_film();

/// Throws InputError when the curves are too few for the parameters asked for, or one is both fitted and held out,
/// SolverError when no start leads anywhere or the best law is off by more than half of the stress, Interrupted when
/// the observer asks for it.
[[nodiscard]] FilmFit fit_film(const std::vector<LabCurve>& curves, const FitOptions& options,
                               Observer* observer = nullptr);

/// What the film file says in remarks: warnings, then what the curves cannot tell.
[[nodiscard]] std::vector<std::string> film_remarks(const FilmFit& fit);

/// Correlation of two fitted parameters.
[[nodiscard]] double correlation(const FilmFit& fit, std::size_t a, std::size_t b);

}  // namespace hoopfield
