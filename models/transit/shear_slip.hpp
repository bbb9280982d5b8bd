// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Two tiers that shear and then slip: goods that give in series with dry friction.
#pragma once

namespace hoopfield {

/// Shear of goods (stiffness k, damping c) in series with Coulomb friction, by return mapping.
///
/// With d the offset of the tiers, s the slip and e = d - s the shear of the goods, `T = k e + c e'`. At rest s holds
/// while |T| <= mu_s P'. Once over, T = +-mu_k P' and e follows from it, until the slip would go the other way: then
/// both are at rest again. Over a step of length dt with the slip held, `T_try = k (e + v dt) + c v`; where it is over
/// the limit, `s` moves by `(T_try - T)/(k + c/dt)`. No events are searched for.
/// k in N/m, > 0; c in N s/m, >= 0; mu_s >= mu_k >= 0.
/// Source: Coulomb's law; return mapping as in plasticity. Pinned by tests/unit/transit_friction_test.cpp.
struct ShearSlip {
  double stiffness = 0.0;         ///< k, N/m
  double damping = 0.0;           ///< c, N s/m
  double static_friction = 0.0;   ///< mu_s
  double sliding_friction = 0.0;  ///< mu_k

  struct State {
    double shear = 0.0;  ///< e, m
    double slip = 0.0;   ///< s, m
    int sliding = 0;     ///< sense of the slip, 0 at rest
  };
  struct Reaction {
    double force = 0.0;     ///< T, against a positive offset positive, N
    double friction = 0.0;  ///< T ds of this step, J, >= 0
    double damped = 0.0;    ///< c e' de of this step, J, >= 0
  };
  /// Moves the state over a step of length `dt` with relative velocity `speed` under the normal force P'.
  Reaction move(State& state, double speed, double dt, double normal) const;
};

}  // namespace hoopfield
