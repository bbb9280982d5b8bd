// SPDX-License-Identifier: BSD-3-Clause
// Do the 95 % intervals hold what they promise? Known film, noisy curves, many seeds; the combinations the curves
// determine are the eigenvectors of the information, measured in prior widths, whose error is below a tenth of it.
#include "sim/film_lab/film_fit.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/films.hpp"
#include "tests/support/lab_curves.hpp"

#include <Eigen/Eigenvalues>

#include <cmath>
#include <iostream>

using namespace hoopfield;

namespace {

struct Coverage {
  int inside = 0, all = 0;
};

/// Adds the determined combinations of one fit.
void count(const FilmFit& fit, const FilmDescription& truth, Coverage& coverage) {
  const FitLayout layout(truth.branches.size());
  const Eigen::Index n = 3 + 3 * static_cast<Eigen::Index>(truth.branches.size());  // the thermal ones had no data
  const Eigen::VectorXd miss = (parameters_from(layout, fit.film) - parameters_from(layout, truth)).head(n);
  const Eigen::VectorXd scale = fit.prior_error.head(n).cwiseInverse();
  const Eigen::MatrixXd scaled = scale.asDiagonal() * fit.covariance.topLeftCorner(n, n) * scale.asDiagonal();
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eigen(scaled);
  for (Eigen::Index i = 0; i < n; ++i) {
    const double error = std::sqrt(eigen.eigenvalues()[i]);
    if (error > 0.1) continue;
    const double along = eigen.eigenvectors().col(i).dot(scale.asDiagonal() * miss);
    ++coverage.all;
    if (std::abs(along) <= 1.96 * error) ++coverage.inside;
  }
}

Coverage cover(unsigned seeds) {
  const FilmDescription truth = test::general_film();
  Coverage coverage;
  for (unsigned seed = 0; seed < seeds; ++seed) {
    FitOptions options;
    options.branches = truth.branches.size();
    options.base = assumed_film();
    options.derived_intervals = false;
    options.model_error = 0.0;  // the film follows the fitted law
    count(fit_film(test::curve_set(truth, 0.01, seed), options), truth, coverage);
  }
  return coverage;
}

void check_share(const Coverage& coverage, double low, double high) {
  const double share = static_cast<double>(coverage.inside) / coverage.all;
  std::cout << "coverage of 95 % intervals: " << share << " of " << coverage.all << " combinations\n";
  CHECK(share >= low);
  CHECK(share <= high);
}

}  // namespace

TEST_CASE("film fit: 95 % intervals hold over 12 seeds", "[film_fit]") { check_share(cover(12), 0.85, 1.0); }

TEST_CASE("film fit: 95 % intervals hold over 200 seeds", "[.slow][film_fit_slow]") {
  check_share(cover(200), 0.90, 0.999);
}
