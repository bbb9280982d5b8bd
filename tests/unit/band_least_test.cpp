// SPDX-License-Identifier: BSD-3-Clause
#include "sim/wrap/predict.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/checks.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

using namespace hoopfield;

namespace {

Scenario three_stations(int slices, double band) {
  Scenario scenario = test::reference_scenario();
  scenario.numerics.slices = slices;
  scenario.stations.top = 1.26;
  scenario.stations.middle = 0.74;
  scenario.stations.bottom = 0.26;
  scenario.stations.band_height = band;
  return scenario;
}

/// Least of the field over the slices that reach into a station's band.
double least_of_field(const Result& r, std::size_t row, double height, double band) {
  const double half = 0.5 * band, slice = r.height[1] - r.height[0];
  double least = 1e300;
  for (std::size_t h = 0; h < r.height.size(); ++h) {
    const bool stands_in = half == 0.0 && std::abs(r.height[h] - height) <= 0.5 * slice - 1e-9;
    if (!stands_in && r.height[h] + 0.5 * slice <= height - half + 1e-9) continue;
    if (!stands_in && r.height[h] - 0.5 * slice >= height + half - 1e-9) continue;
    for (std::size_t f = 0; f < face_count; ++f) least = std::min(least, r.hoop_tension.at(row, f, h));
  }
  return least;
}

}  // namespace

TEST_CASE("the least within a station's band is the least of the field there, and never above the mean") {
  // Bands that end on slices of 2 cm, reach past the load, and one of no height.
  const double band = GENERATE(0.2, 0.12, 0.04, 2.2, 0.0);
  const Result r = predict(three_stations(band > 0.0 ? 75 : 30, band));
  for (const auto& [moment, row] : {std::pair{&r.end, std::size_t{0}}, std::pair{&r.after_storage, r.time.size() - 1}})
    for (const StationResult& station : moment->stations) {
      CHECK(station.band_least_tension == Approx(least_of_field(r, row, station.height, band)).epsilon(1e-12));
      CHECK(station.band_least_tension <= station.hoop_tension * (1.0 + 1e-12));
    }
}

TEST_CASE("a band that cuts slices reads the film of its parts of them") {
  const double band = GENERATE(0.2, 0.13, 0.05, 0.011);
  const Result r = predict(three_stations(30, band)), fine = predict(three_stations(300, band));
  for (std::size_t i = 0; i < r.end.stations.size(); ++i) {
    const StationResult &station = r.end.stations[i], &exact = fine.end.stations[i];
    CHECK(station.hoop_tension == Approx(exact.hoop_tension).epsilon(5e-3));
    CHECK(station.band_least_tension <= station.hoop_tension * (1.0 + 1e-12));
    // Parts are means over their height, so the least of few of them is no less than that of many.
    CHECK(station.band_least_tension >= exact.band_least_tension * (1.0 - 5e-3));
  }
}
