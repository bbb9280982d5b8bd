// SPDX-License-Identifier: BSD-3-Clause
#include "models/load/closing.hpp"

#include "models/error.hpp"

#include <cmath>

namespace hoopfield {

ClosingCompliance ClosingCompliance::from_stiffness(double along_length, double along_width, double coupling) {
  if (!(along_length > 0.0))
    throw OutOfRange("load.stiffness_along_length: out of range; expected more than 0 Pa", {}, 0, 0,
                     "load.stiffness_along_length");
  if (!(along_width > 0.0))
    throw OutOfRange("load.stiffness_along_width: out of range; expected more than 0 Pa", {}, 0, 0,
                     "load.stiffness_along_width");
  ClosingCompliance c;
  if (coupling == 0.0 || std::isinf(along_length) || std::isinf(along_width)) {
    c.length_length = std::isinf(along_length) ? 0.0 : 1.0 / along_length;
    c.width_width = std::isinf(along_width) ? 0.0 : 1.0 / along_width;
    return c;
  }
  const double determinant = along_length * along_width - coupling * coupling;
  if (!(determinant > 0.0))
    throw OutOfRange(
        "load.stiffness_coupling: out of range; expected less than the geometric mean of the two stiffnesses", {}, 0, 0,
        "load.stiffness_coupling");
  c.length_length = along_width / determinant;
  c.width_width = along_length / determinant;
  c.length_width = -coupling / determinant;
  return c;
}

CreepLadder::CreepLadder(double per_decade, double start, double horizon) {
  if (per_decade == 0.0) return;
  for (int k = -3;; ++k) {
    const double tau = start * std::pow(10.0, 0.5 * k);
    time.push_back(tau);
    weight.push_back(0.5 * per_decade * std::exp(-start / tau));
    // Beyond the horizon the terms still share t/tau each; two decades more leave less than 0.4 % of a decade out.
    if (tau > 100.0 * (horizon + start)) break;
  }
}

}  // namespace hoopfield
