// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Root of a rising function that may be plus or minus infinite away from the root.
#pragma once

#include "models/error.hpp"

#include <algorithm>
#include <cmath>
#include <string>

namespace hoopfield {

/// Finds x > 0 with f(x) = 0 for rising f, to a relative change below `tolerance`. Values of +-infinity only tell the
/// side, so secants (then inverse parabolas) are drawn through finite points, and bisection (geometric) takes over
/// where there are none. `slope` = rough df/d ln x for the second point; 0 = a point close by. A jump through zero ends
/// at the last x with f < 0. At least three evaluations, so that f may be rough in the first two. Throws SolverError
/// naming `what` after 200 evaluations.
template <class Function>
double increasing_root(Function&& f, double guess, double tolerance, const char* what, double slope = 0.0) {
  double low = 0.0, high = 0.0;                                       // f(low) < 0 < f(high); 0 = not found
  double x0 = NAN, f0 = NAN, x1 = NAN, f1 = NAN, x2 = NAN, f2 = NAN;  // finite points, the last is 2
  double x = guess;
  for (int i = 0; i < 200; ++i) {
    const double value = f(x);
    if (std::isnan(value)) throw SolverError(std::string(what) + " gave no number");
    if (value == 0.0) return x;
    (value < 0.0 ? low : high) = x;
    if (std::isfinite(value)) {
      x0 = x1, f0 = f1, x1 = x2, f1 = f2;
      x2 = x, f2 = value;
    }
    const auto rises = [](double xa, double fa, double xb, double fb) {
      return std::isfinite(fa) && std::isfinite(fb) && (fb > fa) == (xb > xa) && fb != fa;
    };
    double next = NAN;
    if (rises(x1, f1, x2, f2)) {
      const double secant = (x2 - x1) / (f2 - f1);
      next = x2 - f2 * secant;
      if (rises(x0, f0, x1, f1) && f2 != f0)
        next += f2 * f1 * (secant - (x1 - x0) / (f1 - f0)) / (f2 - f0);  // Newton's form of the parabola x(f)
    } else if (std::isfinite(f2) && !std::isfinite(f1)) {
      next = slope > 0.0 ? x2 * std::clamp(1.0 - f2 / slope, 0.8, 1.25) : x2 * (f2 < 0.0 ? 1.001 : 0.999);
    }
    if (low > 0.0 && high > 0.0) {
      if (!(next > low && next < high)) next = std::sqrt(low * high);
      if (high - low <= tolerance * high) return std::isfinite(f2) ? x2 : low;
    } else if (!(next > 0.0) || next > 2.0 * x || next < 0.5 * x) {
      next = low > 0.0 ? 1.3 * low : high / 1.3;
    }
    // A secant step errs by about the product of the last two steps, a parabola's by that times some of the step
    // before.
    const double before = std::isfinite(x1) ? std::abs(x2 - x1) / x : 1.0;
    const double third = std::isfinite(x0) ? 30.0 * std::abs(x1 - x0) / x : 1.0;
    if (i >= 2 && std::isfinite(value) &&
        std::abs(next - x) * std::min(1.0, before) * std::min(1.0, third) <= tolerance * x)
      return next;
    x = next;
  }
  throw SolverError(std::string(what) + " did not converge");
}

}  // namespace hoopfield
