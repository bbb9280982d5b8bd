// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Film law = equilibrium part + relaxing branches of one kind of flow. The block loop is instantiated per combination,
/// so nothing is dispatched per element.
#pragma once

#include "models/film/equilibrium.hpp"
#include "models/film/film_law.hpp"
#include "models/film/hardening.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace hoopfield {

inline constexpr double gas_constant = 8.31446261815324;  ///< J/mol/K, exact in the SI since 2019

/// What a `Flow` answers (see EyringFlow): `hardens`, `step_order`; `Branch` made from BranchParameters, with `modulus`
/// and `activation_energy`; `At`, its constants at a temperature, with `modulus`; strain_scale and curvature_bound of a
/// Branch; at, step, drive, log_size and flow of an At; and, where whole blocks have a faster way, step_block.
template <class Equilibrium, class Flow>
class BranchedLaw final : public FilmLaw {
 public:
  BranchedLaw(Equilibrium equilibrium, const FilmDescription& description)
      : equilibrium_(std::move(equilibrium)),
        branches_(description.branches.begin(), description.branches.end()),
        thermal_(description.thermal),
        reference_temperature_(description.reference_temperature),
        viscous_share_(Flow::hardens ? description.viscous_share : 0.0) {}

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
    std::array<double, max_branches> slope{};
    cut_by_hardening(viscous_share_, state.stretch, stretch_end, delta, mode, [&](double l0, double l1, int count) {
      small_step(state.strain.data(), 1, l0, l1, delta / count, dt / count, mode, at_flow, slope.data(), 1);
    });
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
    const double chi = viscous_share_ == 0.0 ? 1.0 : hardening(viscous_share_, state.stretch, mode);
    for (std::size_t k = 0; k < branches_.size(); ++k) {
      out.modulus[k] = at.branch[k].modulus;
      out.flow[k] = Flow::drive(at.branch[k], state.strain[k], mode.c, chi);
      out.log_scale = std::max(out.log_scale, Flow::log_size(at.branch[k], out.flow[k]));
    }
    for (std::size_t k = 0; k < branches_.size(); ++k)
      out.flow[k] = Flow::flow(at.branch[k], out.flow[k], mode.c, out.log_scale);
    return out;
  }

  [[nodiscard]] double strain_scale(std::size_t k) const override { return Flow::strain_scale(branches_[k]); }

  [[nodiscard]] double stretch_limit(const WidthMode& mode) const override { return equilibrium_.stretch_limit(mode); }

  [[nodiscard]] int step_order() const override { return Flow::step_order; }

  [[nodiscard]] double curvature_bound(double dt) const override {
    double sum = 0.0;
    for (const Branch& branch : branches_) sum += Flow::curvature_bound(branch, dt);
    return sum;
  }

 private:
  using Branch = typename Flow::Branch;
  struct Constants {
    double network = 1.0;
    std::array<typename Flow::At, max_branches> branch{};
  };
  /// Everything one block step shares.
  struct BlockTask {
    const Constants& at_flow;
    const Constants& at_end;
    const WidthMode& mode;
    double dt, viscous_share;
    std::size_t branches;
  };

  void step_block(const FilmBlock& begin, FilmBlock& end, const double* stretch_end, double dt, const WidthMode& mode,
                  const Constants& at_flow, const Constants& at_end, BlockStress& stress) const {
    const BlockTask task{at_flow, at_end, mode, dt, viscous_share_, branches_.size()};
    if constexpr (requires { Flow::step_block(equilibrium_, task, begin, end, stretch_end, stress); }) {
      if (mode.is_free && !branches_.empty()) {
        Flow::step_block(equilibrium_, task, begin, end, stretch_end, stress);
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
      if (dt > 0.0 && !branches_.empty())
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

  [[nodiscard]] Constants constants(double temperature) const {
    Constants out;
    const double rise = temperature - reference_temperature_;
    const auto factor = [rise](double exponent) { return rise == 0.0 ? 1.0 : std::exp(exponent); };
    out.network = factor(-thermal_.network_softening * rise);
    const double softening = factor(-thermal_.modulus_softening * rise);
    const double inverse = 1.0 / temperature - 1.0 / reference_temperature_;
    double energy = 0.0, arrhenius = 1.0;  // branches often share one energy, and the exponential is most of the work
    for (std::size_t k = 0; k < branches_.size(); ++k) {
      if (branches_[k].activation_energy != energy) {
        energy = branches_[k].activation_energy;
        arrhenius = factor(-energy / gas_constant * inverse);
      }
      out.branch[k] = Flow::at(branches_[k], arrhenius, temperature / reference_temperature_, softening);
    }
    return out;
  }

  /// One step of every branch of one element; `strain` and `slope` are strided.
  void small_step(double* strain, std::size_t stride, double l0, double l1, double delta, double dt,
                  const WidthMode& mode, const Constants& at, double* slope, std::size_t slope_stride) const {
    const HardeningStep<double> hardened = hardening_step(viscous_share_, l0, l1, mode);
    for (std::size_t k = 0; k < branches_.size(); ++k) {
      double& e = strain[k * stride];
      e = Flow::step(at.branch[k], e, delta, dt, mode.c, hardened, slope[k * slope_stride]);
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
  std::vector<Branch> branches_;
  ThermalParameters thermal_;
  double reference_temperature_ = 296.15;
  double viscous_share_ = 0.0;
};

}  // namespace hoopfield
