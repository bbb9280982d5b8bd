// SPDX-License-Identifier: BSD-3-Clause
#include "sim/wrap/predict.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/checks.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

using namespace hoopfield;

TEST_CASE("the least within a station's band is the least of the field there, and never above the mean") {
  Scenario scenario = test::reference_scenario();
  scenario.numerics.slices = 30;
  scenario.stations.top = 1.26;
  scenario.stations.middle = 0.74;
  scenario.stations.bottom = 0.26;
  // Bands that end on slices, between them, reach past the load, and one of no height (5 cm slices).
  scenario.stations.band_height = GENERATE(0.2, 0.13, 0.1, 0.05, 1.1, 0.0);
  const Result r = predict(scenario);
  const double half = 0.5 * scenario.stations.band_height, slice = r.height[1] - r.height[0];
  for (const auto& [moment, row] : {std::pair{&r.end, std::size_t{0}}, std::pair{&r.after_storage, r.time.size() - 1}})
    for (const StationResult& station : moment->stations) {
      double least = 1e300;
      for (std::size_t h = 0; h < r.height.size(); ++h) {
        const bool stands_in = half == 0.0 && std::abs(r.height[h] - station.height) <= 0.5 * slice - 1e-9;
        if (!stands_in && r.height[h] + 0.5 * slice <= station.height - half + 1e-9) continue;
        if (!stands_in && r.height[h] - 0.5 * slice >= station.height + half - 1e-9) continue;
        for (std::size_t f = 0; f < face_count; ++f) least = std::min(least, r.hoop_tension.at(row, f, h));
      }
      CHECK(station.band_least_tension == Approx(least).epsilon(1e-12));
      CHECK(station.band_least_tension <= station.hoop_tension * (1.0 + 1e-12));
    }
}
