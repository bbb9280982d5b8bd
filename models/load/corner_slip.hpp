// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Film slipping round the corners of the load: capstan limits as a convex minimum, independent of the order of
/// corners.
#pragma once

#include <cstddef>
#include <functional>
#include <vector>

namespace hoopfield {

/// Tension of a face as a function of the film on it.
struct LogTension {
  double value = 0.0;  ///< ln T (any unit, the same for all faces)
  double slope = 0.0;  ///< d ln T / d m, 1/m of unstretched length, < 0
};

/// ln T of face `face` when it holds `mass` metres of unstretched film. Must be finite and falling in `mass`: a face
/// that runs slack returns the logarithm of a small positive floor.
using FaceTension = std::function<LogTension(std::size_t face, double mass)>;

/// Film after one increment of slip.
struct CornerSlip {
  std::vector<double> slip;  ///< m of unstretched film through each corner, from face c to face c + 1
  std::vector<double> mass;  ///< m of unstretched film on each face afterwards; the sum is kept
  std::size_t iterations = 0;
};

/// One increment of slip in a chain of faces 0..n-1 joined by corners 0..n-2 (corner c between faces c and c + 1).
///
/// The slips minimise `sum_f phi_f(m_f) + sum_c mu_c beta_c |delta_c|` with `phi_f'(m) = -ln T_f(m)` and
/// `m_f = m_f,old + delta_(f-1) - delta_f`. The minimum is unique because T falls with m; its conditions are
/// `|ln(T_(c+1)/T_c)| <= mu_c beta_c`, with equality at +-mu_c beta_c where film slips forwards or backwards: Euler's
/// capstan law, whatever the film law. Unstretched length is conserved by construction.
/// \param mass   unstretched film on each face before the increment, m, > 0
/// \param limit  mu beta of each corner, >= 0; infinity = stuck. Size one less than mass.
/// Special cases: limit 0 everywhere gives one tension; infinity gives no slip at all.
/// Throws SolverError when the conditions are not met to `tolerance` (in ln T).
/// Source: capstan law Euler-Eytelwein; the minimum principle derived in this project. Pinned by
/// tests/unit/corner_slip_test.cpp.
[[nodiscard]] CornerSlip slip_corners(const std::vector<double>& mass, const std::vector<double>& limit,
                                      const FaceTension& tension, double tolerance = 1e-12);

/// The same minimum by plain coordinate descent, corner by corner, forwards or backwards: slow, and independent of
/// slip_corners, which falls back on it. Both orders reach the same minimum.
[[nodiscard]] CornerSlip slip_corners_by_sweeps(const std::vector<double>& mass, const std::vector<double>& limit,
                                                const FaceTension& tension, bool backwards, double tolerance = 1e-12);

/// Greatest excess of |ln(T_(c+1)/T_c)| over its limit, 0 when no corner wants to slip.
[[nodiscard]] double greatest_excess(const std::vector<double>& log_tension, const std::vector<double>& limit);

}  // namespace hoopfield
