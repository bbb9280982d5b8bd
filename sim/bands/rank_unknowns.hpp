// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What each unknown is worth, in the quantity of the target.
#pragma once

#include "sim/bands/bands.hpp"

#include <string>
#include <vector>

namespace hoopfield {

/// The number by which unknowns are ranked: quantity, moment and station of the target that is nearest to being missed;
/// without a target the hoop tension after storage of the station that holds least.
struct RankMeasure {
  std::vector<std::string> names;     ///< of summary_outputs(); the least of them counts
  std::string quantity, at, station;  ///< "pull_force", "after_storage", "top"; station "" = the least one
  [[nodiscard]] double of(const std::vector<std::string>& all_names, const std::vector<double>& numbers) const;
};
[[nodiscard]] RankMeasure rank_measure(const Result& result);

/// Fills `result.assumed`: every unknown moved to its 5 % and 95 % quantile, one at a time, ranked by the change it
/// makes in the measure. The numbers of the film are one entry ("film.file"), moved together along the direction that
/// changes the measure most (found by regression over the draws of `result.band`; left out without one). With a band,
/// shares of its variance by linear regression over standard normal numbers, where the adjusted R^2 is at least 0.8.
/// \param known_for for so many of the largest: the band if that input were known (as many draws again for each)
void rank_unknowns(const Scenario& scenario, Result& result, const BandOptions& options, std::size_t known_for,
                   Observer* observer = nullptr);

/// The same without bands: one-at-a-time ranges of the inputs.
void rank_unknowns(const Scenario& scenario, Result& result, Observer* observer = nullptr);

/// Linear regression of values over rows of standard normal numbers.
struct Regression {
  std::vector<double> slopes;  ///< one per column
  double adjusted_r_squared = 0.0;
};
/// Least squares with a constant; rows whose value is not finite are left out. Columns count as determined only with
/// more rows than columns + 2. Pinned by tests/unit/bands_test.cpp.
[[nodiscard]] Regression regress(const std::vector<std::vector<double>>& rows, const std::vector<double>& values);

}  // namespace hoopfield
