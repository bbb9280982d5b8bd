// SPDX-License-Identifier: BSD-3-Clause
// Build-up and storage with film that slips round the corners at every step, refined in time.
#include "sim/inputs/inputs.hpp"
#include "sim/wrap/plan.hpp"
#include "tests/support/checks.hpp"
#include "tests/support/size.hpp"

#include <cmath>
#include <iostream>
#include <limits>
#include <vector>

using namespace hoopfield;

// Slip is split from the steps: first order in the step, and steps are cut where much slips.
TEST_CASE("slip after lay-down: the error stays below the tolerance and falls with it", "[convergence]") {
  Scenario s = test::reference_scenario();
  set_values(s, {{"friction.film_on_load", "0"},
                 {"friction.film_on_film", "0"},
                 {"load.stiffness_along_length", "200 kPa"},
                 {"load.stiffness_along_width", "40 kPa"}});
  s.numerics.slices = 4;
  const WrapPlan plan = plan_wrap(s);
  BuildUpInput input = build_up_input(s, plan);
  // The reference and the last decade take most of the time.
  const std::vector<double> tolerances =
      test::sanitized ? std::vector{1e-2, 1e-3} : std::vector{1e-2, 1e-3, 1e-4, 1e-5};
  input.setup.tolerance = 0.1 * tolerances.back();
  input.most_work = std::numeric_limits<double>::infinity();  // the method is asked, not what is affordable
  const BuildUpResult reference = build_up(input);
  REQUIRE(reference.counters.corner_slips > 100);
  double first = 0.0, last = 0.0;
  for (const double tolerance : tolerances) {
    input.setup.tolerance = tolerance;
    const BuildUpResult r = build_up(input);
    double worst = 0.0, scale = 0.0;
    for (std::size_t i = 0; i < r.hoop_tension.data.size(); ++i) {
      worst = std::max(worst, std::abs(r.hoop_tension.data[i] - reference.hoop_tension.data[i]));
      scale = std::max(scale, reference.hoop_tension.data[i]);
    }
    const double error = worst / scale;
    if (std::getenv("HOOPFIELD_SHOW") != nullptr)
      std::cout << "slip, tolerance " << tolerance << " error " << error << " slips " << r.counters.corner_slips
                << "\n";
    INFO("tolerance " << tolerance << " error " << error << " before " << last);
    CHECK(error <= 0.5 * tolerance);
    if (first == 0.0)
      first = error;
    else
      CHECK(error <= 0.6 * last);
    last = error;
  }
  CHECK(last < test::sized(0.05, 0.6) * first);
}
