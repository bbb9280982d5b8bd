// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Branches whose dashpot follows Eyring's law, for BranchedLaw.
#pragma once

#include "models/film/description.hpp"
#include "models/film/equilibrium.hpp"
#include "models/film/eyring_block.hpp"
#include "models/film/eyring_step.hpp"
#include "models/film/hardening.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield {

/// Flow by stress-activated jumps: `d e/dt = d ln l/dt - (r/c) sinh(E c e/(Y chi))`; c see WidthMode, chi see
/// HardeningStep.
///
/// Parameters: modulus E (Pa, > 0), reference_rate r (1/s, > 0), flow_stress Y (Pa, > 0), activation_energy Q (J/mol,
/// >= 0). With temperature `r(T) = r exp(-(Q/R)(1/T - 1/Tref))`, `Y(T) = Y T/Tref` (fixed activation volume) and E
/// softens. State: e.
///
/// Special cases: at rest tanh(y/2) decays by exp(-E r t/(Y chi)), y = E c e/(Y chi).
///
/// Source: Eyring 1936 (from memory); the step see eyring_step(). Pinned by tests/unit/eyring_step_test.cpp and
/// film_law_test.cpp.
struct EyringFlow {
  static constexpr bool hardens = true;
  static constexpr int step_order = 2;

  struct Branch {
    double modulus, reference_rate, flow_stress, activation_energy;
    explicit Branch(const BranchParameters& b)
        : modulus(b["modulus"]),
          reference_rate(b["reference_rate"]),
          flow_stress(b["flow_stress"]),
          activation_energy(b["activation_energy"]) {}
  };

  /// Constants of one branch at one temperature: E(T), r(T), Y(T). Numbers that carry derivatives serve the film fit.
  template <class Number>
  struct Constants {
    Number modulus{}, rate{}, flow{};
  };
  using At = Constants<double>;

  static double strain_scale(const Branch& b) { return b.flow_stress / b.modulus; }
  /// A reduced stress bends by at most 0.4 (E dl/Y)^2/2 off its tangent, whatever the time
  /// (tests/unit/law_registry_test.cpp).
  static double curvature_bound(const Branch& b, double) { return 0.2 * b.modulus / strain_scale(b); }

  static At at(const Branch& b, double arrhenius, double temperature_ratio, double softening) {
    return {b.modulus * softening, b.reference_rate * arrhenius, b.flow_stress * temperature_ratio};
  }

  /// End strain of a step with log-stretch `delta`; `slope` receives d e_1/d ln l_1.
  template <class Number>
  static Number step(const Constants<Number>& b, const Number& e0, double delta, double dt, double c,
                     const HardeningStep<Number>& h, Number& slope) {
    const Number gain = b.modulus * c / b.flow;
    const Number y0 = gain * e0 / h.chi0;
    const Number drive = gain * delta / h.chi_mid;
    const Number beta = b.modulus * b.rate * dt / (b.flow * h.chi_mid);
    const EyringStep<Number> end = eyring_step<Number>(y0, drive, beta, h.log_chi);
    const Number y_mid = 0.5 * (y0 + end.y);
    const Number e1 = end.y * h.chi1 / gain;
    slope = e1 * h.dlog_chi1 + end.slope * (h.chi1 / h.chi_mid - (h.chi1 / gain) * y_mid * h.dlog_chi1);
    return e1;
  }

  /// Reduced stress y; the flow rate is `(r/c) sinh` of it.
  static double drive(const At& b, double e, double c, double chi) { return b.modulus * c * e / (b.flow * chi); }
  /// Logarithm of the size of the flow, for a scale common to all branches.
  static double log_size(const At&, double drive) { return std::abs(drive); }
  /// Flow rate times exp(-scale), scale >= log_size.
  static double flow(const At& b, double drive, double c, double scale) {
    const double size = std::abs(drive);
    const double twice_sinh = size > 20.0 ? 1.0 : -std::expm1(-2.0 * size);  // over exp(size)
    return std::copysign(0.5 * (b.rate / c) * std::exp(size - scale) * twice_sinh, drive);
  }

  /// Whole blocks in free width go through vectors of numbers.
  template <class Task>
  static void step_block(const GentNetwork& network, const Task& task, const FilmBlock& begin, FilmBlock& end,
                         const double* stretch_end, BlockStress& stress) {
    EyringBlockSetup setup;
    setup.branches = task.branches;
    setup.is_jump = !(task.dt > 0.0);
    setup.viscous_share = task.viscous_share;
    setup.shape = task.mode.shape;
    setup.network_modulus = task.at_end.network * network.parameters().modulus;
    setup.stretch_limit = network.parameters().stretch_limit;
    for (std::size_t k = 0; k < task.branches; ++k) {
      const At& flowing = task.at_flow.branch[k];
      setup.gain[k] = flowing.modulus / flowing.flow;
      setup.beta[k] = setup.gain[k] * flowing.rate * task.dt;
      setup.modulus[k] = task.at_end.branch[k].modulus;
    }
    eyring_block_step(setup, begin, end, stretch_end, stress);
  }
};

}  // namespace hoopfield
