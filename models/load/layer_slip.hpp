// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Layers of film slipping round corners that share faces: capstan limits on sums outside every interface.
#pragma once

#include <array>
#include <cstddef>
#include <vector>

namespace hoopfield {

/// Film of one passage of one face: the piece of a strand between two corners.
struct StrandPiece {
  double weight = 0.0;        ///< m, > 0: tension per height of load = weight * stress
  double mass = 0.0;          ///< m of unstretched film between the corners, > 0
  double stress = 0.0;        ///< nominal, Pa, >= 0, at the slips given
  double slope = 0.0;         ///< d stress / d ln stretch, elastic, Pa, > 0
  std::size_t direction = 0;  ///< 0 or 1: direction in which the load closes under it
};

/// A corner passed by a strand, and the interface under it there.
struct Crossing {
  std::size_t from = 0, to = 0;  ///< pieces before and behind the corner
  double weight = 0.0;           ///< m, > 0: the part of the height that both pieces cover
  std::size_t corner = 0;
  double limit = 0.0;  ///< mu beta of the interface under the film here; infinity = stuck
};

/// All that can slip in one slice of load. Crossings of a corner stand innermost first.
struct LayerSlip {
  std::vector<StrandPiece> pieces;
  std::vector<Crossing> crossings;
  /// Fall of ln(path) in a direction per N/m of strand tension sum in a direction: how the load gives; 0 = rigid.
  std::array<std::array<double, 2>, 2> give{};
  double slack = 0.0;  ///< N/m: what a difference of sums may be beyond its limit where next to nothing pulls any more
};

/// Slip at every interface, m of unstretched film by which all film outside it has moved from `from` to `to`, so that
/// on the film's tangent no interface is beyond its limit and those that slip stand at it:
/// with A, B the sums of `weight * stress` of the crossings of a corner outside interface j,
/// `|B - A| <= tanh(mu_j beta/2) (A + B)`, which is `|ln(B/A)| <= mu_j beta`; equality with the sign of the slip where
/// it is not 0. Length through crossing k: the sum of the slips of the interfaces under it (crossing_lengths()).
///
/// With the friction forces `tanh(mu beta/2) (A + B)` held, these are the conditions of a convex minimum (stress falls
/// as film comes in), so no order of corners or layers matters. The forces are found along: A + B hardly changes, as
/// what one face loses the other gains. In logarithms there is no such minimum for many layers: the slope of ln(B/A) at
/// one interface with the slip of another depends on which is which.
/// \param slip  slips at which the stresses of `problem` were taken, one per crossing
/// Special cases: all limits 0 give equal sums everywhere; infinite limits give back `slip` unchanged.
/// Source: capstan law Euler-Eytelwein; the rest derived in this project. Pinned by tests/unit/layer_slip_test.cpp.
/// Where no solution is found, the best after many sweeps; layer_slip_violation() tells.
/// \param products  when given, grows by the number of products of two numbers that it took, roughly
[[nodiscard]] std::vector<double> solve_layer_slip(const LayerSlip& problem, const std::vector<double>& slip,
                                                   double* products = nullptr);

/// The same by sweeps over the interfaces, one after the other, forwards or backwards: slow, and what
/// solve_layer_slip() falls back on. Both orders end at the same slips. Throws SolverError when they do not settle.
[[nodiscard]] std::vector<double> sweep_layer_slip(const LayerSlip& problem, const std::vector<double>& slip,
                                                   bool backwards);

/// Unstretched length that passes each crossing (m, from `from` to `to`): the slips of all interfaces under it.
[[nodiscard]] std::vector<double> crossing_lengths(const LayerSlip& problem, const std::vector<double>& slip);

/// Greatest distance from the conditions above at the stresses of `problem`, over all interfaces, in ln(B/A) to first
/// order; nothing within `slack`.
[[nodiscard]] double layer_slip_violation(const LayerSlip& problem, const std::vector<double>& slip);

}  // namespace hoopfield
