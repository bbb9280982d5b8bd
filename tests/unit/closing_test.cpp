// SPDX-License-Identifier: BSD-3-Clause
#include "models/load/closing.hpp"
#include "models/error.hpp"
#include "tests/support/catch.hpp"

#include <cmath>
#include <limits>

using namespace hoopfield;

TEST_CASE("closing: compliance is the inverse of the stiffness", "[load]") {
  const auto c = ClosingCompliance::from_stiffness(200e3, 150e3, 40e3);
  CHECK(200e3 * c.length_length + 40e3 * c.length_width == Approx(1.0).epsilon(1e-12));
  CHECK(200e3 * c.length_width + 40e3 * c.width_width == Approx(0.0).margin(1e-12));
  const double infinite = std::numeric_limits<double>::infinity();
  CHECK(ClosingCompliance::from_stiffness(infinite, 150e3, 0).length_length == 0.0);
  CHECK_THROWS_AS(ClosingCompliance::from_stiffness(200e3, 150e3, 180e3), OutOfRange);
  CHECK_THROWS_AS(ClosingCompliance::from_stiffness(0.0, 150e3, 0), OutOfRange);
}

TEST_CASE("closing: the ladder gives log10(1 + t/t_L) from a thousandth of t_L to the horizon", "[load]") {
  for (const double start : {1.0, 60.0}) {
    const CreepLadder ladder(1.0, start, 1e7);
    for (double t = 1e-3 * start; t < 1e7; t *= 1.7) {
      double sum = 0.0;
      for (std::size_t k = 0; k < ladder.time.size(); ++k) sum += ladder.weight[k] * -std::expm1(-t / ladder.time[k]);
      CHECK(sum == Approx(std::log10(1.0 + t / start)).margin(2e-3));
    }
  }
  CHECK(CreepLadder(0.0, 1.0, 1e7).time.empty());
}
