// SPDX-License-Identifier: BSD-3-Clause
#include "models/delivery/control.hpp"
#include "models/error.hpp"
#include "tests/support/catch.hpp"

#include <cmath>
#include <memory>
#include <vector>

using namespace hoopfield;

namespace {

FollowParameters follow() {
  FollowParameters p;
  p.force = 70.0;
  p.stretch = 3.0;
  p.lag = 0.2;
  p.gain = 1.5;
  return p;
}

}  // namespace

TEST_CASE("follow: a steady demand at the set force is met exactly", "[control]") {
  const FollowDemand control(follow());
  const ControlSignal signal{0.9, 70.0, 1.2};
  const ControlState settled = control.settled(signal);
  CHECK(settled.feed == Approx(0.3).epsilon(1e-14));
  const ControlState later = control.advance(settled, signal, signal, 0.37);
  CHECK(later.feed == Approx(0.3).epsilon(1e-14));
  CHECK(control.settled({0.9, 77.0, 1.2}).feed == Approx(0.3 * 1.15).epsilon(1e-14));
}

TEST_CASE("follow: the lag is exact for a step and for a ramp, however the time is cut", "[control]") {
  const FollowDemand control(follow());
  const ControlState start{0.0, 0.0};
  const auto step = control.advance(start, {1.0, 70.0, 1.0}, {1.0, 70.0, 1.0}, 0.3);
  CHECK(step.lagged_demand == Approx(1.0 - std::exp(-1.5)).epsilon(1e-13));
  const auto ramp = control.advance(start, {0.0, 70.0, 1.0}, {2.0, 70.0, 1.0}, 0.4);  // v = 5 t
  CHECK(ramp.lagged_demand == Approx(5.0 * (0.4 - 0.2 * (1.0 - std::exp(-2.0)))).epsilon(1e-13));
  ControlState cut = start;
  for (int i = 0; i < 1000; ++i) {
    cut = control.advance(cut, {0.002 * i, 70.0, 1.0}, {0.002 * (i + 1), 70.0, 1.0}, 0.0004);
  }
  CHECK(cut.lagged_demand == Approx(ramp.lagged_demand).epsilon(1e-10));
}

TEST_CASE("follow: speed and acceleration limits hold, no film runs back", "[control]") {
  FollowParameters p = follow();
  p.speed_limit = 0.35;
  p.acceleration_limit = 0.5;
  const FollowDemand control(p);
  CHECK(control.settled({3.0, 70.0, 1.0}).feed == 0.35);
  CHECK(control.settled({3.0, 0.0, 1.0}).feed == 0.0);
  const ControlState s{0.9, 0.3};
  CHECK(control.advance(s, {0.9, 70.0, 1.0}, {0.9, 0.0, 1.0}, 0.1).feed == Approx(0.25).epsilon(1e-14));
  CHECK(control.advance(s, {0.9, 70.0, 1.0}, {9.0, 90.0, 1.0}, 0.04).feed == Approx(0.32).epsilon(1e-14));
}

TEST_CASE("fixed length follows the rotation only", "[control]") {
  const FixedLength control(0.2);
  CHECK(control.settled({9.0, 500.0, 1.5}).feed == Approx(0.3).epsilon(1e-14));
  CHECK(control.advance({}, {0.0, 0.0, 1.0}, {9.0, 1.0, 2.0}, 0.1).feed == Approx(0.4).epsilon(1e-14));
  CHECK_FALSE(control.holds_force());
  CHECK(ConstantForce().holds_force());
}

TEST_CASE("control parameters out of range are refused", "[control]") {
  CHECK_THROWS_AS(FixedLength(0.0), OutOfRange);
  for (double FollowParameters::*field :
       {&FollowParameters::lag, &FollowParameters::gain, &FollowParameters::force, &FollowParameters::stretch,
        &FollowParameters::speed_limit, &FollowParameters::acceleration_limit}) {
    FollowParameters p = follow();
    p.*field = -0.1;
    CHECK_THROWS_AS(FollowDemand(p), OutOfRange);
    p.*field = std::nan("");
    CHECK_THROWS_AS(FollowDemand(p), OutOfRange);
  }
}

TEST_CASE("constant: the law holds the force and has no state to move", "[control]") {
  const ConstantForce control;
  const DeliveryControl& law = control;
  CHECK(law.holds_force());
  const ControlSignal slow{0.3, 70.0, 1.2}, fast{0.9, 90.0, 1.2};
  CHECK(law.settled(slow).feed == law.settled(fast).feed);
  CHECK(law.advance(law.settled(slow), slow, fast, 0.5).feed == law.settled(slow).feed);
  CHECK_FALSE(FollowDemand(follow()).holds_force());
}
