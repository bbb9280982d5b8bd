// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Pre-stretch: the draw of film between two rollers under a constant force.
#pragma once

#include "models/film/film_law.hpp"

#include <vector>

namespace hoopfield {

/// What the draw needs. Lengths in m, speeds in m/s, temperatures in K.
struct DrawInput {
  const FilmLaw* law = nullptr;
  double ratio = 1.0;            ///< v2/v1 = stretch at the end of the gap, film entering unstretched; > 1
  double gap = 0.05;             ///< d, > 0
  double roller_speed_1 = 1.0;   ///< v1, > 0; not used by draw_at_stress
  double slowest = 0.0;          ///< draw_at_stress gives up on a force that draws more slowly than this, m/s
  double width_exponent = 0.0;   ///< n_d, 0..0.5
  double temperature = 296.15;   ///< of the film entering
  double volumetric_heat = 0.0;  ///< rho cp, J/m^3/K; 0 = isothermal
  double entropic_share = 1.0;   ///< theta
  double tolerance = 1e-8;       ///< relative, on the force
};

/// One point of the gap.
struct DrawPoint {
  double position = 0.0;  ///< x, m
  double stretch = 1.0;
  double temperature = 0.0;  ///< K
};

struct DrawResult {
  double nominal_stress = 0.0;  ///< P1, Pa, the same all along the gap
  double roller_speed_1 = 0.0;  ///< v1, m/s
  FilmState exit;               ///< at the entry of roller 2, gap mode, warm
  double exit_temperature = 0.0;
  double work = 0.0;       ///< mechanical work per volume of film, J/m^3
  double sharpness = 0.0;  ///< least l/|dl/dx|, m
  bool is_jump = false;    ///< the ratio is reached elastically as the film enters, at any roller speed
  std::vector<DrawPoint> profile;
};

/// Solves the draw: every point of the film obeys `P(l, e, T) = P1`, moves with `dx/dt = v1 l/l_in` (l_in = 1), and P1
/// is the force for which l = ratio at x = d. With `f_k` the flow rates, `B = sum m E_k e_k` and `tau = dt/d ln l`,
/// differentiating the constant force at fixed T gives
/// `tau = (H + sum m E_k - P1 l) / (sum m E_k f_k)`, `d e_k/d ln l = 1 - f_k tau`, `H = d s_net/d ln l`;
/// with heat of drawing `rho cp dT/d ln l = B-weighted flow + theta s_net`, that is
/// `rho cp dT/d ln l = sum m E_k e_k f_k tau + theta s_net`, and softening `beta = (b_G s_net + b_E B)/(rho cp)`:
/// `tau = (H + sum m E_k - P1 l - beta theta s_net) / (sum m E_k f_k (1 + beta e_k))`.
/// The film enters by an elastic jump from l = 1 to P1. ln l is the independent variable, so the singular start is no
/// more than a very small tau; Boost.Odeint (runge_kutta_dopri5, own error control) integrates t, x, e, T over ln l.
///
/// Special cases: a law without branches jumps to the ratio at once (P1 = P(ratio)). Newtonian limit
/// `v = v1 ratio^(x/d)`. Pinned by tests/unit/draw_test.cpp and tests/consistency (SciPy).
/// Throws SolverError when the film necks without bound (`H + sum m E_k - P1 l <= 0`) or cannot reach the ratio.
[[nodiscard]] DrawResult draw(const DrawInput& input);

/// The same for a given force: the roller speed follows. A force that cannot reach the ratio, or only below `slowest`
/// (where relaxed fast branches make the equations stiff), gives speed 0, a force that jumps past it or necks without
/// bound an infinite speed; the exit state is then not meaningful.
[[nodiscard]] DrawResult draw_at_stress(const DrawInput& input, double nominal_stress, bool keep_profile);

/// draw_at_stress for the trials of a search: the first two only need to point the way.
class RoughFirst {
 public:
  explicit RoughFirst(const DrawInput& input) : input_(input) {}
  DrawResult operator()(double nominal_stress);

 private:
  DrawInput input_;
  int count_ = 0;
};

/// Film that reaches the ratio by an elastic jump as it enters the gap (no heat of drawing): what is left of the draw
/// for a law without branches, or when nothing flows in the time the gap allows.
[[nodiscard]] DrawResult elastic_draw(const DrawInput& input);

/// The draw at the force a search has ended at, with its profile: an elastic jump where `nominal_stress` is the one
/// film at the ratio carries there. Throws SolverError when the film necks without bound.
[[nodiscard]] DrawResult settled_draw(const DrawInput& input, double nominal_stress);

/// Throws SolverError when the ratio is beyond the stretch limit of the film's network.
void require_reachable(const DrawInput& input);

/// Rough rise of ln(roller speed) over ln(force), to start searches with; rather too steep than too flat, for a force
/// far too small is slow to follow.
inline constexpr double speed_over_force = 25.0;

/// Nominal stress to start a search at: network at the ratio plus the flow stress at the mean rate `v1 ln(ratio)/d`.
[[nodiscard]] double draw_stress_guess(const DrawInput& input);

}  // namespace hoopfield
