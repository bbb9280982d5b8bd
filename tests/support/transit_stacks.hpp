// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Stacks for the tests of transit.
#pragma once

#include "sim/transit/transit_stack.hpp"

namespace hoopfield::test {

/// Eight tiers of 75 kg and 0.2 m on 1.2 x 1.0 m, illustrative; film of EA/N = 11 over the whole height.
inline TransitStack eight_tiers(double side, double tension, double pallet_lock = 0.0) {
  TransitStack stack;
  stack.side = side;
  stack.film_friction = 0.3;
  stack.film_bottom = -0.1;
  stack.film_top = 1.6;
  stack.pallet_lock = pallet_lock;
  for (int i = 0; i < 8; ++i) stack.tiers.push_back({0.2, 75.0, i == 0 ? 0.4 : 0.45, tension, 11.0 * tension});
  return stack;
}

/// One nearly rigid block without film.
inline TransitStack block(double side, double height, double mass, double friction, double sliding_share) {
  TransitStack stack;
  stack.side = side;
  stack.bearing_share = 1.0;
  stack.sliding_share = sliding_share;
  stack.sway_stiffness = 1e8;
  stack.tier_stiffness = 3e9;
  stack.film_top = height;
  stack.tiers.push_back({height, mass, friction, 0.0, 0.0});
  return stack;
}

}  // namespace hoopfield::test
