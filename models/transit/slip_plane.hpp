// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Film across a horizontal plane between two tiers that slide over each other.
#pragma once

#include <array>

namespace hoopfield {

/// Saturating line `hyp(x, y) = x/(1 + x/y)`: x for small x, y for large x; 0 where y is 0.
[[nodiscard]] double saturating(double linear, double limit);

/// What holds film across one slip plane. SI; the two side panels that run along the motion are counted together.
struct SlipPlaneInput {
  double side = 0.0;            ///< b, side of the load along the motion, m, > 0
  double tension = 0.0;         ///< N, hoop tension on the side faces at the plane, N/m, >= 0
  double stiffness = 0.0;       ///< EA at the rate of the motion, N/m, >= 0: N = EA e, so dN/d(ln stretch) = EA + N
  double film_above = 0.0;      ///< D_top, height of film above the plane, m; <= 0: no film across it
  double film_below = 0.0;      ///< D_bot, height of film below it, film on the pallet included, m
  double hold_above = 0.0;      ///< V_up, greatest vertical force that film above the plane can hand to the load, N
  double hold_below = 0.0;      ///< V_dn, N
  bool held_at_top = false;     ///< the upper film edge is folded over and held
  bool held_at_bottom = false;  ///< the lower film edge is locked to the pallet
};

/// Shear force of film across a slip plane over the slip s, loading: `F(s) = k0 s/(1 + k0 s/F_inf)`.
///
/// Each side panel is a sheet with hoop stiffness EA and shear stiffness G = EA/3 whose vertical edges move with the
/// tiers: s above the plane, 0 below. `EA u_xx + G u_zz = 0` on a strip of width b, the steps of both edges summed,
/// gives with S = sqrt(EA G)
///
///     k0    = (4/pi) S (1.3 ln cot(pi r/(2b)) - [free top] ln coth(sqrt(3) pi D_top/b)
///                                             - [free bottom] ln coth(sqrt(3) pi D_bot/b)),  r = 0.02 m
///     F_inf = 1.5 sqrt(2 b N V),  V = min(V_up, V_dn)
///
/// 1.3, r and 1.5 are one calibration against a membrane mesh (no compression, Coulomb friction at the corners): within
/// 10 % for 3 to 30 mm with friction 0.15 to 0.6 on the goods, 5 to 17 % low by 60 mm; a held edge adds to what the law
/// says (15 to 20 %). A plane that slides presses its tiers together by `V_f = min(F^2/(2 b N), V)`.
///
/// A panel holds tension only, one panel for each sense. Below its greatest slip s_m it unloads and reloads on the
/// straight line from (s_m, F(s_m)) to (p, 0), `p = 0.33 (s_m - F(s_m)/k0)`, and carries nothing below p.
/// Special cases: N = 0, EA = 0 or no film on one side of the plane give no force at all.
/// Source: derived in this project; every equation is pinned by tests/unit/transit_film_test.cpp.
class SlipPlane {
 public:
  SlipPlane() = default;
  explicit SlipPlane(const SlipPlaneInput& input);

  [[nodiscard]] double stiffness() const { return stiffness_; }      ///< k0, N/m
  [[nodiscard]] double greatest_force() const { return greatest_; }  ///< F_inf, N
  [[nodiscard]] double hold() const { return hold_; }                ///< V, N
  /// F on first loading, odd in slip, N.
  [[nodiscard]] double first_loading(double slip) const;
  /// V_f, N, >= 0.
  [[nodiscard]] double clamp(double force) const;

  /// Greatest slip that the panel of each sense has seen: [0] of positive, [1] of negative slip, m, >= 0.
  using Memory = std::array<double, 2>;
  /// Force at a slip after what `memory` holds, which is brought up to date, N; against positive slip positive.
  [[nodiscard]] double force(double slip, Memory& memory) const;

 private:
  [[nodiscard]] double panel(double slip, double& greatest_slip) const;

  double stiffness_ = 0.0, greatest_ = 0.0, hold_ = 0.0;
  double clamp_per_force2_ = 0.0;  ///< 1/(2 b N), 1/N
};

/// Vertical force of film over a rear edge that lifts by u, at both rear corners together:
///
///     V_r = V_inf r (2/pi) (asin y + y arcosh(1/y))  for y = x/r <= 1,  else V_inf x;  at most V_inf
///     x = 4 EA u/(3 V_inf),  V_inf = 1.25 V/2,  r = min(1, (2 sqrt2/pi) b/H)
///
/// Film at a corner is a sheet with vertical stiffness EA_z = EA/(1 - nu^2) = 4/3 EA and shear stiffness G = EA/3 in
/// which each height moves up by w: `EA_z w_zz + G w_xx = 0` on both sides of the corner. Above the plane the corner
/// has gone up by u, below it has not. Friction hands over at most tau per height of corner, so film slides up to a
/// height l on either side of the plane (there tau acts) and goes with the goods beyond it: w = u above, 0 below. That
/// mixed problem has `u = tau l/S`, S = sqrt(EA_z G) = 2/3 EA, and the goods hand over `tau (2/pi) asin(l/z)` at a
/// height z beyond l. Summed up to where film ends, with tau H = V_inf/2 at each of two corners and x = l/H, this is
/// V_r; from x = 1 on all film slides. Film ends at its free edge, H, or, where that is far, at the other end of its
/// panels: those of the sides end it at `2 b/pi` (the front corner does not lift), the rear one, both of whose corners
/// do, at `4 W/pi`, together at the geometric mean, with the other side W of the load taken as b. V_inf alone is
/// measured on a membrane mesh: friction along two of four corners, and a quarter more because lifted film is tighter.
///
/// Within 13 % of a membrane mesh from 4 to 30 mm, up to 21 % low at 1 mm with little film
/// (tests/consistency/transit_mesh.py). Special cases: no film or no hold gives nothing.
/// Source: derived in this project; pinned by tests/unit/transit_film_test.cpp.
struct EdgeLift {
  double stiffness = 0.0;  ///< 2 S, both corners, N/m
  double greatest = 0.0;   ///< V_inf, N
  double reach = 1.0;      ///< r
  EdgeLift() = default;
  /// \param film_stiffness EA, N/m \param hold V, N \param film_height H, m, that friction needs for V \param side b, m
  EdgeLift(double film_stiffness, double hold, double film_height, double side);
  [[nodiscard]] double force(double lift) const;
};

}  // namespace hoopfield
