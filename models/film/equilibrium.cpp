// SPDX-License-Identifier: BSD-3-Clause
#include "models/film/equilibrium.hpp"

#include "models/error.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace hoopfield {

double GentNetwork::stretch_limit(const WidthMode& mode) const {
  if (parameters_.modulus == 0.0) return std::numeric_limits<double>::infinity();
  // I1 rises and bends upwards beyond its least value: Newton's steps from above never pass the root.
  double stretch = 2.0 + std::sqrt(parameters_.stretch_limit + 3.0);
  for (int i = 0; i < 100; ++i) {
    const WidthMode::Values at = mode.at(stretch);
    if (!(at.invariant_log_slope > 0.0)) return 1.0;  // past the least value: no stretch at all
    const double step = (at.invariant - 3.0 - parameters_.stretch_limit) * stretch / at.invariant_log_slope;
    if (!(step > 1e-15 * stretch)) break;
    stretch -= step;
    if (!(stretch > 1.0)) return 1.0;
  }
  return stretch;
}

TabulatedCurve::TabulatedCurve(std::vector<CurvePoint> points) : points_(std::move(points)) {
  const std::size_t n = points_.size();
  if (n < 2) throw InputError("curve: at least two points are needed");
  std::vector<double> secant(n - 1);
  for (std::size_t i = 0; i + 1 < n; ++i) {
    const double run = points_[i + 1].stretch - points_[i].stretch;
    const double rise = points_[i + 1].nominal_stress - points_[i].nominal_stress;
    if (!(run > 0.0)) throw InputError("curve: stretch must rise from point to point");
    if (!(rise > 0.0))
      throw InputError(
          "curve: stress must rise with stretch; where it drops the equilibrium on the load is not unique");
    secant[i] = rise / run;
  }
  slopes_.assign(n, 0.0);
  slopes_.front() = secant.front();
  slopes_.back() = secant.back();
  for (std::size_t i = 1; i + 1 < n; ++i) {
    // Harmonic mean keeps the interpolant monotone.
    slopes_[i] = 2.0 * secant[i - 1] * secant[i] / (secant[i - 1] + secant[i]);
  }
}

EquilibriumStress TabulatedCurve::at(double stretch, const WidthMode&) const {
  const auto next = std::upper_bound(points_.begin(), points_.end(), stretch,
                                     [](double value, const CurvePoint& p) { return value < p.stretch; });
  double nominal = 0.0;
  double slope = 0.0;
  if (next == points_.begin() || next == points_.end()) {
    const std::size_t end = next == points_.begin() ? 0 : points_.size() - 1;
    slope = slopes_[end];
    nominal = points_[end].nominal_stress + slope * (stretch - points_[end].stretch);
  } else {
    const auto i = static_cast<std::size_t>(next - points_.begin()) - 1;
    const CurvePoint& p0 = points_[i];
    const CurvePoint& p1 = points_[i + 1];
    const double run = p1.stretch - p0.stretch;
    const double t = (stretch - p0.stretch) / run;
    const double rise = p1.nominal_stress - p0.nominal_stress;
    const double a = slopes_[i] * run - rise;
    const double b = -slopes_[i + 1] * run + rise;
    nominal = (1.0 - t) * p0.nominal_stress + t * p1.nominal_stress + t * (1.0 - t) * (a * (1.0 - t) + b * t);
    slope = (rise + (1.0 - 2.0 * t) * (a * (1.0 - t) + b * t) + t * (1.0 - t) * (b - a)) / run;
  }
  // True stress s = P l, ds/dln l = l (P + l dP/dl).
  return {nominal * stretch, stretch * (nominal + stretch * slope)};
}

double TabulatedCurve::stretch_limit(const WidthMode&) const { return std::numeric_limits<double>::infinity(); }

}  // namespace hoopfield
