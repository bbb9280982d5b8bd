// SPDX-License-Identifier: BSD-3-Clause
#include "models/film/equilibrium.hpp"
#include "models/error.hpp"
#include "tests/support/catch.hpp"

#include <cmath>

using namespace hoopfield;

TEST_CASE("Gent network: neo-Hookean limit in free and constrained width", "[film]") {
  // Nominal stress over G at 1.5, 2, 3, 4: constrained l - l^-3, free l - l^-2; ratio as tabulated.
  const GentNetwork network({1.0, 1e14});
  const double ratio[] = {1.140351, 1.071429, 1.025641, 1.011905};
  const double stretch[] = {1.5, 2.0, 3.0, 4.0};
  for (int i = 0; i < 4; ++i) {
    const double l = stretch[i];
    const double constrained = network.at(l, WidthMode::power(0.0)).stress / l;
    const double free = network.at(l, WidthMode::power(0.5)).stress / l;
    CHECK(constrained == Approx(l - std::pow(l, -3)).epsilon(1e-10));
    CHECK(free == Approx(l - std::pow(l, -2)).epsilon(1e-10));
    CHECK(constrained / free == Approx(ratio[i]).epsilon(1e-6));
  }
  const double e = 1e-4;
  CHECK(network.at(std::exp(e), WidthMode::power(0.0)).stress / network.at(std::exp(e), WidthMode::power(0.5)).stress ==
        Approx(4.0 / 3.0).epsilon(1e-3));
}

TEST_CASE("Gent network: G = 1.1 MPa, Jm = 60", "[film]") {
  const GentNetwork network({1.1, 60.0});
  CHECK(network.at(3.5, WidthMode::free()).stress == Approx(15.736655).epsilon(1e-7));
  CHECK(network.at(3.5, WidthMode::power(0.0)).stress == Approx(16.169492).epsilon(1e-7));
  CHECK(network.at(4.0, WidthMode::free()).stress == Approx(22.354839).epsilon(1e-7));
  CHECK(network.at(4.0, WidthMode::power(0.0)).stress == Approx(22.897959).epsilon(1e-7));
  const double limit = network.stretch_limit(WidthMode::free());
  CHECK(WidthMode::free().invariant(limit) - 3.0 == Approx(60.0).epsilon(1e-10));
}

TEST_CASE("Gent network: slope is the derivative by ln l", "[film]") {
  const GentNetwork network({0.783e6, 28.6});
  for (const WidthMode& mode : {WidthMode::power(0.2), WidthMode::free(1.05)})
    for (const double l : {1.0, 2.0, 3.5, 5.0}) {
      const double h = 1e-5;
      const double difference =
          (network.at(l * std::exp(h), mode).stress - network.at(l * std::exp(-h), mode).stress) / (2 * h);
      CHECK(network.at(l, mode).slope == Approx(difference).epsilon(1e-6));
    }
}

TEST_CASE("tabulated curve: goes through its points, stays monotone, slope is its derivative", "[film]") {
  const TabulatedCurve curve({{1.0, 0.0}, {1.1, 6e6}, {2.0, 7e6}, {3.0, 8.5e6}, {3.5, 11e6}});
  const WidthMode mode = WidthMode::free();
  CHECK(curve.at(2.0, mode).stress == Approx(14e6).epsilon(1e-12));
  CHECK(curve.at(1.0, mode).stress == Approx(0.0).margin(1e-6));
  double last = -1.0;
  for (double l = 1.0; l < 4.0; l += 0.01) {
    const double nominal = curve.at(l, mode).stress / l;
    CHECK(nominal > last);
    last = nominal;
  }
  for (const double l : {1.05, 1.5, 2.5, 3.7}) {
    const double h = 1e-6;
    CHECK(curve.at(l, mode).slope ==
          Approx((curve.at(l * std::exp(h), mode).stress - curve.at(l * std::exp(-h), mode).stress) / (2 * h))
              .epsilon(1e-5));
  }
  CHECK_THROWS_AS(TabulatedCurve({{1.0, 0.0}}), InputError);
  CHECK_THROWS_AS(TabulatedCurve({{1.0, 0.0}, {1.0, 1.0}}), InputError);
  CHECK_THROWS_AS(TabulatedCurve({{1.0, 0.0}, {1.5, 2.0}, {2.0, 1.0}}), InputError);
}

TEST_CASE("stretch limit: the root of I1 = Jm + 3, or 1 where film wide from its draw has no room at all", "[film]") {
  const GentNetwork tight({1e6, 1.0});
  CHECK(tight.stretch_limit(WidthMode::free(3.0)) == 1.0);  // I1 is 3 q^(2/3) = 6.2 at least
  const GentNetwork network({1e6, 28.6});
  for (const WidthMode& mode :
       {WidthMode::free(1.0), WidthMode::free(1.3), WidthMode::power(0.0), WidthMode::power(0.2)})
    CHECK(mode.invariant(network.stretch_limit(mode)) - 3.0 == Approx(28.6).epsilon(1e-12));
}
