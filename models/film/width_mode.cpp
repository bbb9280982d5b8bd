// SPDX-License-Identifier: BSD-3-Clause
#include "models/film/width_mode.hpp"

#include <cmath>

namespace hoopfield {

WidthMode WidthMode::power(double exponent) {
  WidthMode mode;
  const double n = exponent;
  mode.is_free = false;
  mode.exponent = n;
  mode.m = (2.0 / 3.0) * (2.0 - n);
  mode.c = std::sqrt((2.0 / 3.0) * (1.0 + n * n + (1.0 - n) * (1.0 - n)));
  return mode;
}

WidthMode WidthMode::free(double shape) {
  WidthMode mode;
  mode.shape = shape;
  return mode;
}

double WidthMode::invariant(double l) const { return at(l).invariant; }
double WidthMode::invariant_log_slope(double l) const { return at(l).invariant_log_slope; }
double WidthMode::drive(double l) const { return at(l).drive; }
double WidthMode::drive_log_slope(double l) const { return at(l).drive_log_slope; }

WidthMode::Values WidthMode::at(double l) const {
  const double l2 = l * l;
  if (is_free) {
    const double ql = shape / l;
    return {l2 + 2.0 * ql, 2.0 * (l2 - ql), l2 - ql, 2.0 * l2 + ql};
  }
  const double n = exponent;
  const double side = std::pow(l, -2.0 * n), through = 1.0 / (l2 * side);
  return {l2 + side + through, 2.0 * l2 - 2.0 * n * side + (2.0 * n - 2.0) * through, l2 - through,
          2.0 * l2 - (2.0 * n - 2.0) * through};
}

double released_width_factor(double draw_ratio, double exponent, double mean_branch_strain) {
  const double width = std::pow(draw_ratio, -exponent) * std::exp(-(0.5 - exponent) * mean_branch_strain);
  return width * std::sqrt(draw_ratio);
}

double shape_from_width_factor(double width_factor) {
  const double square = width_factor * width_factor;
  return 0.5 * (square + 1.0 / square);
}

}  // namespace hoopfield
