// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Film layers on slices of a load that gives: accretion, closing, relaxation, recovery of slack film.
#pragma once

#include "models/film/film_law.hpp"
#include "models/load/closing.hpp"
#include "sim/result.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace hoopfield {

/// What all slices of a load share.
struct StackSetup {
  const FilmLaw* law = nullptr;
  WidthMode mode;
  double length = 0.0, width = 0.0;   ///< plan of the load, m
  ClosingCompliance compliance;
  CreepLadder creep;
  double shear_stiffness = 0.0;       ///< N
  double slice_height = 0.0;          ///< m
  double tolerance = 1e-3;            ///< relative, on hoop tension
};

/// Temperature over a step and the length of the load relative to the film, both for the mechanical stretch.
struct Surroundings {
  double temperature_mid = 296.15;  ///< K, at the middle of the step
  double temperature_end = 296.15;  ///< K
  double path_factor_mid = 1.0;     ///< path length factor: thermal strain of load against film, settling
  double path_factor_end = 1.0;
};

/// Slices that are solved together: one when slices do not shear, all of them when they do.
///
/// Per slice the state is the film elements (face, stretch, branch strains), the two closings u = (u_l, u_w) and the load's
/// creep terms a_k. Equilibrium: `u - C G D2 u = C (S (1 + sum w_k) at rest...)`, in full
/// `u - C G u'' = C (S + sum_k w_k a_k)`, `da_k/dt = (S - a_k)/tau_k`, S = sums of the strand tensions that run along each
/// direction. A strand on a face of length b keeps `l = l_ref (b - u)/(b - u_ref) path_factor`, `N = max(P, 0) w0 t0/w`.
/// Film whose stress would be negative is slack: it recovers freely at P = 0.
/// Pinned by tests/unit/load_stack_test.cpp (closed forms) and tests/consistency (SciPy, monolithic).
class LoadStack {
 public:
  LoadStack(const StackSetup& setup, const std::vector<std::size_t>& capacity_per_slice);

  /// Film to be laid at the next settle(): state at lay-down, `weight` = covered fraction * w0 t0 / laid width (m).
  void lay(std::size_t slice, std::size_t face, const FilmState& state, double weight, std::size_t patch);

  /// Instantaneous equilibrium with the film just laid held at its own force (the newest face keeps the span force while
  /// the load gives); it is then fixed in unstretched length. Also used for jumps of the path factor.
  void settle(double temperature, double path_factor);

  /// Moves the state over dt in one implicit step; returns false when the equilibrium could not be found.
  /// `surroundings` of the whole step. `log_age` = growth of ln(time since film was last laid): closings drift about evenly
  /// over it, which gives the first guess; 0 = no guess.
  bool step(double dt, const Surroundings& surroundings, double log_age = 0.0);

  /// Tension that the closing of the last step took from the film, relative to the greatest strand tension sum. The step is
  /// exact for film on a path of constant log rate, so its error is a fraction of this.
  [[nodiscard]] double path_change() const { return path_change_; }

  [[nodiscard]] std::size_t slice_count() const { return slices_.size(); }
  [[nodiscard]] double hoop_tension(std::size_t slice, std::size_t face) const { return slices_[slice].tension[face]; }
  [[nodiscard]] double closing(std::size_t slice, std::size_t direction) const { return slices_[slice].closing[direction]; }
  /// Greatest residual of all accepted steps over the closing under the greatest force (film or shear): how well
  /// forces balance.
  [[nodiscard]] double residual() const { return greatest_closing_ > 0.0 ? greatest_residual_ / greatest_closing_ : 0.0; }
  [[nodiscard]] bool empty() const;

  /// Saved and restored by the step controller; cheap copies of plain arrays.
  struct Slice {
    FilmBlock film;
    std::vector<double> weight, reference_stretch, reference_path;  // reference path = face length - closing then
    std::vector<std::uint8_t> face;
    std::vector<std::uint32_t> patch;
    std::vector<double> nominal;  ///< stress per element, >= 0
    std::array<double, face_count> tension{};
    std::array<double, 2> closing{};
    std::array<double, 2> drift{};  ///< change of closing per unit of log age in the last step
    std::array<double, 2> sum{};  ///< S
    std::vector<std::array<double, 2>> creep;
  };
  [[nodiscard]] const std::vector<Slice>& slices() const { return slices_; }
  void restore(const std::vector<Slice>& saved) { slices_ = saved; }

  SolverCounters counters;

 private:
  struct Pending {
    std::size_t slice, face, patch;
    FilmState state;
    double weight;
  };
  bool solve(double dt, const Surroundings& surroundings, double log_age);
  void evaluate(std::size_t s, double dt, const Surroundings& surroundings, const std::array<double, 2>& closing,
                std::array<double, 2>& sum, std::array<double, 2>& stiffness);
  void accept(std::size_t s, double dt, const Surroundings& surroundings);
  void newton_update(const std::vector<std::array<double, 2>>& residual,
                     const std::vector<std::array<double, 4>>& diagonal, std::vector<std::array<double, 2>>& change) const;

  const StackSetup setup_;
  std::vector<Slice> slices_;
  std::vector<FilmBlock> trial_;             // per slice: state at the end of the trial step
  std::vector<std::vector<double>> path_, nominal_, slope_;
  std::vector<std::array<double, 2>> unknown_, sum_, stiffness_, held_;  // held_: tension of film being laid
  std::vector<Pending> pending_;
  double greatest_residual_ = 0.0, greatest_closing_ = 0.0;
  double path_change_ = 0.0;
};

}  // namespace hoopfield
