// SPDX-License-Identifier: BSD-3-Clause
#include "models/film/width_mode.hpp"
#include "tests/support/catch.hpp"

#include <cmath>

using hoopfield::WidthMode;

TEST_CASE("width modes: m and c of the power mode", "[film]") {
  CHECK(WidthMode::power(0.5).m == Approx(1.0).epsilon(1e-14));
  CHECK(WidthMode::power(0.5).c == Approx(1.0).epsilon(1e-14));
  CHECK(WidthMode::power(0.0).m == Approx(4.0 / 3.0).epsilon(1e-14));
  CHECK(WidthMode::power(0.0).c == Approx(2.0 / std::sqrt(3.0)).epsilon(1e-14));
  CHECK(WidthMode::power(0.25).m == Approx(1.166667).epsilon(1e-6));
  CHECK(WidthMode::power(0.25).c == Approx(1.040833).epsilon(1e-6));
}

TEST_CASE("width modes: invariant and drive against the formulas, slopes against differences", "[film]") {
  for (const double l : {1.0, 1.3, 2.0, 3.5}) {
    for (const double n : {0.0, 0.2, 0.5}) {
      const WidthMode mode = WidthMode::power(n);
      const double w = std::pow(l, -n), t = 1.0 / (l * w);
      CHECK(mode.invariant(l) == Approx(l * l + w * w + t * t).epsilon(1e-13));
      CHECK(mode.drive(l) == Approx(l * l - t * t).epsilon(1e-13));
    }
    const double width_factor = 1.3;  // free mode: width W l^-1/2; drive averages width and thickness direction
    const WidthMode free = WidthMode::free(hoopfield::shape_from_width_factor(width_factor));
    const double w = width_factor / std::sqrt(l), t = 1.0 / (l * w);
    CHECK(free.invariant(l) == Approx(l * l + w * w + t * t).epsilon(1e-13));
    CHECK(free.drive(l) == Approx((l * l - t * t) - 0.5 * (w * w - t * t)).epsilon(1e-13));
    for (const WidthMode& mode : {WidthMode::power(0.1), WidthMode::power(0.5), free}) {
      const double h = 1e-5;
      const WidthMode::Values v = mode.at(l);
      CHECK(v.invariant == Approx(mode.invariant(l)).epsilon(1e-14));
      CHECK(v.drive == Approx(mode.drive(l)).epsilon(1e-14).margin(1e-14));
      CHECK(v.invariant_log_slope == Approx(mode.invariant_log_slope(l)).epsilon(1e-14).margin(1e-14));
      CHECK(v.drive_log_slope == Approx(mode.drive_log_slope(l)).epsilon(1e-14));
      CHECK(mode.invariant_log_slope(l) ==
            Approx((mode.invariant(l * std::exp(h)) - mode.invariant(l * std::exp(-h))) / (2 * h))
                .epsilon(1e-7)
                .margin(1e-8));
      CHECK(mode.drive_log_slope(l) ==
            Approx((mode.drive(l * std::exp(h)) - mode.drive(l * std::exp(-h))) / (2 * h)).epsilon(1e-7).margin(1e-8));
    }
  }
}

TEST_CASE("width modes: free mode without a draw is the power mode with n = 1/2", "[film]") {
  const WidthMode free = WidthMode::free(), half = WidthMode::power(0.5);
  for (const double l : {0.9, 1.0, 2.2, 4.0}) {
    CHECK(free.invariant(l) == Approx(half.invariant(l)).epsilon(1e-14));
    CHECK(free.drive(l) == Approx(half.drive(l)).epsilon(1e-14).margin(1e-14));
  }
}

TEST_CASE("width modes: width and thickness of stretched film", "[film]") {
  // Incompressibility; the free-width case is the trend t ~ l^-1/2 of Downey & Climenhage 2001 (abstract).
  CHECK(std::pow(3.5, -0.5) == Approx(0.534522).epsilon(1e-6));
  CHECK(hoopfield::released_width_factor(3.5, 0.5, 0.1) == Approx(1.0).epsilon(1e-14));  // free in the gap: W = 1
  const double planar = hoopfield::released_width_factor(3.5, 0.0, 0.0);
  CHECK(planar / std::sqrt(3.5) == Approx(1.0).epsilon(1e-14));  // width held: w = 1 at the ratio
  const double relaxed = hoopfield::released_width_factor(3.5, 0.2, 0.05);
  CHECK(relaxed / std::sqrt(3.5) == Approx(std::pow(3.5, -0.2) * std::exp(-0.3 * 0.05)).epsilon(1e-14));
}
