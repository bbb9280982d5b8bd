// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// How a load gives under the film: closing of its plan, with logarithmic creep.
#pragma once

#include <vector>

namespace hoopfield {

/// Closing of a slice under the strand tensions: `(u_l, u_w) = C (S_l, S_w)` with C the inverse of the symmetric matrix
/// `[[k_l, k_c], [k_c, k_w]]`; S_l = sum of the tensions per height (N/m) of the two strands that run along the length.
/// Units: k in Pa (N/m per m), C in m^2/N. An infinite stiffness gives no closing in its direction.
/// Pinned by tests/unit/closing_test.cpp.
struct ClosingCompliance {
  double length_length = 0.0;
  double length_width = 0.0;
  double width_width = 0.0;
  /// Throws OutOfRange when the matrix is not positive definite.
  [[nodiscard]] static ClosingCompliance from_stiffness(double along_length, double along_width, double coupling);
};

/// Load creep `d(t) = C S (1 + c_L log10(1 + t/t_L))` for a tension held from t = 0, hereditary in S, as a Prony
/// ladder.
///
/// From `ln(1+x) = int_0^inf (1 - exp(-x s)) exp(-s)/s ds` with s = t_L/tau, the trapezoidal rule in log10(tau) with
/// two terms a decade gives `log10(1 + t/t_L) = sum_k w_k (1 - exp(-t/tau_k))`, `w_k = exp(-t_L/tau_k)/2`, `tau_k = t_L
/// 10^(k/2)`; the error stays below 2e-3 for t up to the horizon. Dimensionless weights, times in s. Special cases: c_L
/// = 0 has no terms. Pinned by tests/unit/closing_test.cpp.
struct CreepLadder {
  std::vector<double> time;    ///< tau_k, s
  std::vector<double> weight;  ///< c_L w_k
  CreepLadder() = default;
  /// \param per_decade c_L >= 0 \param start t_L, s, > 0 \param horizon longest time of interest, s
  CreepLadder(double per_decade, double start, double horizon);
};

}  // namespace hoopfield
