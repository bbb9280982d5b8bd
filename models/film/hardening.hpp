// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Growth of flow stress with stretch, `chi = 1 + h (I1 - 3)`, over one step.
#pragma once

#include "models/film/width_mode.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield {

/// Greatest |ln(chi_1/chi_0)| of one step of a branch.
inline constexpr double greatest_log_chi_step = 0.1;

/// chi at the start, the end and the geometric-mean stretch of a step, ln(chi_1/chi_0), and d ln chi_1/d ln l_1.
template <class Number>
struct HardeningStep {
  Number chi0{1.0}, chi1{1.0}, chi_mid{1.0}, log_chi{0.0}, dlog_chi1{0.0};
};

template <class Number>
[[nodiscard]] Number hardening(const Number& share, double stretch, const WidthMode& mode) {
  return 1.0 + share * (mode.invariant(stretch) - 3.0);
}

/// The step from stretch `l0` to `l1`; `share` is h.
template <class Number>
[[nodiscard]] HardeningStep<Number> hardening_step(const Number& share, double l0, double l1, const WidthMode& mode) {
  using std::log;
  HardeningStep<Number> step;
  if (share == 0.0) return step;
  step.chi0 = hardening(share, l0, mode);
  step.chi1 = hardening(share, l1, mode);
  step.chi_mid = hardening(share, std::sqrt(l0 * l1), mode);
  if (!(step.chi1 == step.chi0)) step.log_chi = log(step.chi1 / step.chi0);
  step.dlog_chi1 = share * mode.invariant_log_slope(l1) / step.chi1;
  return step;
}

/// Cuts a move of constant log rate where |ln(chi_1/chi_0)| asks for it, and calls `piece(l0, l1, count)` for each of
/// `count` equal parts of the log stretch `delta`.
template <class Piece>
void cut_by_hardening(double share, double from, double to, double delta, const WidthMode& mode, Piece&& piece) {
  const double log_chi = share == 0.0 ? 0.0 : std::log(hardening(share, to, mode) / hardening(share, from, mode));
  const int count = std::max(1, static_cast<int>(std::ceil(std::abs(log_chi) / greatest_log_chi_step)));
  double l0 = from;
  for (int i = 1; i <= count; ++i) {
    const double l1 = i == count ? to : from * std::exp(delta * i / count);
    piece(l0, l1, count);
    l0 = l1;
  }
}

}  // namespace hoopfield
