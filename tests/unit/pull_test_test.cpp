// SPDX-License-Identifier: BSD-3-Clause
#include "sim/stations/pull_test.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/wrap/plan.hpp"
#include "tests/support/catch.hpp"

#include <cmath>

using namespace hoopfield;

TEST_CASE("tent factor: the formula at its base case, and its limits", "[stations]") {
  Tent tent;
  tent.stiffness_over_force = 12.0;
  tent.face_length = 1.0;
  tent.plate_radius = 0.075;
  tent.pull_distance = 0.1;
  tent.edge_above = 0.25;
  tent.edge_below = 0.55;
  // By hand: z = 0.34375, l = 0.575 12^0.25 0.1^0.5 = 0.338426; (k_t - 1)/c = 1.27468
  tent.slit = PullSlit::none;
  CHECK(tent_factor(tent) == Approx(1.0 + 0.92 * 1.27468).epsilon(1e-4));
  tent.slit = PullSlit::beside;
  CHECK(tent_factor(tent) == Approx(1.0 + 0.55 * 1.27468).epsilon(1e-4));
  tent.slit = PullSlit::unknown;
  CHECK(tent_factor(tent) == Approx(1.0 + 0.72 * 1.27468).epsilon(1e-4));
  Tent half = tent;
  half.pull_distance = 0.05;
  half.slit = PullSlit::none;
  CHECK(tent_factor(half) == Approx(1.0 + 0.93 * 0.872433).epsilon(1e-4));
  Tent bare = tent;
  bare.edge_above = 0.0;
  CHECK(tent_factor(bare) == 1.0);
  bare = tent;
  bare.pull_distance = 0.0;
  CHECK(tent_factor(bare) == 1.0);
  Tent tall = tent;
  tall.edge_above = tall.edge_below = 1e3;
  CHECK(tent_factor(tall) > tent_factor(tent));
}

TEST_CASE("pull test: its error is below the tolerance", "[stations]") {
  Scenario s = read_scenario(std::string(HOOPFIELD_SOURCE_DIR) + "/examples/01_first_prediction/scenario.toml");
  s.numerics.slices = 12;
  const WrapPlan plan = plan_wrap(s);
  const BuildUpInput input = build_up_input(s, plan);
  const BuildUpResult built = build_up(input);
  StackSetup setup = input.setup;
  for (const double rate : {0.001, 0.1, 1.0}) {
    const PullTest test{0.75, 1.0, 0.5, 0.075, 0.1, rate};
    setup.tolerance = 1e-8;
    const double exact = pull_test(test, setup, built.after_storage, 0, built.path_factor_storage, 296.15).strand_force;
    for (const double tolerance : {1e-2, 1e-3, 1e-4, 1e-5}) {
      setup.tolerance = tolerance;
      const double force =
          pull_test(test, setup, built.after_storage, 0, built.path_factor_storage, 296.15).strand_force;
      CHECK(std::abs(force / exact - 1.0) < tolerance);
    }
  }
}
