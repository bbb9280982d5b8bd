// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The closed-form step of one Eyring branch: the production integrator.
#pragma once

#include <cmath>

namespace hoopfield {

/// Result of a dimensionless branch step.
struct EyringStep {
  double y = 0.0;        ///< reduced stress at the end
  double slope = 0.0;    ///< d y_1 / d alpha
};

/// Exact solution over one step of `dy/ds = alpha - beta sinh(y)`, s from 0 to 1, with constant alpha and beta >= 0.
///
/// With `sigma = sqrt(alpha^2 + beta^2)`, `q = tanh(sigma/2)`, `g = exp(-y_0)` and alpha >= 0:
/// `exp(-y_1) = [g (sigma - alpha q) + beta q] / [(sigma + alpha q) + g beta q]`.
/// alpha < 0: the signs of alpha and y are flipped. `sigma - alpha q = beta^2/(sigma+alpha) + alpha (1-q)` keeps its digits;
/// for y_0 < 0 both brackets are multiplied by exp(y_0), so nothing overflows for |y_0| up to 700.
/// Special cases: beta = 0 gives y_0 + alpha; alpha = 0 gives tanh(y_1/2) = tanh(y_0/2) exp(-beta).
/// Source: Riccati form of the Eyring dashpot under constant rate, derived in this project; check values in
/// tests/unit/eyring_step_test.cpp (against the closed forms, and against Boost.Odeint rosenbrock4).
inline EyringStep eyring_step(double y0, double alpha, double beta) {
  const double sigma = std::sqrt(alpha * alpha + beta * beta);
  if (!(sigma > 0.0)) return {y0, 1.0};
  const double sign = alpha < 0.0 ? -1.0 : 1.0;
  const double a = std::abs(alpha);
  const double y = sign * y0;
  const double growth = std::expm1(sigma < 700.0 ? sigma : 700.0);  // expm1: q of a slow branch is tiny
  const double q = growth / (growth + 2.0);
  const double one_minus_q = 2.0 / (growth + 2.0);
  const double low = beta * beta / (sigma + a) + a * one_minus_q;  // sigma - alpha q
  const double high = sigma + a * q;
  const double decay = std::exp(-std::abs(y));  // exp(-y) or exp(+y), whichever is at most 1
  const double scale_low = y >= 0.0 ? decay : 1.0;
  const double scale_high = y >= 0.0 ? 1.0 : decay;
  const double numerator = scale_low * low + scale_high * beta * q;
  const double denominator = scale_high * high + scale_low * beta * q;
  // d/d alpha of both brackets; d sigma = alpha/sigma, d q = (1 - q^2)/2 d sigma.
  const double dsigma = a / sigma;
  const double dq = 0.5 * one_minus_q * (1.0 + q) * dsigma;
  // 1 - beta^2/(sigma (sigma + alpha)) = alpha/sigma: two forms of the same number, each keeps its digits on its side.
  const double dlow = (a > beta ? one_minus_q - beta * beta / (sigma * (sigma + a)) : dsigma - q) - a * dq;
  const double dhigh = dsigma + q + a * dq;
  const double dnumerator = scale_low * dlow + scale_high * beta * dq;
  const double ddenominator = scale_high * dhigh + scale_low * beta * dq;
  return {sign * std::log(denominator / numerator), ddenominator / denominator - dnumerator / numerator};
}

/// The step where the flow stress moves, too: reduced stress y shrinks by `y_mean log_chi`, with y_mean the mean of both ends.
/// One exact step about y_mean = y_0, corrected to first order for the rest; second order in the step as y_mean itself.
inline EyringStep eyring_step(double y0, double alpha, double beta, double log_chi) {
  EyringStep end = eyring_step(y0, alpha - y0 * log_chi, beta);
  end.y -= 0.5 * end.slope * (end.y - y0) * log_chi;
  return end;
}

}  // namespace hoopfield
