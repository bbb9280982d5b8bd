// SPDX-License-Identifier: BSD-3-Clause
#include "models/transit/slip_plane.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hoopfield {
namespace {

constexpr double step_radius = 0.02;    // r, m
constexpr double own_step = 1.3;        // c_k
constexpr double of_static_hold = 1.5;  // c_F
constexpr double slack_share = 0.33;    // of the slip that did not come back elastically

/// ln coth(sqrt(3) pi D/b): what a free film edge at distance D takes away.
double free_edge(double distance, double side) {
  return -std::log(std::tanh(std::numbers::sqrt3 * std::numbers::pi * distance / side));
}

}  // namespace

double saturating(double linear, double limit) { return limit > 0.0 ? linear / (1.0 + linear / limit) : 0.0; }

SlipPlane::SlipPlane(const SlipPlaneInput& in) {
  const bool crossed = in.film_above > 0.0 && in.film_below > 0.0 && in.tension > 0.0 && in.stiffness > 0.0;
  if (!crossed) return;
  const double sheet = in.stiffness / std::numbers::sqrt3;  // S = sqrt(EA G), G = EA/3
  double step =
      own_step * -std::log(std::tan(std::numbers::pi * std::min(step_radius, 0.25 * in.side) / (2.0 * in.side)));
  if (!in.held_at_top) step -= free_edge(in.film_above, in.side);
  if (!in.held_at_bottom) step -= free_edge(in.film_below, in.side);
  stiffness_ = 4.0 / std::numbers::pi * sheet * std::max(step, 0.0);
  hold_ = std::min(in.hold_above, in.hold_below);
  greatest_ = of_static_hold * std::sqrt(2.0 * in.side * in.tension * hold_);
  clamp_per_force2_ = 1.0 / (2.0 * in.side * in.tension);
}

double SlipPlane::first_loading(double slip) const {
  return std::copysign(saturating(stiffness_ * std::abs(slip), greatest_), slip);
}

double SlipPlane::clamp(double force) const { return std::min(force * force * clamp_per_force2_, hold_); }

double SlipPlane::panel(double slip, double& greatest_slip) const {
  if (slip <= 0.0) return 0.0;
  if (slip >= greatest_slip) {
    greatest_slip = slip;
    return saturating(stiffness_ * slip, greatest_);
  }
  const double at_greatest = saturating(stiffness_ * greatest_slip, greatest_);
  const double slack = slack_share * (greatest_slip - at_greatest / stiffness_);
  return slip > slack ? at_greatest * (slip - slack) / (greatest_slip - slack) : 0.0;
}

double SlipPlane::force(double slip, Memory& memory) const {
  if (!(stiffness_ > 0.0)) return 0.0;
  return panel(slip, memory[0]) - panel(-slip, memory[1]);
}

EdgeLift::EdgeLift(double film_stiffness, double hold, double film_height, double side)
    : stiffness(4.0 / 3.0 * film_stiffness), greatest(0.625 * hold) {
  const double panels = 2.0 * std::numbers::sqrt2 / std::numbers::pi * side;
  if (film_height > panels) reach = panels / film_height;
}

double EdgeLift::force(double lift) const {
  if (!(lift > 0.0 && greatest > 0.0)) return 0.0;
  const double x = stiffness * lift / greatest, y = x / reach;
  if (y >= 1.0) return greatest * std::min(x, 1.0);
  if (!(y > 0.0)) return 0.0;
  const double arcosh = std::log1p(std::sqrt(1.0 - y * y)) - std::log(y);  // of 1/y
  return greatest * reach * 2.0 / std::numbers::pi * (std::asin(y) + y * arcosh);
}

}  // namespace hoopfield
