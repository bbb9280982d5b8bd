// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Film law = equilibrium part + relaxing branches. The block loop is instantiated per combination, so nothing is
/// dispatched per element.
#pragma once

#include "models/film/equilibrium.hpp"
#include "models/film/eyring_block.hpp"
#include "models/film/eyring_step.hpp"
#include "models/film/film_law.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <type_traits>

namespace hoopfield {

inline constexpr double gas_constant = 8.31446261815324;  ///< J/mol/K, exact in the SI since 2019

/// Constants of one branch at one temperature.
struct BranchAt {
  double modulus = 0.0;  ///< E(T)
  double rate = 0.0;     ///< r(T), or 1/tau(T)
  double flow = 0.0;     ///< Y(T); unused by the linear flow
};

/// `d e/dt = d ln l/dt - (r/c) sinh(E c e/(Y chi))`. Flow stress is proportional to T (fixed activation volume).
/// r, Y see BranchParameters. Pinned by tests/unit/eyring_step_test.cpp and film_law_test.cpp.
struct EyringFlow {
  static constexpr bool uses_chi = true;
  static double strain_scale(const BranchParameters& b) { return b.flow_stress / b.modulus; }
  static BranchAt at(const BranchParameters& b, double arrhenius, double temperature_ratio, double softening) {
    return {b.modulus * softening, b.reference_rate * arrhenius, b.flow_stress * temperature_ratio};
  }
  /// End strain of a step with log-stretch `delta`; `slope` receives d e_1/d ln l_1.
  static double step(const BranchAt& b, double e0, double delta, double dt, double c, double chi0, double chi1,
                     double chi_mid, double log_chi, double dlog_chi1, double& slope) {
    const double gain = b.modulus * c / b.flow;
    const double y0 = gain * e0 / chi0;
    const double drive = gain * delta / chi_mid;
    const double beta = b.modulus * b.rate * dt / (b.flow * chi_mid);
    const EyringStep end = eyring_step(y0, drive, beta, log_chi);
    const double y_mid = 0.5 * (y0 + end.y);
    const double e1 = end.y * chi1 / gain;
    slope = e1 * dlog_chi1 + end.slope * (chi1 / chi_mid - (chi1 / gain) * y_mid * dlog_chi1);
    return e1;
  }
  /// Reduced stress; the flow rate is `(r/c) sinh` of it.
  static double drive(const BranchAt& b, double e, double c, double chi) { return b.modulus * c * e / (b.flow * chi); }
  /// Flow rate times exp(-scale), scale >= |drive|.
  static double flow(const BranchAt& b, double drive, double c, double scale) {
    const double size = std::abs(drive);
    const double twice_sinh = size > 20.0 ? 1.0 : -std::expm1(-2.0 * size);  // over exp(size)
    return std::copysign(0.5 * (b.rate / c) * std::exp(size - scale) * twice_sinh, drive);
  }
};

/// Linear Maxwell branch `d e/dt = d ln l/dt - e/tau`; exact step under a constant log rate:
/// `e_1 = e_0 exp(-dt/tau) + (delta tau/dt) (1 - exp(-dt/tau))`. Pinned by tests/unit/film_law_test.cpp.
struct MaxwellFlow {
  static constexpr bool uses_chi = false;
  static double strain_scale(const BranchParameters&) { return 0.01; }
  static BranchAt at(const BranchParameters& b, double arrhenius, double, double softening) {
    return {b.modulus * softening, arrhenius / b.relaxation_time, 1.0};
  }
  static double step(const BranchAt& b, double e0, double delta, double dt, double, double, double, double, double, double,
                     double& slope) {
    const double x = b.rate * dt;
    slope = x > 0.0 ? -std::expm1(-x) / x : 1.0;
    return e0 * std::exp(-x) + delta * slope;
  }
  static double drive(const BranchAt& b, double e, double, double) { return b.rate * e; }
  static double flow(const BranchAt&, double drive, double, double) { return drive; }
};

/// Greatest |ln(chi_1/chi_0)| of one closed-form step.
inline constexpr double greatest_log_chi_step = 0.1;

template <class Equilibrium, class Flow>
class BranchedLaw final : public FilmLaw {
 public:
  BranchedLaw(Equilibrium equilibrium, const FilmDescription& description)
      : equilibrium_(std::move(equilibrium)),
        branches_(description.branches),
        thermal_(description.thermal),
        reference_temperature_(description.reference_temperature),
        viscous_share_(Flow::uses_chi ? description.viscous_share : 0.0) {}

  [[nodiscard]] std::size_t branch_count() const override { return branches_.size(); }

  [[nodiscard]] FilmStress stress(const FilmState& state, const WidthMode& mode, double temperature) const override {
    const Constants at = constants(temperature);
    return combine(state, mode, at, [](std::size_t) { return 1.0; });
  }

  FilmStress step(FilmState& state, double stretch_end, double dt, const WidthMode& mode, double temperature_flow,
                  double temperature_end) const override {
    const Constants at_end = constants(temperature_end);
    const double delta = std::log(stretch_end / state.stretch);
    if (!(dt > 0.0)) {
      for (std::size_t k = 0; k < branches_.size(); ++k) state.strain[k] += delta;
      state.stretch = stretch_end;
      return combine(state, mode, at_end, [](std::size_t) { return 1.0; });
    }
    const Constants at_flow = constants(temperature_flow);
    const double log_chi = std::log(chi(stretch_end, mode) / chi(state.stretch, mode));
    const int pieces = std::max(1, static_cast<int>(std::ceil(std::abs(log_chi) / greatest_log_chi_step)));
    std::array<double, max_branches> slope{};
    double l0 = state.stretch;
    for (int i = 1; i <= pieces; ++i) {
      const double l1 = i == pieces ? stretch_end : state.stretch * std::exp(delta * i / pieces);
      small_step(state.strain.data(), 1, l0, l1, delta / pieces, dt / pieces, mode, at_flow, slope.data(), 1);
      l0 = l1;
    }
    state.stretch = stretch_end;
    return combine(state, mode, at_end, [&](std::size_t k) { return slope[k]; });
  }

  void step_block(const FilmBlock& begin, FilmBlock& end, const double* stretch_end, double dt, const WidthMode& mode,
                  double temperature_flow, double temperature_end, BlockStress& stress) const override {
    assert(end.stride >= begin.size && end.strain.size() >= end.stride * branches_.size());
    assert(stress.strain_slope.size() >= end.stride * branches_.size());
    const Constants at_flow = constants(temperature_flow);
    if (temperature_end == temperature_flow)
      step_block(begin, end, stretch_end, dt, mode, at_flow, at_flow, stress);
    else
      step_block(begin, end, stretch_end, dt, mode, at_flow, constants(temperature_end), stress);
  }

  [[nodiscard]] FilmRates rates(const FilmState& state, const WidthMode& mode, double temperature) const override {
    const Constants at = constants(temperature);
    const EquilibriumStress net = equilibrium_.at(state.stretch, mode);
    FilmRates out;
    out.network = at.network * net.stress;
    out.network_slope = at.network * net.slope;
    out.softening_network = thermal_.network_softening;
    out.softening_branch = thermal_.modulus_softening;
    const double x = chi(state.stretch, mode);
    for (std::size_t k = 0; k < branches_.size(); ++k) {
      out.modulus[k] = at.branch[k].modulus;
      out.flow[k] = Flow::drive(at.branch[k], state.strain[k], mode.c, x);
      if (Flow::uses_chi) out.log_scale = std::max(out.log_scale, std::abs(out.flow[k]));
    }
    for (std::size_t k = 0; k < branches_.size(); ++k)
      out.flow[k] = Flow::flow(at.branch[k], out.flow[k], mode.c, out.log_scale);
    return out;
  }

  [[nodiscard]] double strain_scale(std::size_t k) const override { return Flow::strain_scale(branches_[k]); }

  [[nodiscard]] double stretch_limit(const WidthMode& mode) const override { return equilibrium_.stretch_limit(mode); }

 private:
  struct Constants {
    double network = 1.0;
    std::array<BranchAt, max_branches> branch{};
  };

  void step_block(const FilmBlock& begin, FilmBlock& end, const double* stretch_end, double dt, const WidthMode& mode,
                  const Constants& at_flow, const Constants& at_end, BlockStress& stress) const {
    if constexpr (std::is_same_v<Equilibrium, GentNetwork> && std::is_same_v<Flow, EyringFlow>) {
      if (mode.is_free) {
        eyring_block_step(block_setup(at_flow, at_end, dt, mode), begin, end, stretch_end, stress);
        return;
      }
    }
    const std::size_t n = end.stride;
    end.size = begin.size;
    for (std::size_t i = 0; i < begin.size; ++i) {
      const double l0 = begin.stretch[i];
      const double l1 = stretch_end[i];
      const double delta = std::log(l1 / l0);
      for (std::size_t k = 0; k < branches_.size(); ++k) {
        end.strain[k * n + i] = begin.strain[k * begin.stride + i] + (dt > 0.0 ? 0.0 : delta);
        stress.strain_slope[k * n + i] = 1.0;
      }
      if (dt > 0.0)
        small_step(end.strain.data() + i, n, l0, l1, delta, dt, mode, at_flow, stress.strain_slope.data() + i, n);
      end.stretch[i] = l1;
      const EquilibriumStress net = equilibrium_.at(l1, mode);
      double s = at_end.network * net.stress;
      double ds = at_end.network * net.slope;
      for (std::size_t k = 0; k < branches_.size(); ++k) {
        s += mode.m * at_end.branch[k].modulus * end.strain[k * n + i];
        ds += mode.m * at_end.branch[k].modulus * stress.strain_slope[k * n + i];
      }
      stress.nominal[i] = s / l1;
      stress.slope[i] = (ds - s) / l1;
    }
  }

  [[nodiscard]] EyringBlockSetup block_setup(const Constants& flow, const Constants& end, double dt,
                                             const WidthMode& mode) const {
    EyringBlockSetup setup;
    setup.branches = branches_.size();
    setup.is_jump = !(dt > 0.0);
    setup.viscous_share = viscous_share_;
    setup.shape = mode.shape;
    setup.network_modulus = end.network * equilibrium_.parameters().modulus;
    setup.stretch_limit = equilibrium_.parameters().stretch_limit;
    for (std::size_t k = 0; k < branches_.size(); ++k) {
      setup.gain[k] = flow.branch[k].modulus / flow.branch[k].flow;
      setup.beta[k] = setup.gain[k] * flow.branch[k].rate * dt;
      setup.modulus[k] = end.branch[k].modulus;
    }
    return setup;
  }

  [[nodiscard]] Constants constants(double temperature) const {
    Constants out;
    const double rise = temperature - reference_temperature_;
    const auto factor = [rise](double exponent) { return rise == 0.0 ? 1.0 : std::exp(exponent); };
    out.network = factor(-thermal_.network_softening * rise);
    const double softening = factor(-thermal_.modulus_softening * rise);
    const double inverse = 1.0 / temperature - 1.0 / reference_temperature_;
    for (std::size_t k = 0; k < branches_.size(); ++k) {
      const double arrhenius = factor(-branches_[k].activation_energy / gas_constant * inverse);
      out.branch[k] = Flow::at(branches_[k], arrhenius, temperature / reference_temperature_, softening);
    }
    return out;
  }

  [[nodiscard]] double chi(double stretch, const WidthMode& mode) const {
    return viscous_share_ == 0.0 ? 1.0 : 1.0 + viscous_share_ * (mode.invariant(stretch) - 3.0);
  }

  /// One closed-form step of every branch of one element; `strain` and `slope` are strided.
  void small_step(double* strain, std::size_t stride, double l0, double l1, double delta, double dt, const WidthMode& mode,
                  const Constants& at, double* slope, std::size_t slope_stride) const {
    double chi0 = 1.0, chi1 = 1.0, chi_mid = 1.0, log_chi = 0.0, dlog_chi1 = 0.0;
    if (viscous_share_ != 0.0) {
      chi0 = chi(l0, mode);
      chi1 = chi(l1, mode);
      chi_mid = chi(std::sqrt(l0 * l1), mode);
      log_chi = chi1 == chi0 ? 0.0 : std::log(chi1 / chi0);
      dlog_chi1 = viscous_share_ * mode.invariant_log_slope(l1) / chi1;
    }
    for (std::size_t k = 0; k < branches_.size(); ++k) {
      double& e = strain[k * stride];
      e = Flow::step(at.branch[k], e, delta, dt, mode.c, chi0, chi1, chi_mid, log_chi, dlog_chi1, slope[k * slope_stride]);
    }
  }

  /// Nominal stress and slope: s = s_net + m sum E e, P = s/l, dP/dln l = (ds/dln l - s)/l.
  template <class StrainSlope>
  [[nodiscard]] FilmStress combine(const FilmState& state, const WidthMode& mode, const Constants& at,
                                   StrainSlope&& strain_slope) const {
    const EquilibriumStress net = equilibrium_.at(state.stretch, mode);
    double s = at.network * net.stress;
    double ds = at.network * net.slope;
    for (std::size_t k = 0; k < branches_.size(); ++k) {
      s += mode.m * at.branch[k].modulus * state.strain[k];
      ds += mode.m * at.branch[k].modulus * strain_slope(k);
    }
    return {s / state.stretch, (ds - s) / state.stretch};
  }

  Equilibrium equilibrium_;
  std::vector<BranchParameters> branches_;
  ThermalParameters thermal_;
  double reference_temperature_ = 296.15;
  double viscous_share_ = 0.0;
};

}  // namespace hoopfield
