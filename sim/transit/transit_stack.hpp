// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A wrapped stack of tiers on a pallet that is blocked to the vehicle, and the laws of its interfaces. SI throughout.
#pragma once

#include "models/transit/shear_slip.hpp"
#include "models/transit/slip_plane.hpp"

#include <cstddef>
#include <vector>

namespace hoopfield {

/// One tier of goods with the interface under it and the film beside it.
struct TransitTier {
  double height = 0.0;        ///< m
  double mass = 0.0;          ///< kg
  double friction = 0.0;      ///< mu_s of the interface under it
  double hoop_tension = 0.0;  ///< N/m, of the faces that run along the motion, mean over its height (0 where bare)
  double stiffness = 0.0;     ///< EA of that film at the rate of a blow, N/m
};

/// What a stack in one direction of motion is made of; tier 0 stands on the pallet.
struct TransitStack {
  std::vector<TransitTier> tiers;
  double side = 0.0;              ///< b, m, along the motion
  double sliding_share = 0.75;    ///< mu_k/mu_s
  double sway_stiffness = 1.5e6;  ///< shear stiffness of a tier, N/m
  double tier_stiffness = 4e6;    ///< vertical stiffness of a tier, N/m
  double damping = 0.1;           ///< zeta of the slowest sway
  double bearing_share = 0.92;    ///< eta, of the side that bears
  int columns = 1;                ///< of goods side by side along the motion; 1 = interlocked
  double case_friction = 0.45;    ///< between columns
  double film_friction = 0.35;    ///< of film on the goods' corners
  double film_bottom = -0.1;      ///< m above the deck; negative: film on the pallet
  double film_top = 0.0;          ///< m above the deck
  double pallet_lock = 0.0;       ///< N, film held to the pallet
  double top_fold_hold = 0.0;     ///< N, film held over the top

  [[nodiscard]] double height() const;
  [[nodiscard]] double mass() const;
};

/// Laws of interface i (under tier i), ready for use.
struct InterfaceLaw {
  double mass_above = 0.0;    ///< M_i, kg
  double height = 0.0;        ///< m above the deck
  double centre_above = 0.0;  ///< height of the centre of that mass above the interface, m
  ShearSlip shear;
  SlipPlane film;
  EdgeLift lift;
  double bed_stiffness = 0.0;     ///< k_w, N/m^2
  double rocking_damping = 0.0;   ///< c_R, N m s
  double column_stiffness = 0.0;  ///< of vertical slip between columns of tier i, N/m
  double column_limit = 0.0;      ///< its greatest force, N
};

/// The laws of all interfaces, from below. Throws OutOfRange for a stack without tiers, sides or mass.
///
/// Shear stiffness of an interface is that of two half tiers in series (k_shear; 2 k_shear on the pallet); damping is
/// `c = 2 zeta k/w1` with `w1 = 2 sqrt(k_shear/m) sin(pi/(2(2T + 1)))`, rocking `c_R = 2 zeta k_w (eta b/n)^3 n/(12
/// w1)`, m the mean mass of a tier; `k_w = k_vert/b`, twice that on the pallet. Film that holds: `V_up = 4 sqrt2 mu_c
/// sum_(j>=i) N_j h_j + V_top`, `V_dn = 4 sqrt2 mu_c (sum_(j<i) N_j h_j + N_1 h_pal) + V_lock`. Pinned by
/// tests/unit/transit_film_test.cpp.
[[nodiscard]] std::vector<InterfaceLaw> interface_laws(const TransitStack& stack);

/// w1, rad/s.
[[nodiscard]] double slowest_sway(const TransitStack& stack);

/// w_max, rad/s: the greatest angular frequency of the stack at rest.
[[nodiscard]] double fastest_mode(const TransitStack& stack, const std::vector<InterfaceLaw>& laws);

/// zeta that is left where dampers in proportion to stiffness would ask for steps below 1e-5 s: what such a step bears,
/// but never less than five times critical damping of the fastest mode, which does not swing then:
/// `min(zeta, max(5, 0.8/(2e-5 s w_max)) w1/w_max)`; own assumption. Goods that are not both stiff and light keep
/// theirs.
[[nodiscard]] double bounded_damping(const TransitStack& stack, double fastest);

/// Longest step of semi-implicit Euler: `min(2.5e-4 s, 0.8/w_max, 0.8 w1/(2 zeta w_max^2))`, zeta as bounded_damping().
[[nodiscard]] double stable_step(const TransitStack& stack, double fastest);

}  // namespace hoopfield
