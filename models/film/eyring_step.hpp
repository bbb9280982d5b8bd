// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The closed-form step of one Eyring branch: the production integrator, written once for every kind of number.
#pragma once

#include <cmath>
#include <cstddef>
#include <type_traits>

namespace hoopfield {

/// Result of a dimensionless branch step.
template <class Number>
struct EyringStep {
  Number y;      ///< reduced stress at the end
  Number slope;  ///< d y_1 / d alpha
};

/// How a kind of number takes the step. This is the way of `double` and of numbers that carry derivatives (dual.hpp);
/// vectors of numbers specialise it (eyring_block_kernel.hpp).
template <class Number>
struct StepArithmetic {
  /// Vectors share reciprocals where single numbers divide, and have a floor under sigma where single numbers return.
  static constexpr bool in_vectors = false;
  static constexpr bool carries_derivatives = !std::is_same_v<Number, double>;

  /// tanh(sigma/2) and 1 - tanh(sigma/2). `expm1`, because the first is tiny in a slow branch.
  static void half_tanh(const Number& sigma, Number& q, Number& one_minus_q) {
    using std::expm1;
    const Number growth = expm1(sigma < 700.0 ? sigma : Number(700.0));
    q = growth / (growth + 2.0);
    one_minus_q = 2.0 / (growth + 2.0);
  }
  static Number decay(const Number& size) {
    using std::exp;
    return exp(-size);
  }
  static Number logarithm(const Number& x) {
    using std::log;
    return log(x);
  }
  static Number select(bool first, const Number& a, const Number& b) { return first ? a : b; }
};

/// Exact solution over one step of `dy/ds = alpha - beta sinh(y)`, s from 0 to 1, with constant alpha and beta >= 0.
///
/// With `sigma = sqrt(alpha^2 + beta^2)`, `q = tanh(sigma/2)`, `g = exp(-y_0)` and alpha >= 0:
/// `exp(-y_1) = [g (sigma - alpha q) + beta q] / [(sigma + alpha q) + g beta q]`.
///
/// alpha < 0: the signs of alpha and y are flipped. `sigma - alpha q = beta^2/(sigma+alpha) + alpha (1-q)` keeps its
/// digits; for y_0 < 0 both brackets are multiplied by exp(y_0), so nothing overflows for |y_0| up to 700. `Number` is
/// double, a Dual, or a vector of doubles.
///
/// Special cases: beta = 0 gives y_0 + alpha; alpha = 0 gives tanh(y_1/2) = tanh(y_0/2) exp(-beta).
///
/// Source: Riccati form of the Eyring dashpot under constant rate, derived in this project; check values in
/// tests/unit/eyring_step_test.cpp (against the closed forms, and against Boost.Odeint rosenbrock4), derivatives in
/// tests/unit/film_fit_test.cpp, vectors in tests/unit/eyring_block_test.cpp.
template <class Number>
[[gnu::always_inline]] inline EyringStep<Number> eyring_step(const Number& y0,
                                                             const std::type_identity_t<Number>& alpha,
                                                             const std::type_identity_t<Number>& beta) {
  using Arithmetic = StepArithmetic<Number>;
  using std::abs, std::sqrt;
  constexpr bool in_vectors = Arithmetic::in_vectors;
  const Number one(1.0);
  Number sigma = sqrt(alpha * alpha + beta * beta);
  if constexpr (in_vectors) {
    sigma = max(sigma, Number(Arithmetic::least_sigma));
  } else {
    if (!(sigma > 0.0)) return {y0 + alpha, one};
  }
  const Number sign = Arithmetic::select(alpha < Number(0.0), -one, one);
  const Number a = abs(alpha);
  const Number y = sign * y0;
  Number q(0.0), one_minus_q(0.0);
  Arithmetic::half_tanh(sigma, q, one_minus_q);

  const Number sum = sigma + a;
  Number inverse_sigma(0.0);  // of vectors only
  Number far(0.0);            // sigma - alpha
  if constexpr (in_vectors) {
    const Number per_both = 1.0 / (sigma * sum), floor(Arithmetic::least_sigma);
    inverse_sigma = per_both * sum;
    far = Arithmetic::select(sigma > floor, beta * beta * (per_both * sigma), floor);
  } else {
    far = beta * beta / sum;
  }
  // Where these stand in the source decides which products a compiler joins with a sum, so the last digits of vectors.
  const auto over_sigma = [&](const Number& x) {
    if constexpr (in_vectors)
      return x * inverse_sigma;
    else
      return x / sigma;
  };
  const auto far_over_sigma = [&] {
    if constexpr (in_vectors)
      return far * inverse_sigma;
    else
      return beta * beta / (sigma * sum);
  };
  // The order of a product decides its last digit.
  const auto across = [&](const Number& scale, const Number& factor) {
    if constexpr (in_vectors)
      return scale * (beta * factor);
    else
      return scale * beta * factor;
  };
  const Number low = far + a * one_minus_q;  // sigma - alpha q
  const Number high = sigma + a * q;
  const Number decay = Arithmetic::decay(abs(y));  // exp(-y) or exp(+y), whichever is at most 1
  const auto forward = y >= Number(0.0);
  const Number scale_low = Arithmetic::select(forward, decay, one);
  const Number scale_high = Arithmetic::select(forward, one, decay);
  const Number numerator = scale_low * low + across(scale_high, q);
  const Number denominator = scale_high * high + across(scale_low, q);
  Number per_numerator(0.0);  // of vectors only
  EyringStep<Number> end{one, one};
  if constexpr (in_vectors) {
    per_numerator = 1.0 / numerator;
    end.y = sign * Arithmetic::logarithm(denominator * per_numerator);
  } else {
    end.y = sign * Arithmetic::logarithm(denominator / numerator);
  }
  // d/d alpha of both brackets; d sigma = alpha/sigma, d q = (1 - q^2)/2 d sigma.
  const Number dsigma = over_sigma(a);
  const Number dq = 0.5 * one_minus_q * (1.0 + q) * dsigma;
  // 1 - beta^2/(sigma (sigma + alpha)) = alpha/sigma: two forms of the same number, each keeps its digits on its side.
  const Number dlow = Arithmetic::select(a > beta, one_minus_q - far_over_sigma(), dsigma - q) - a * dq;
  const Number dhigh = dsigma + q + a * dq;
  const Number dnumerator = scale_low * dlow + across(scale_high, dq);
  const Number ddenominator = scale_high * dhigh + across(scale_low, dq);
  if constexpr (in_vectors) {
    end.slope = ddenominator / denominator - dnumerator * per_numerator;
  } else {
    end.slope = ddenominator / denominator - dnumerator / numerator;
    if constexpr (Arithmetic::carries_derivatives) {
      // In a slow branch the brackets' own derivatives cancel to nothing. These partials keep their digits, as `slope`
      // does.
      const double part = one_minus_q.value * (1.0 + q.value) * 0.5 * beta.value / sigma.value;  // d q/d beta
      const double cosine = beta.value / sigma.value, dcross = q.value + beta.value * part;
      const double up = scale_high.value, down = scale_low.value, top = denominator.value, bottom = numerator.value;
      const double by_start = down * low.value / bottom - down * beta.value * q.value / top;
      const double by_beta = sign.value * ((up * (cosine + a.value * part) + down * dcross) / top -
                                           (down * (cosine - a.value * part) + up * dcross) / bottom);
      for (std::size_t i = 0; i < end.y.by.size(); ++i)
        end.y.by[i] = by_start * y0.by[i] + end.slope.value * alpha.by[i] + by_beta * beta.by[i];
    }
  }
  return end;
}

/// The step where the flow stress moves, too: reduced stress y shrinks by `y_mean log_chi`, with y_mean the mean of
/// both ends. One exact step about y_mean = y_0, that is with `alpha - y_0 log_chi` for alpha, is corrected here to
/// first order for the rest; second order in the step as y_mean itself. Pinned by tests/unit/eyring_step_test.cpp.
template <class Number>
[[gnu::always_inline]] inline EyringStep<Number> with_moving_flow_stress(EyringStep<Number> end, const Number& y0,
                                                                         const Number& log_chi) {
  end.y -= 0.5 * end.slope * (end.y - y0) * log_chi;
  return end;
}

/// Both together.
template <class Number>
[[gnu::always_inline]] inline EyringStep<Number> eyring_step(const Number& y0,
                                                             const std::type_identity_t<Number>& alpha,
                                                             const std::type_identity_t<Number>& beta,
                                                             const std::type_identity_t<Number>& log_chi) {
  return with_moving_flow_stress(eyring_step<Number>(y0, alpha - y0 * log_chi, beta), y0, log_chi);
}

}  // namespace hoopfield
