// SPDX-License-Identifier: BSD-3-Clause
#include "models/transit/leaned_gravity.hpp"
#include "models/transit/tier_bed.hpp"
#include "tests/support/catch.hpp"

#include <array>
#include <cmath>

using namespace hoopfield;

TEST_CASE("transit bed: moment and energy at printed values", "[transit]") {
  // phi 5e-3, P 5,886 N, b 1 m, k_w 8e6 N/m^2: P (b/2 - c/3), and its integral, evaluated by hand.
  const BedReaction at = bed_reaction(5e-3, 5886.0, 1.0, 8e6);
  CHECK(at.moment == Approx(1878.626).epsilon(1e-6));
  CHECK(at.energy == Approx(6.236575).epsilon(1e-6));
  CHECK(at.contact_share == Approx(std::sqrt(2.0 * 5886.0 / (8e6 * 5e-3))).epsilon(1e-12));
}

TEST_CASE("transit bed: linear while all of it touches, a block on its edge when stiff", "[transit]") {
  const double lift_off = 2.0 * 5886.0 / 8e6;
  CHECK(bed_reaction(0.5 * lift_off, 5886.0, 1.0, 8e6).moment == Approx(8e6 / 12.0 * 0.5 * lift_off).epsilon(1e-12));
  CHECK(bed_reaction(0.999999 * lift_off, 5886.0, 1.0, 8e6).moment ==
        Approx(bed_reaction(1.000001 * lift_off, 5886.0, 1.0, 8e6).moment).epsilon(1e-5));
  CHECK(bed_reaction(-0.01, 5886.0, 1.0, 8e6).moment == -bed_reaction(0.01, 5886.0, 1.0, 8e6).moment);
  CHECK(bed_reaction(0.01, 5886.0, 1.0, 1e14).moment == Approx(5886.0 / 2.0).epsilon(1e-3));
  CHECK(bed_reaction(0.01, 0.0, 1.0, 8e6).moment == 0.0);
  CHECK(bed_reaction(0.01, 100.0, 0.0, 8e6).moment == 0.0);
}

TEST_CASE("transit bed: the moment is the slope of the energy", "[transit]") {
  for (const double turn : {1e-4, 1.2e-3, 3e-3, 2e-2}) {
    const double step = 1e-6 * turn;
    const double slope =
        (bed_reaction(turn + step, 5886.0, 1.1, 4e6).energy - bed_reaction(turn - step, 5886.0, 1.1, 4e6).energy) /
        (2.0 * step);
    CHECK(bed_reaction(turn, 5886.0, 1.1, 4e6).moment == Approx(slope).epsilon(1e-6));
  }
}

namespace {

constexpr double gravity = 9.80665;
constexpr std::array<double, 3> heights = {0.2, 0.35, 0.15}, masses = {80.0, 30.0, 55.0};

double mass_above(std::size_t i) {
  double sum = 0.0;
  for (std::size_t j = i; j < 3; ++j) sum += masses[j];
  return sum;
}

using Places = std::array<double, 6>;  // x_1, th_1, x_2, ...

double turn_of(const Places& q, std::size_t i) { return q[2 * i + 1]; }
double offset_of(const Places& q, std::size_t i) {
  const double below = i > 0 ? q[2 * i - 2] + 0.5 * heights[i - 1] * turn_of(q, i - 1) : 0.0;
  return q[2 * i] - below - 0.5 * heights[i] * turn_of(q, i);
}

/// V as printed in models/transit/leaned_gravity.hpp.
double potential(const Places& q) {
  double sum = 0.0;
  for (std::size_t j = 0; j < 3; ++j) {
    double lower = 0.25 * heights[j] * turn_of(q, j) * turn_of(q, j);
    for (std::size_t k = 0; k < j; ++k) lower += 0.5 * heights[k] * turn_of(q, k) * turn_of(q, k);
    const double below = j > 0 ? turn_of(q, j - 1) : 0.0;
    sum -= gravity * (masses[j] * lower + 0.5 * mass_above(j) * offset_of(q, j) * (turn_of(q, j) + below));
  }
  return sum;
}

double slope(Places q, std::size_t k) {
  constexpr double step = 1e-5;
  Places low = q;
  q[k] += step, low[k] -= step;
  return (potential(q) - potential(low)) / (2.0 * step);
}

}  // namespace

TEST_CASE("transit gravity: shear and moment are the slopes of the potential", "[transit]") {
  const Places q = {0.01, 0.02, -0.015, 0.05, 0.03, -0.01};
  std::array<double, 4> shear{};
  std::array<double, 4> offset{};
  for (std::size_t i = 0; i < 3; ++i) {
    shear[i] = leaned_shear(mass_above(i) * gravity, turn_of(q, i), i > 0 ? turn_of(q, i - 1) : 0.0);
    offset[i] = offset_of(q, i);
  }
  for (std::size_t i = 0; i < 3; ++i) {
    CHECK(shear[i + 1] - shear[i] == Approx(-slope(q, 2 * i)).epsilon(1e-6));
    const double on_top = i < 2 ? mass_above(i + 1) * gravity : 0.0;
    const double moment = leaned_moment(
        {heights[i], masses[i] * gravity, mass_above(i) * gravity, offset[i], on_top, offset[i + 1]}, turn_of(q, i));
    CHECK(moment + 0.5 * heights[i] * (shear[i] + shear[i + 1]) == Approx(-slope(q, 2 * i + 1)).epsilon(1e-6));
  }
}
