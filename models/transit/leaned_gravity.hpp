// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Gravity on a stack of tiers that have shifted and turned: the second-order terms that make a tall stack tip.
#pragma once

namespace hoopfield {

/// With P_i the weight above interface i, M_i the mass above it, d_i the offset and th_i the rotation of tier i,
///
///     V = -g sum_j m_j (sum_(k<j) h_k th_k^2/2 + h_j th_j^2/4) - sum_i P_i d_i (th_i + th_(i-1))/2
///
/// gives across interface i the shear `-P_i (th_i + th_(i-1))/2`, and on tier i the moment
/// `th_i h_i g (M_i - m_i/2) + (P_i d_i + P_(i+1) d_(i+1))/2`.
/// Pinned by tests/unit/transit_bed_test.cpp, which differentiates V.
[[nodiscard]] inline double leaned_shear(double weight_above, double rotation, double rotation_below) {
  return -0.5 * weight_above * (rotation + rotation_below);
}

struct LeanedTier {
  double height = 0.0, weight = 0.0;                ///< h_i, m; g m_i, N
  double weight_here = 0.0, offset = 0.0;           ///< P_i, N; d_i, m
  double weight_on_top = 0.0, offset_on_top = 0.0;  ///< P_(i+1), d_(i+1); 0 on the uppermost tier
};
[[nodiscard]] inline double leaned_moment(const LeanedTier& tier, double rotation) {
  return rotation * tier.height * (tier.weight_here - 0.5 * tier.weight) +
         0.5 * (tier.weight_here * tier.offset + tier.weight_on_top * tier.offset_on_top);
}

}  // namespace hoopfield
