// SPDX-License-Identifier: BSD-3-Clause
// How many loads tell two sides apart.
#include "sim/calibrate/trial.hpp"

#include "sim/inputs/scenario_reader.hpp"
#include "tests/support/catch.hpp"

#include <algorithm>

using namespace hoopfield;

TEST_CASE("Loads and power to tell a difference", "[calibrate]") {
  // 2 (1.6449 + 1.2816)^2 = 17.13 for a difference of one standard deviation: handbook tables of sample size give 17.1
  // of each group before rounding up (from memory).
  CHECK(loads_to_tell(1.0) == Approx(17.13).epsilon(1e-3));
  CHECK(loads_to_tell(-2.0) == Approx(17.13 / 4.0).epsilon(1e-3));
  for (const double difference : {0.5, 1.0, 3.0})
    CHECK(power_to_tell(difference, loads_to_tell(difference)) == Approx(0.9).epsilon(1e-9));
  CHECK(power_to_tell(0.0, 3.0) == Approx(0.05).epsilon(1e-9));
}

TEST_CASE("Sides that are alike cannot be told apart", "[calibrate]") {
  const Scenario scenario = read_scenario(HOOPFIELD_SOURCE_DIR "/examples/08_thin_against_thick/present.toml");
  const Trial trial = plan_trial(scenario, scenario);
  for (const TrialReading& reading : trial.readings) {
    CHECK(reading.loads_needed > 1e6);
    CHECK(reading.power == Approx(0.05).epsilon(1e-6));
  }
  CHECK(std::count_if(trial.readings.begin(), trial.readings.end(), [](const auto& r) { return r.is_chosen; }) == 1);
}

TEST_CASE("A trial keeps to the minutes of a load", "[calibrate]") {
  const std::string folder = HOOPFIELD_SOURCE_DIR "/examples/08_thin_against_thick/";
  const Scenario present = read_scenario(folder + "present.toml"), candidate = read_scenario(folder + "candidate.toml");
  const Trial open = plan_trial(present, candidate), brief = plan_trial(present, candidate, {3, 12.0});
  CHECK(open.minutes_per_load > 12.0);
  CHECK(brief.minutes_per_load <= 12.0);
  for (const TrialReading& reading : brief.readings)
    if (reading.is_chosen) CHECK(reading.power >= 0.9);
}
