// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Branches whose dashpot is linear, for BranchedLaw.
#pragma once

#include "models/film/description.hpp"
#include "models/film/hardening.hpp"

#include <cmath>

namespace hoopfield {

/// Linear flow: `d e/dt = d ln l/dt - e/tau`; the step is exact under a constant log rate:
/// `e_1 = e_0 exp(-dt/tau) + (delta tau/dt) (1 - exp(-dt/tau))`.
///
/// Parameters: modulus E (Pa, > 0), relaxation_time tau (s, > 0), activation_energy Q (J/mol, >= 0). With temperature
/// 1/tau follows Arrhenius and E softens. State: e.
///
/// Source: Maxwell's spring and dashpot (textbook, from memory). Pinned by tests/unit/film_law_test.cpp.
struct MaxwellFlow {
  static constexpr bool hardens = false;
  static constexpr int step_order = 2;  // exact along constant log rates; a path is cut into those, to second order

  struct Branch {
    double modulus, relaxation_time, activation_energy;
    explicit Branch(const BranchParameters& b)
        : modulus(b["modulus"]), relaxation_time(b["relaxation_time"]), activation_energy(b["activation_energy"]) {}
  };
  struct At {
    double modulus = 0.0;  ///< E(T)
    double rate = 0.0;     ///< 1/tau(T)
  };

  static double strain_scale(const Branch&) { return 0.01; }
  /// A linear branch does not bend; this leaves the network, which bends by less than its branches, its room.
  static double curvature_bound(const Branch& b, double) { return 0.2 * b.modulus / strain_scale(b); }

  static At at(const Branch& b, double arrhenius, double, double softening) {
    return {b.modulus * softening, arrhenius / b.relaxation_time};
  }
  static double step(const At& b, double e0, double delta, double dt, double, const HardeningStep<double>&,
                     double& slope) {
    const double x = b.rate * dt;
    slope = x > 0.0 ? -std::expm1(-x) / x : 1.0;
    return e0 * std::exp(-x) + delta * slope;
  }
  static double drive(const At& b, double e, double, double) { return b.rate * e; }
  static double log_size(const At&, double) { return 0.0; }
  static double flow(const At&, double drive, double, double) { return drive; }
};

}  // namespace hoopfield
