// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/film_fit.hpp"

#include "models/error.hpp"
#include "models/film/film_law.hpp"
#include "sim/base/number_text.hpp"
#include "sim/film_lab/fit_error.hpp"
#include "sim/film_lab/fit_result.hpp"
#include "sim/film_lab/fit_search.hpp"

#include <cmath>

namespace hoopfield {

namespace {

constexpr double far_off = 0.5;  // of the stress: no film of any kind, rather a wrong unit or section

void check_near(const detail::FoundLaw& found, const std::vector<FitChoice>& choices) {
  for (const FitChoice& choice : choices)
    if (choice.branches == found.problem.layout.branches && choice.rms > far_off)
      throw SolverError("no film law comes near the curves: the best is off by " +
                            std::string(choice.rms > 9.99 ? "more than 999" : fixed(100.0 * choice.rms, 0)) +
                            " % of the stress",
                        "check the units, the width and the thickness of the strip");
}

void check_apart(const std::vector<LabCurve>& curves, const std::vector<LabCurve>& hold_out) {
  for (const LabCurve& unseen : hold_out)
    for (const LabCurve& seen : curves)
      if (!unseen.name.empty() && unseen.name == seen.name)
        throw InputError("--hold-out: " + unseen.name + " is fitted, too; expected a curve that the fit does not see",
                         {}, 0, 0, "hold-out");
}

}  // namespace

FilmDescription assumed_film() {
  FilmDescription film;
  film.name = "fitted film";
  film.density = 920.0;
  film.neck_in = 0.2;
  film.assumed = {"density", "neck_in"};
  film.thermal.expansion = 1.8e-4;
  film.thermal.heat_capacity = 2200.0;
  return film;
}

std::vector<std::string> film_remarks(const FilmFit& fit) {
  std::vector<std::string> remarks = fit.warnings;
  remarks.insert(remarks.end(), fit.unknown.begin(), fit.unknown.end());
  return remarks;
}

double correlation(const FilmFit& fit, std::size_t a, std::size_t b) {
  const auto i = static_cast<Eigen::Index>(a), j = static_cast<Eigen::Index>(b);
  return fit.covariance(i, j) / std::sqrt(fit.covariance(i, i) * fit.covariance(j, j));
}

FilmFit fit_film(const std::vector<LabCurve>& curves, const FitOptions& options, Observer* observer) {
  if (options.branches && (*options.branches < 1 || *options.branches > max_branches))
    throw OutOfRange("--branches: out of bounds; expected 1 to 8", {}, 0, 0, "branches");
  if (options.starts < 1 || options.starts > 12)
    throw OutOfRange("--starts: out of bounds; expected 1 to 12", {}, 0, 0, "starts");
  if (!(options.model_error >= 0.0 && options.model_error <= 0.5))
    throw OutOfRange("--model-error: out of bounds; expected 0 to 50 %", {}, 0, 0, "model-error");
  check_apart(curves, options.hold_out);
  FilmFit fit;
  const detail::PreparedCurves prepared = detail::prepare_curves(curves, options.base, fit.warnings);
  detail::FoundLaw found = detail::search_law(prepared, options, fit.choices, observer);
  check_near(found, fit.choices);
  const detail::FitMinimum before = found.minimum;  // weighted like the other minima
  detail::settle_misfit(found);
  fit.misfit = found.problem.misfit;
  fit.correlation = detail::neighbour_correlation(found);
  const double widening = (1.0 + fit.correlation) / (1.0 - fit.correlation);
  const detail::LawError error = detail::law_error(found.problem, found.minimum.parameters, options.model_error);
  fit.law_error = error.size;
  const Eigen::MatrixXd known = detail::shared_error_information(found.problem, found.minimum.parameters, error);
  detail::complete_fit({found.problem, found.minimum.parameters, prepared.two_temperatures, known, error,
                        detail::as_good(found, before, widening)},
                       curves, options, fit, observer);
  return fit;
}

}  // namespace hoopfield
