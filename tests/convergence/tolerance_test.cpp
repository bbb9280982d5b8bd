// SPDX-License-Identifier: BSD-3-Clause
// The whole prediction refined in time (numerics.tolerance) and over the height (numerics.slices).
#include "sim/inputs/inputs.hpp"
#include "tests/support/checks.hpp"
#include "tests/support/size.hpp"

#include <cmath>
#include <iostream>
#include <map>

using namespace hoopfield;

namespace {

/// Reference scenario, or the same on a load so soft that turns take much of each other's tension.
Scenario load_case(bool soft, int slices, double tolerance) {
  Scenario s = test::reference_scenario();
  if (soft) set_values(s, {{"load.stiffness_along_length", "15 kPa"}, {"load.stiffness_along_width", "12 kPa"}});
  s.numerics.slices = slices;
  s.numerics.tolerance = tolerance;
  return s;
}

/// Greatest difference of the fields over all times, faces and heights, over the greatest tension.
double field_error(const Result& a, const Result& b) {
  double worst = 0.0, scale = 0.0;
  for (std::size_t i = 0; i < a.hoop_tension.data.size(); ++i) {
    worst = std::max(worst, std::abs(a.hoop_tension.data[i] - b.hoop_tension.data[i]));
    scale = std::max(scale, b.hoop_tension.data[i]);
  }
  return worst / scale;
}

/// Greatest relative difference of the stations at both moments.
double station_error(const Result& a, const Result& b) {
  double worst = 0.0;
  for (std::size_t i = 0; i < 3; ++i) {
    worst = std::max(worst, std::abs(a.end.stations[i].hoop_tension / b.end.stations[i].hoop_tension - 1.0));
    worst = std::max(
        worst, std::abs(a.after_storage.stations[i].hoop_tension / b.after_storage.stations[i].hoop_tension - 1.0));
  }
  return worst;
}

const bool show = std::getenv("HOOPFIELD_SHOW") != nullptr;

}  // namespace

// Each step's own error is held to the tolerance and a step is second order, so there are tolerance^(-1/3) steps and
// the error of the whole falls as tolerance^(2/3): a factor of 4.6 for each decade, not 10.
TEST_CASE("prediction: the error stays far below the tolerance and falls as its power 2/3", "[convergence]") {
  for (const bool soft : {false, true}) {
    const Result reference = predict(load_case(soft, 6, 1e-7));
    double first = 0.0, last = 0.0;
    for (const double tolerance : {1e-2, 1e-3, 1e-4, 1e-5}) {
      const Result r = predict(load_case(soft, 6, tolerance));
      const double error = field_error(r, reference);
      if (show)
        std::cout << (soft ? "soft " : "reference ") << tolerance << " error " << error << " steps " << r.counters.steps
                  << "\n";
      INFO((soft ? "soft" : "reference") << " tolerance " << tolerance << " error " << error << " before " << last);
      CHECK(error <= 0.5 * tolerance);
      if (first == 0.0)
        first = error;
      else
        CHECK(error <= 0.5 * last);
      last = error;
    }
    CHECK(std::log10(first / last) / 3.0 == Approx(2.0 / 3.0).margin(0.12));
  }
}

// Edges of film within a slice are met exactly where a station reads it; what is left is that a slice closes as one.
TEST_CASE("prediction: the error of slices is second order, 5e-4 at the default of 30", "[convergence]") {
  for (const bool soft : {false, true}) {
    const int finest = test::sized(120, 60);
    const Result fine = predict(load_case(soft, 4 * finest, 1e-3));
    std::map<int, double> error;
    // Of three numbers close to each other, the worst: how edges fall on slices is chance.
    for (const int slices : {15, 30, 60, finest})
      for (const int beside : {0, 1, 3}) {
        const double one = station_error(predict(load_case(soft, slices + beside, 1e-3)), fine);
        error[slices] = std::max(error[slices], one);
        if (show)
          std::cout << (soft ? "soft " : "reference ") << slices + beside << " slices, stations " << one << "\n";
      }
    INFO((soft ? "soft" : "reference") << ": " << error[15] << " with 15, " << error[30] << " with 30, "
                                       << error[finest] << " with " << finest);
    CHECK(error[30] <= (soft ? 2e-3 : 5e-4));
    CHECK(error[finest] <= error[15] * 225.0 / (finest * finest) * 3.0);
  }
}
