// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The search for the law that meets the curves: minima for one, two, ... branches, and the choice between them.
#pragma once

#include "sim/film_lab/film_fit.hpp"
#include "sim/film_lab/fit_problem.hpp"

#include <string>
#include <vector>

namespace hoopfield::detail {

inline constexpr std::size_t most_branches_tried = 8;

/// Curves made ready, and what they have in common.
struct PreparedCurves {
  std::vector<FitPath> paths;
  double reference_temperature = 296.15;  ///< K, that of most readings
  double greatest_invariant = 0.0;
  bool two_temperatures = false;
  std::size_t readings = 0;
};

/// Throws InputError without a curve; says in `warnings` what was repaired or assumed.
[[nodiscard]] PreparedCurves prepare_curves(const std::vector<LabCurve>& curves, const FilmDescription& base,
                                            std::vector<std::string>& warnings);

struct FoundLaw {
  FitProblem problem;
  FitMinimum minimum;              ///< branches sorted from fast to slow
  std::vector<FitMinimum> others;  ///< what the other starts led to, branches sorted
};

/// Minima from the starts of fit_starts.hpp and from the law with one branch less, for every number of branches until
/// two more did not lower the BIC; the least wins. Throws as fit_film.
[[nodiscard]] FoundLaw search_law(const PreparedCurves& prepared, const FitOptions& options,
                                  std::vector<FitChoice>& choices, Observer* observer);

/// Error of the readings beyond their scatter, so that the weights fit the residuals; minimised again each time.
void settle_misfit(FoundLaw& found);

/// Correlation of neighbouring weighted residuals within the curves; 0 when chance explains it.
[[nodiscard]] double neighbour_correlation(const FoundLaw& found);

/// Minima elsewhere that the curves cannot tell from `best` (weighted like them; two standard deviations, variances
/// times `widening`).
[[nodiscard]] std::vector<Eigen::VectorXd> as_good(const FoundLaw& found, const FitMinimum& best, double widening);

}  // namespace hoopfield::detail
