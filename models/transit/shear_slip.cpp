// SPDX-License-Identifier: BSD-3-Clause
#include "models/transit/shear_slip.hpp"

#include <cmath>

namespace hoopfield {

ShearSlip::Reaction ShearSlip::move(State& state, double speed, double dt, double normal) const {
  const double tried = stiffness * (state.shear + speed * dt) + damping * speed;
  const bool goes_on = state.sliding != 0 && tried * state.sliding > sliding_friction * normal;
  const bool breaks_loose = std::abs(tried) > static_friction * normal;
  double slipped = 0.0, force = tried;
  if (goes_on || breaks_loose) {
    force = std::copysign(sliding_friction * normal, tried);
    slipped = (tried - force) / (stiffness + damping / dt);
    state.sliding = tried > 0.0 ? 1 : -1;
  } else {
    state.sliding = 0;
  }
  const double sheared = speed * dt - slipped;
  state.shear += sheared;
  state.slip += slipped;
  return {force, force * slipped, damping * sheared * sheared / dt};
}

}  // namespace hoopfield
