// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Film layers on slices of a load that gives: accretion, closing, relaxation, recovery of slack film.
#pragma once

#include "models/film/film_law.hpp"
#include "models/load/closing.hpp"
#include "sim/base/faces.hpp"
#include "sim/buildup/creep_steps.hpp"
#include "sim/buildup/solver_counters.hpp"
#include "sim/buildup/stack_loops.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace hoopfield {

/// What all slices of a load share.
struct StackSetup {
  const FilmLaw* law = nullptr;
  WidthMode mode;
  double length = 0.0, width = 0.0;  ///< plan of the load, m
  ClosingCompliance compliance;
  CreepLadder creep;
  double shear_stiffness = 0.0;  ///< N
  double slice_height = 0.0;     ///< m
  double tolerance = 1e-3;       ///< relative, on hoop tension
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
/// Per slice the state is the film elements (face, stretch, branch strains), the two closings u = (u_l, u_w) and the
/// load's creep terms a_k. Equilibrium: `u - C G D2 u = C (S (1 + sum w_k) at rest...)`, in full `u - C G u'' = C (S +
/// sum_k w_k a_k)`, `da_k/dt = (S - a_k)/tau_k`, S = sums of the strand tensions that run along each direction. A
/// strand on a face of length b keeps `l = l_ref (b - u)/(b - u_ref) path_factor`, `N = max(P, 0) w0 t0/w`. Film whose
/// stress would be negative is slack: it recovers freely at P = 0.
///
/// The film law is evaluated at a guess of the closings; equilibrium is then found on the film's tangent, which costs
/// next to nothing, and the film moved along it. Moves too long for a tangent (within_tangent()) are evaluated again.
/// Pinned by tests/unit/load_stack_test.cpp (closed forms) and tests/consistency (SciPy, monolithic).
class LoadStack {
 public:
  /// `capacity_per_slice` = most film elements each will hold.
  LoadStack(const StackSetup& setup, const std::vector<std::size_t>& capacity_per_slice);
  /// Slices without film again, in the memory there is.
  void start_anew(const std::vector<std::size_t>& capacity_per_slice);

  /// Film to be laid at the next settle(): state at lay-down, `weight` = covered fraction * w0 t0 / laid width (m).
  void lay(std::size_t slice, std::size_t face, const FilmState& state, double weight, std::size_t patch);

  /// Instantaneous equilibrium with the film just laid held at its own force (the newest face keeps the span force
  /// while the load gives); it is then fixed in unstretched length. Also used for jumps of the path factor.
  void settle(double temperature, double path_factor);

  /// Finds the equilibrium after dt in one implicit step; the state moves only with commit(). False when there is none.
  /// `surroundings` of the whole step. `log_age` = growth of ln(time since film was last laid): closings drift about
  /// evenly over it, which gives the first guess; 0 = no guess.
  bool attempt(double dt, const Surroundings& surroundings, double log_age = 0.0);
  void commit();
  bool step(double dt, const Surroundings& surroundings, double log_age = 0.0);  ///< attempt() and commit()

  /// Tension per face of a slice at a time within the step that was just committed, N/m: its film taken `dt` from the
  /// start of the step, on the path that it is on when the closings have gone `share` of their way. Asks for the film
  /// alone, so it costs a part of a step, and moves nothing.
  [[nodiscard]] std::array<double, face_count> tension_within_step(std::size_t slice, double dt, double share);

  /// Tension that the closing of the last attempt took from the film, relative to the greatest strand tension sum. The
  /// step is exact for film on a path of constant log rate, so its error is a fraction of this.
  [[nodiscard]] double path_change() const;

  [[nodiscard]] std::size_t slice_count() const { return slices_.size(); }
  [[nodiscard]] double hoop_tension(std::size_t slice, std::size_t face) const { return slices_[slice].tension[face]; }
  [[nodiscard]] double closing(std::size_t slice, std::size_t direction) const {
    return slices_[slice].closing[direction];
  }
  /// Greatest residual of all equilibria found and the closing under the greatest force (film or shear): their ratio
  /// says how well forces balance.
  struct Balance {
    double residual = 0.0, closing = 0.0;  ///< m
  };
  [[nodiscard]] double residual() const { return balance_.closing > 0.0 ? balance_.residual / balance_.closing : 0.0; }
  [[nodiscard]] Balance balance_so_far() const { return balance_; }
  void forget_balances_since(const Balance& earlier) { balance_ = earlier; }  ///< those found were trials
  [[nodiscard]] bool empty() const;

  /// Saved and restored by the step controller; cheap copies of plain arrays. Those of numbers are as long as the film
  /// block with its padding, whose weight is 0.
  struct Slice {
    FilmBlock film;
    std::vector<double> weight, reference_stretch, reference_path;  // reference path = face length - closing then
    std::vector<double> along_width;  ///< 1 for strands on front and back, 0 for those on left and right
    std::vector<std::uint8_t> face;
    std::vector<std::uint32_t> patch;
    std::vector<double> nominal;  ///< stress per element, >= 0
    std::array<double, face_count> tension{};
    std::array<double, 2> closing{};
    std::array<double, 2> drift{};  ///< change of closing per unit of log age in the last step
    std::array<double, 2> sum{};    ///< S
    std::vector<std::array<double, 2>> creep;
    [[nodiscard]] StrandArrays strands() const { return {film.size, weight.data(), along_width.data()}; }
  };
  [[nodiscard]] const std::vector<Slice>& slices() const { return slices_; }
  void restore(const std::vector<Slice>& saved) { slices_ = saved; }

  SolverCounters counters;

 private:
  struct Pending {
    std::size_t slice, face, patch;
    FilmState state;
    double weight;
    double nominal;  ///< stress in the span, known once it is laid
  };
  void make_empty(std::size_t s, std::size_t capacity);
  bool solve();
  void add_element(Slice& slice, const Pending& film, double path_factor);
  void evaluate(std::size_t s);
  /// Fills `path_` with the stretches of a slice that has closed so far, at the end of the step.
  void stretch_to(std::size_t s, const std::array<double, 2>& closing);
  bool balance();
  double residual(std::size_t s, double& rounding, double& scale);
  /// Shear stiffness between neighbouring slices per height of one, Pa; 0 for a slice alone.
  [[nodiscard]] double shear_coupling() const {
    return slices_.size() > 1 ? setup_.shear_stiffness / (setup_.slice_height * setup_.slice_height) : 0.0;
  }
  double add_shear(std::size_t s, std::array<double, 2>& load) const;
  [[nodiscard]] bool within_tangent() const;
  [[nodiscard]] bool folded() const;
  void accept(std::size_t s);
  void recover_slack(std::size_t s);
  void newton_update();

  const StackSetup setup_;
  const StackLoops& loops_;
  std::vector<Slice> slices_;
  // The step being attempted.
  double dt_ = 0.0, log_age_ = 0.0;
  Surroundings surroundings_;
  std::vector<FilmBlock> trial_;  ///< per slice: film at the end of the step, with the closing of `base_`; once the
                                  ///< step is committed, film at its start
  FilmBlock sample_;              ///< film within a step
  std::vector<std::array<double, 2>> start_closing_;  ///< of the step last committed
  std::vector<BlockStress> stress_;
  std::vector<std::vector<double>> path_;              ///< per slice: stretch at the end of the step
  std::vector<std::array<double, 2>> unknown_, base_;  ///< closings: now, and where the film was last evaluated
  std::vector<StrandSums> base_sums_;                  ///< S, dS/d ln l and sum of weight over stretch there
  std::vector<std::array<double, 2>> move_, sum_;      ///< log stretch from there to now, and S now
  std::vector<std::array<double, 2>> held_;            ///< tension of film being laid
  CreepSteps creep_steps_;
  const CreepStep* creep_ = nullptr;                 ///< of this step
  std::vector<std::array<double, 2>> creep_memory_;  ///< closing under earlier forces: `C (S gain + memory)`
  std::vector<std::array<double, 2>> residual_, change_;
  std::vector<std::array<double, 4>> diagonal_, upper_;
  std::vector<Pending> pending_;
  Balance balance_;
};

}  // namespace hoopfield
