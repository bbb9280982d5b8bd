// SPDX-License-Identifier: BSD-3-Clause
#include "models/delivery/control.hpp"

#include "models/error.hpp"

#include <algorithm>
#include <cmath>
#include <string>

namespace hoopfield {

namespace {

void require(bool good, const char* key, const char* expected) {
  if (!good) throw OutOfRange(std::string(key) + ": out of range; expected " + expected, {}, 0, 0, key);
}

/// State at the end of `tau dx/dt = v - x` when v goes from v0 to v1 in a straight line over dt.
double lag_step(double x, double v0, double v1, double dt, double tau) {
  if (!(tau > 0.0)) return v1;
  const double s = dt / tau;
  if (!(s > 0.0)) return x;
  const double gone = -std::expm1(-s);
  const double mean = s < 1e-4 ? 1.0 - s / 2.0 + s * s / 6.0 : gone / s;  // (1 - exp(-s))/s
  return v1 + (x - v0) * (1.0 - gone) - (v1 - v0) * mean;
}

}  // namespace

FixedLength::FixedLength(double length_per_radian) : length_per_radian_(length_per_radian) {
  require(length_per_radian > 0.0 && std::isfinite(length_per_radian), "delivery.tension.length_per_turn",
          "more than 0");
}

ControlState FixedLength::settled(const ControlSignal& signal) const {
  return {signal.demand, length_per_radian_ * signal.angular_speed};
}

ControlState FixedLength::advance(const ControlState&, const ControlSignal&, const ControlSignal& end, double) const {
  return settled(end);
}

FollowDemand::FollowDemand(const FollowParameters& parameters) : parameters_(parameters) {
  require(parameters.force > 0.0 && std::isfinite(parameters.force), "delivery.tension.force", "more than 0 N");
  require(parameters.stretch > 0.0 && std::isfinite(parameters.stretch), "stretch at the set force", "more than 0");
  require(parameters.lag >= 0.0, "delivery.tension.lag", "0 s or more");
  require(parameters.gain >= 0.0 && std::isfinite(parameters.gain), "delivery.tension.gain", "0 or more");
  require(parameters.speed_limit > 0.0, "speed limit of the delivery", "more than 0 m/s");
  require(parameters.acceleration_limit > 0.0, "acceleration limit of the delivery", "more than 0 m/s^2");
}

double FollowDemand::command(double lagged_demand, double force) const {
  const double error = force / parameters_.force - 1.0;
  const double feed = lagged_demand / parameters_.stretch * (1.0 + parameters_.gain * error);
  return std::clamp(feed, 0.0, parameters_.speed_limit);
}

ControlState FollowDemand::settled(const ControlSignal& signal) const {
  return {signal.demand, command(signal.demand, signal.force)};
}

ControlState FollowDemand::advance(const ControlState& state, const ControlSignal& begin, const ControlSignal& end,
                                   double dt) const {
  ControlState next;
  next.lagged_demand =
      end.mean_demand + lag_step(state.lagged_demand - begin.mean_demand, begin.demand - begin.mean_demand,
                                 end.demand - end.mean_demand, dt, parameters_.lag);
  next.feed = command(next.lagged_demand, end.force);
  if (std::isfinite(parameters_.acceleration_limit)) {
    const double reach = parameters_.acceleration_limit * dt;
    next.feed = std::clamp(next.feed, state.feed - reach, state.feed + reach);
  }
  return next;
}

}  // namespace hoopfield
