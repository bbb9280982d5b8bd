// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Root of a rising function that may be plus or minus infinite away from the root.
#pragma once

#include "models/error.hpp"

#include <algorithm>
#include <cmath>
#include <string>

namespace hoopfield {

/// Finds x > 0 with f(x) = 0 for rising f, to a relative change below `tolerance`. Values of +-infinity only tell the side,
/// so secants are drawn through finite points and bisection (geometric) takes over where there are none.
/// A jump through zero ends at the last x with f < 0. Throws SolverError naming `what` after 200 evaluations.
template <class Function>
double increasing_root(Function&& f, double guess, double tolerance, const char* what) {
  double low = 0.0, high = 0.0;          // f(low) < 0 < f(high); 0 = not found
  double x1 = 0.0, f1 = NAN, x0 = 0.0, f0 = NAN;  // last two finite points
  double x = guess;
  for (int i = 0; i < 200; ++i) {
    const double value = f(x);
    if (std::isnan(value)) throw SolverError(std::string(what) + " gave no number");
    if (value == 0.0) return x;
    (value < 0.0 ? low : high) = x;
    if (std::isfinite(value)) {
      x0 = x1, f0 = f1;
      x1 = x, f1 = value;
    }
    double next = NAN;
    if (std::isfinite(f0) && std::isfinite(f1) && (f1 > f0) == (x1 > x0) && f1 != f0)
      next = x1 - f1 * (x1 - x0) / (f1 - f0);
    else if (std::isfinite(f1) && !std::isfinite(f0))
      next = x1 * (f1 < 0.0 ? 1.0 : -1.0) * 1e-3 + x1;
    if (low > 0.0 && high > 0.0) {
      if (!(next > low && next < high)) next = std::sqrt(low * high);
      if (high - low <= tolerance * high) return std::isfinite(f1) ? x1 : low;
    } else if (!(next > 0.0) || next > 2.0 * x || next < 0.5 * x) {
      next = low > 0.0 ? 1.3 * low : high / 1.3;
    }
    // A secant step errs by about the product of the last two steps.
    const double before = std::isfinite(x0) && x0 > 0.0 ? std::abs(x1 - x0) / x : 1.0;
    if (std::isfinite(value) && std::abs(next - x) * std::min(1.0, before) <= tolerance * x) return next;
    x = next;
  }
  throw SolverError(std::string(what) + " did not converge");
}

}  // namespace hoopfield
