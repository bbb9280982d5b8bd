// SPDX-License-Identifier: BSD-3-Clause
#include "models/transit/shear_slip.hpp"
#include "tests/support/catch.hpp"

#include <cmath>

using namespace hoopfield;

namespace {
constexpr ShearSlip law{1e5, 200.0, 0.5, 0.4};
constexpr double dt = 1e-4, normal = 1000.0;
}  // namespace

TEST_CASE("transit friction: sticks up to static friction, then slides at the lower", "[transit]") {
  ShearSlip::State state;
  double offset = 0.0, greatest = 0.0;
  const double speed = 0.01;
  while (state.sliding == 0) {
    const auto reaction = law.move(state, speed, dt, normal);
    offset += speed * dt;
    if (state.sliding != 0) break;
    CHECK(reaction.force == Approx(1e5 * offset + 200.0 * speed).epsilon(1e-9));
    CHECK(state.slip == 0.0);
    greatest = reaction.force;
  }
  CHECK(greatest == Approx(0.5 * normal).epsilon(1e-3));
  for (int i = 0; i < 2000; ++i) CHECK(law.move(state, speed, dt, normal).force == 0.4 * normal);
  // At even speed the goods come to rest under the friction, and all further motion is slip.
  CHECK(state.shear == Approx(0.4 * normal / 1e5).epsilon(1e-6));
  CHECK(state.shear + state.slip == Approx(offset + 2000 * speed * dt).epsilon(1e-9));
}

TEST_CASE("transit friction: a slip that would reverse comes to rest", "[transit]") {
  ShearSlip::State state;
  for (int i = 0; i < 20000; ++i) law.move(state, 0.01, dt, normal);
  const double slip = state.slip;
  for (int i = 0; i < 50; ++i) {
    const auto reaction = law.move(state, -0.001, dt, normal);
    CHECK(state.sliding == 0);
    CHECK(std::abs(reaction.force) <= 0.5 * normal);
  }
  CHECK(state.slip == slip);
}

TEST_CASE("transit friction: work goes into shear, damping and friction, none is won", "[transit]") {
  ShearSlip::State state;
  double work = 0.0, rubbed = 0.0, damped = 0.0, start = 0.0;
  const double step = 1e-5;
  for (int i = 0; i < 200000; ++i) {
    const double speed = 0.1 * std::cos(12.0 * i * step);
    const double before = state.shear;
    const auto reaction = law.move(state, speed, step, normal);
    CHECK(reaction.friction >= 0.0);
    CHECK(reaction.damped >= 0.0);
    work += reaction.force * speed * step;
    rubbed += reaction.friction;
    damped += reaction.damped;
    start += 0.5 * law.stiffness * (state.shear * state.shear - before * before);
  }
  CHECK(rubbed > 1.0);
  CHECK(work == Approx(rubbed + damped + start).epsilon(2e-3));
}
