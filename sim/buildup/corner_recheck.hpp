// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Slip round the corners after lay-down: later turns, closing, creep and storage move the faces apart.
#pragma once

#include "models/load/layer_slip.hpp"
#include "sim/buildup/load_stack.hpp"

#include <array>
#include <cstddef>
#include <limits>
#include <vector>

namespace hoopfield {

/// Friction at the corners of the load; infinity = stuck.
struct CornerFriction {
  double film_on_load = std::numeric_limits<double>::infinity();
  double film_on_film = std::numeric_limits<double>::infinity();
};

/// Keeps the faces of every slice within what corner friction holds.
///
/// Film of patch p goes on round a corner into patch p + 1. Where both cover a slice, the lesser of their weights (m of
/// film height times thickness) is common: only that part passes force round the corner. (A sloping edge crosses the
/// slice between the two faces; at the corner itself it covers no less than the lesser and no more than the greater
/// share, so what is left out is within the share of one slice that first slices of an edge smear anyway.) The layers
/// of a corner are ordered by patch; below the innermost is the load, below the others film. With A, B the sums of
/// common weight times nominal stress outside an interface of friction mu, before and behind the corner: `|ln(B/A)| <=
/// mu pi/2` at every interface and corner. Where that fails, the film outside the interface moves until it stands at
/// the limit, and the load finds its equilibrium with it, both at once (models/load/layer_slip.hpp, on the tangent of
/// film and load, repeated until both hold with the full laws). Slips are totals since the start of a call, so the way
/// there does not matter.
///
/// Film that moves: the unstretched length `m = path/stretch` on a face changes by what passes its two corners, times
/// common weight over own weight, so the sum of weight times m over a strand is kept. Film brings its state: viscous
/// log strains `v_k = ln l - e_k` become the mean by unstretched length, as in slip_laid_film().
///
/// The two ends: the tail is clamped and the cut end held by cling, nothing passes them. Slip while winding is in the
/// film as it is laid; here only what changes afterwards counts. The newest face counts as cut from the span, as in the
/// build-up.
/// Film that carries next to nothing (1e-10 of the greatest tension; all film below an elastic strain of 1e-7) counts
/// as slack: no ratio is asked of it. Film that covers less than a thousandth of the height of the slice is left out.
/// Special cases: stuck = nothing happens, to the last bit; friction 0 = equal sums on all faces.
/// Pinned by tests/unit/corner_recheck_test.cpp and tests/consistency (SciPy).
class CornerRecheck {
 public:
  CornerRecheck(const StackSetup& setup, const CornerFriction& friction);

  /// True when no interface of any slice is beyond its limit by more than a hundredth of the tolerance. No allocation.
  [[nodiscard]] bool holds(const LoadStack& stack) const;

  /// Lets film slip and the load settle until no interface is beyond its limit. Elastic: takes no time. The greatest
  /// tension moved, relative to the greatest face tension, is returned. Where no rest is found (loads so soft that most
  /// film is slack) everything stays as it was, and it counts as a failure.
  double slip(LoadStack& stack, double temperature, double path_factor);

  /// Tension per height that slips gave a face of a slice, N/m, summed over all calls.
  [[nodiscard]] double tension_change(std::size_t slice, std::size_t face) const {
    return slice < change_.size() ? change_[slice][face] : 0.0;
  }
  [[nodiscard]] std::size_t slips() const { return slips_; }        ///< calls in which film moved
  [[nodiscard]] std::size_t failures() const { return failures_; }  ///< calls in which film found no rest
  /// Work on slips so far, in branch updates that take as long; beyond the limit slips find no rest.
  [[nodiscard]] double work() const { return products_ / 25.0; }
  void limit_work(double most) { most_work_ = most; }

 private:
  [[nodiscard]] bool holds(const LoadStack::Slice& slice) const;
  [[nodiscard]] LayerSlip problem(const LoadStack::Slice& slice, double temperature) const;
  bool find_rest(const std::vector<LoadStack::Slice>& start, LoadStack& stack, double temperature, double path_factor);
  double note_change(const LoadStack& stack, const std::vector<LoadStack::Slice>& start);
  bool settle_with(const std::vector<LayerSlip>& at_start, const std::vector<std::vector<double>>& slip,
                   const std::vector<LoadStack::Slice>& start, LoadStack& stack, double temperature,
                   double path_factor) const;
  /// False when more film would leave a piece than it has.
  bool move_film(const LayerSlip& problem, const std::vector<double>& slip, LoadStack::Slice& slice) const;

  StackSetup setup_;
  double load_limit_, film_limit_;  ///< mu pi/2
  double load_ratio_, film_ratio_;  ///< greatest ratio of sums that is let be
  double slack_stress_;             ///< Pa: a slice without more of it is slack
  bool stuck_;
  std::vector<std::array<double, face_count>> change_;
  std::size_t slips_ = 0, failures_ = 0;
  double products_ = 0.0;  ///< of the slips solved
  double most_work_ = std::numeric_limits<double>::infinity();
};

}  // namespace hoopfield
