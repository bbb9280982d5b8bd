// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Numbers that carry their derivatives through a formula (forward differentiation).
#pragma once

#include <array>
#include <cmath>
#include <cstddef>

namespace hoopfield {

/// A value and its derivatives by `Count` variables. Formulas written for `double` take it unchanged.
template <std::size_t Count>
struct Dual {
  double value = 0.0;
  std::array<double, Count> by{};

  Dual() = default;
  Dual(double constant) : value(constant) {}  // NOLINT: mixes with constants
  /// `value` seen as variable number `index`, whose own derivative is `rate`.
  static Dual variable(double value, std::size_t index, double rate = 1.0) {
    Dual x(value);
    x.by[index] = rate;
    return x;
  }
  /// f(x) with its value and slope known.
  [[nodiscard]] Dual chained(double function, double slope) const {
    Dual out(function);
    for (std::size_t i = 0; i < Count; ++i) out.by[i] = slope * by[i];
    return out;
  }
  /// f(a, b) with its value and both slopes known.
  static Dual chained(const Dual& a, const Dual& b, double function, double by_a, double by_b) {
    Dual out(function);
    for (std::size_t i = 0; i < Count; ++i) out.by[i] = by_a * a.by[i] + by_b * b.by[i];
    return out;
  }

  friend Dual operator+(const Dual& a, const Dual& b) { return chained(a, b, a.value + b.value, 1.0, 1.0); }
  friend Dual operator-(const Dual& a, const Dual& b) { return chained(a, b, a.value - b.value, 1.0, -1.0); }
  friend Dual operator*(const Dual& a, const Dual& b) { return chained(a, b, a.value * b.value, b.value, a.value); }
  friend Dual operator/(const Dual& a, const Dual& b) {
    const double ratio = a.value / b.value, per = 1.0 / b.value;
    return chained(a, b, ratio, per, -ratio * per);
  }
  friend Dual operator+(const Dual& a, double b) { return a.chained(a.value + b, 1.0); }
  friend Dual operator+(double a, const Dual& b) { return b.chained(a + b.value, 1.0); }
  friend Dual operator-(const Dual& a, double b) { return a.chained(a.value - b, 1.0); }
  friend Dual operator-(double a, const Dual& b) { return b.chained(a - b.value, -1.0); }
  friend Dual operator*(const Dual& a, double b) { return a.chained(a.value * b, b); }
  friend Dual operator*(double a, const Dual& b) { return b.chained(a * b.value, a); }
  friend Dual operator/(const Dual& a, double b) { return a.chained(a.value / b, 1.0 / b); }
  friend Dual operator/(double a, const Dual& b) {
    const double ratio = a / b.value;
    return b.chained(ratio, -ratio / b.value);
  }
  friend Dual operator-(const Dual& a) { return a.chained(-a.value, -1.0); }
  Dual& operator+=(const Dual& b) { return *this = *this + b; }
  Dual& operator-=(const Dual& b) { return *this = *this - b; }

  friend bool operator<(const Dual& a, const Dual& b) { return a.value < b.value; }
  friend bool operator>(const Dual& a, const Dual& b) { return a.value > b.value; }
  friend bool operator>=(const Dual& a, const Dual& b) { return a.value >= b.value; }
  friend bool operator==(const Dual& a, const Dual& b) { return a.value == b.value; }

  friend Dual abs(const Dual& a) { return a.chained(std::abs(a.value), a.value < 0.0 ? -1.0 : 1.0); }
  friend Dual sqrt(const Dual& a) {
    const double root = std::sqrt(a.value);
    return a.chained(root, 0.5 / root);
  }
  friend Dual exp(const Dual& a) {
    const double power = std::exp(a.value);
    return a.chained(power, power);
  }
  friend Dual expm1(const Dual& a) {
    const double growth = std::expm1(a.value);
    return a.chained(growth, growth + 1.0);
  }
  friend Dual log(const Dual& a) { return a.chained(std::log(a.value), 1.0 / a.value); }
  friend Dual log1p(const Dual& a) { return a.chained(std::log1p(a.value), 1.0 / (1.0 + a.value)); }
};

}  // namespace hoopfield
