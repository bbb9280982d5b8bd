// SPDX-License-Identifier: BSD-3-Clause
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/wrap/predict.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/checks.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
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

TEST_CASE("the least within a station's band is no more than the least of the field there, nor than the mean") {
  // Bands that end on slices of 2 cm, reach past the load, and one of no height, which reads its slice.
  const double band = GENERATE(0.2, 0.12, 0.04, 2.2, 0.0);
  const Result r = predict(three_stations(band > 0.0 ? 75 : 30, band));
  for (const auto& [moment, row] : {std::pair{&r.end, std::size_t{0}}, std::pair{&r.after_storage, r.time.size() - 1}})
    for (const StationResult& station : moment->stations) {
      const double of_field = least_of_field(r, row, station.height, band);
      CHECK(station.band_least_tension <= of_field * (1.0 + 1e-12));
      if (band == 0.0) CHECK(station.band_least_tension == of_field);
      for (const StationFace& face : station.faces)
        CHECK(station.band_least_tension <= face.hoop_tension * (1.0 + 1e-12));
    }
}

TEST_CASE("a band that cuts slices reads the film of its parts of them") {
  const double band = GENERATE(0.2, 0.13, 0.05, 0.011);
  const Result r = predict(three_stations(30, band)), fine = predict(three_stations(300, band));
  for (std::size_t i = 0; i < r.end.stations.size(); ++i) {
    const StationResult &station = r.end.stations[i], &exact = fine.end.stations[i];
    CHECK(station.hoop_tension == Approx(exact.hoop_tension).epsilon(5e-3));
    CHECK(station.band_least_tension <= station.hoop_tension * (1.0 + 1e-12));
    // Film of a slice closes as one, which a single height shows more than a mean does.
    CHECK(station.band_least_tension == Approx(exact.band_least_tension).epsilon(2e-2));
  }
}

TEST_CASE("the least hoop tension of a load is the same through 30, 60 and 120 slices") {
  // The mean of the weakest slice fell from 360 to 313 and 290 N/m after storage on this load.
  Scenario s = read_scenario(std::string(HOOPFIELD_SOURCE_DIR) + "/examples/08_thin_against_thick/present.toml");
  set_values(s, {{"load.width", "1.2 m"}, {"load.stiffness_along_width", "200 kPa"}});
  s.stations.band_height = GENERATE(0.2, 0.05);
  s.numerics.slices = 30;
  const Result coarse = predict(s);
  for (const int slices : {60, 120}) {
    s.numerics.slices = slices;
    const Result fine = predict(s);
    for (const auto moment : {&Result::end, &Result::weakest, &Result::after_storage}) {
      const ContainmentResult &one = coarse.*moment, &other = fine.*moment;
      CAPTURE(slices, one.least_hoop_tension);
      CHECK(one.least_hoop_tension == Approx(other.least_hoop_tension).epsilon(1e-4));
      CHECK(one.least_height == Approx(other.least_height).margin(1e-3));
    }
  }
}

TEST_CASE("the least hoop tension of a load is no more than that of a face at a station") {
  Scenario s = three_stations(30, 0.2);
  s.pattern.start_height = GENERATE(0.0, 0.13);  // film that starts within a slice
  const Result r = predict(s);
  for (const ContainmentResult* moment : {&r.end, &r.weakest, &r.after_storage}) {
    CHECK(moment->least_hoop_tension > 0.0);
    CHECK(moment->least_height >= s.pattern.start_height + 0.1 - 1e-6);
    for (const StationResult& station : moment->stations) {
      if (station.height < s.pattern.start_height + 0.1) continue;  // its band reaches below the film
      for (const StationFace& face : station.faces)
        CHECK(moment->least_hoop_tension <= face.hoop_tension * (1.0 + 1e-9));
    }
  }
  CHECK(r.weakest.least_hoop_tension <= std::min(r.end.least_hoop_tension, r.after_storage.least_hoop_tension));
}
