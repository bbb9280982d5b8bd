// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// How the width of the film follows its stretch.
#pragma once

namespace hoopfield {

/// Kinematics of an incompressible film stretched to l in the machine direction.
///
/// Two modes share one set of formulas:
/// - power mode, width `l^-n` (n = 1/2 free width, n = 0 width held):
///   `I1 = l^2 + l^-2n + l^(2n-2)`, drive `g = l^2 - l^(2n-2)`,
///   `m = (2/3)(2-n)`, `c = sqrt(2/3) sqrt(1 + n^2 + (1-n)^2)`;
/// - free mode after a draw, width `w = W l^-1/2` with W fixed when the film left the draw:
///   `I1 = l^2 + 2 q/l`, `g = l^2 - q/l`, `q = (W^2 + W^-2)/2`, m = c = 1.
/// The free mode with q = 1 is the power mode with n = 1/2. Stretches are dimensionless.
/// Pinned by tests/unit/width_mode_test.cpp.
class WidthMode {
 public:
  [[nodiscard]] static WidthMode power(double exponent);
  [[nodiscard]] static WidthMode free(double shape = 1.0);

  [[nodiscard]] double invariant(double stretch) const;            ///< I1
  [[nodiscard]] double invariant_log_slope(double stretch) const;  ///< d I1 / d ln l
  [[nodiscard]] double drive(double stretch) const;                ///< g
  [[nodiscard]] double drive_log_slope(double stretch) const;      ///< d g / d ln l

  /// All four at once, with one power.
  struct Values {
    double invariant, invariant_log_slope, drive, drive_log_slope;
  };
  [[nodiscard]] Values at(double stretch) const;

  double m = 1.0;         ///< share of an equivalent branch stress seen in the machine direction
  double c = 1.0;         ///< equivalent log rate over machine-direction log rate
  double exponent = 0.5;  ///< n; 0.5 in free mode
  double shape = 1.0;     ///< q; used in free mode only
  bool is_free = true;
};

/// Shape factor q of free film that left a draw of ratio r with width exponent n and branch strains e (moduli E):
/// `w_2 = r^-n exp(-(1/2-n) sum(E e)/sum(E))`, `W = w_2 r^1/2`, `q = (W^2 + W^-2)/2`. Returns W.
[[nodiscard]] double released_width_factor(double draw_ratio, double exponent, double mean_branch_strain);

/// q of a released film from its width factor W.
[[nodiscard]] double shape_from_width_factor(double width_factor);

}  // namespace hoopfield
