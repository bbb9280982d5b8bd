// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Kernel of eyring_block_step, instantiated once per instruction set in a source file of its own.
#pragma once

#include "models/film/eyring_block.hpp"

#include <xsimd/xsimd.hpp>

namespace hoopfield::detail {

template <class Arch>
struct EyringBlockKernel {
  using Batch = xsimd::batch<double, Arch>;
  static constexpr std::size_t lanes = Batch::size;

  /// tanh(sigma/2) and 1 - tanh(sigma/2) with all digits: continued fraction (Lambert) below sigma = 1, exponential above.
  [[gnu::always_inline]] static inline void half_tanh(const Batch& sigma, Batch& q, Batch& one_minus_q) {
    const Batch x = 0.5 * sigma;
    const Batch x2 = x * x;
    const Batch top = x * (135135.0 + x2 * (17325.0 + x2 * (378.0 + x2)));
    const Batch bottom = 135135.0 + x2 * (62370.0 + x2 * (3150.0 + x2 * 28.0));
    const Batch power = xsimd::exp(xsimd::min(sigma, Batch(700.0)));
    const auto is_small = sigma < Batch(1.0);
    const Batch inverse = 1.0 / xsimd::select(is_small, bottom, power + 1.0);
    q = xsimd::select(is_small, top, power - 1.0) * inverse;
    one_minus_q = xsimd::select(is_small, bottom - top, Batch(2.0)) * inverse;
  }

  /// See eyring_step(); divisions are shared where the scalar form writes them out.
  [[gnu::always_inline]] static inline void branch_step(const Batch& y0, const Batch& alpha, const Batch& beta,
                                                        const Batch& log_chi, Batch& y1, Batch& slope) {
    const Batch zero(0.0), one(1.0);
    // A floor keeps 0/0 away where nothing happens; it is far below any rate that matters.
    const Batch sigma = xsimd::max(xsimd::sqrt(alpha * alpha + beta * beta), Batch(1e-150));
    const Batch sign = xsimd::select(alpha < zero, -one, one);
    const Batch a = xsimd::abs(alpha);
    const Batch y = sign * y0;
    Batch q, p;
    half_tanh(sigma, q, p);
    const Batch far = beta * beta / (sigma + a);  // sigma - alpha
    const Batch low = far + a * p;
    const Batch high = sigma + a * q;
    const Batch decay = xsimd::exp(-xsimd::min(xsimd::abs(y), Batch(700.0)));
    const auto forward = y >= zero;
    const Batch scale_low = xsimd::select(forward, decay, one);
    const Batch scale_high = xsimd::select(forward, one, decay);
    const Batch across = beta * q;
    const Batch numerator = scale_low * low + scale_high * across;
    const Batch denominator = scale_high * high + scale_low * across;
    y1 = sign * xsimd::log(denominator / numerator);
    const Batch inverse_sigma = 1.0 / sigma;
    const Batch dsigma = a * inverse_sigma;
    const Batch dq = 0.5 * p * (1.0 + q) * dsigma;
    const Batch dlow = xsimd::select(a > beta, p - far * inverse_sigma, dsigma - q) - a * dq;
    const Batch dhigh = dsigma + q + a * dq;
    const Batch dacross = beta * dq;
    slope = (scale_high * dhigh + scale_low * dacross) / denominator -
            (scale_low * dlow + scale_high * dacross) / numerator;
    y1 -= 0.5 * slope * (y1 - y0) * log_chi;
  }

  /// `lanes` elements from loaded values; strain pointers are strided by branch.
  static void elements(const EyringBlockSetup& s, const Batch& l0, const Batch& l1, const double* strain0,
                       std::size_t stride0, double* strain1, double* strain_slope, std::size_t stride1, double* nominal,
                       double* slope) {
    const Batch h(s.viscous_share), two_q(2.0 * s.shape);
    const auto chi = [&](const Batch& l) { return 1.0 + h * (l * l + two_q / l - 3.0); };
    const Batch inverse_l1 = 1.0 / l1;
    const Batch chi0 = chi(l0), chi1 = chi(l1), per_chi_mid = 1.0 / chi(xsimd::sqrt(l0 * l1));
    const Batch delta = xsimd::log(l1 / l0);
    const Batch per_chi0 = 1.0 / chi0;
    const Batch log_chi = xsimd::log(chi1 * per_chi0);
    const Batch drive = l1 * l1 - 0.5 * two_q * inverse_l1;
    const Batch dlog_chi1 = h * 2.0 * drive / chi1;
    const Batch mid_to_end = chi1 * per_chi_mid;

    // Network: G Jm/(Jm - (I1 - 3)) (l^2 - q/l)
    const Batch limit(s.stretch_limit);
    const Batch per_room = 1.0 / xsimd::max(limit - (l1 * l1 + two_q * inverse_l1 - 3.0), 1e-9 * limit);
    const Batch factor = s.network_modulus * limit * per_room;
    Batch stress = factor * drive;
    Batch dstress = factor * (2.0 * l1 * l1 + 0.5 * two_q * inverse_l1 + 2.0 * drive * drive * per_room);

    for (std::size_t k = 0; k < s.branches; ++k) {
      const Batch gain(s.gain[k]), to_strain = chi1 * (1.0 / s.gain[k]);
      const Batch e0 = Batch::load_unaligned(strain0 + k * stride0);
      const Batch y0 = gain * e0 * per_chi0;
      Batch y1(0.0), dy(0.0);
      branch_step(y0, gain * delta * per_chi_mid - y0 * log_chi, s.beta[k] * per_chi_mid, log_chi, y1, dy);
      const Batch e1 = y1 * to_strain;
      e1.store_unaligned(strain1 + k * stride1);
      const Batch de1 = e1 * dlog_chi1 + dy * (mid_to_end - 0.5 * (y0 + y1) * to_strain * dlog_chi1);
      de1.store_unaligned(strain_slope + k * stride1);
      stress += s.modulus[k] * e1;
      dstress += s.modulus[k] * de1;
    }
    (stress * inverse_l1).store_unaligned(nominal);
    ((dstress - stress) * inverse_l1).store_unaligned(slope);
  }

  static void run(const EyringBlockSetup& s, const FilmBlock& begin, FilmBlock& end, const double* stretch_end,
                  BlockStress& stress) {
    std::size_t i = 0;
    for (; i + lanes <= begin.size; i += lanes)
      elements(s, Batch::load_unaligned(begin.stretch.data() + i), Batch::load_unaligned(stretch_end + i),
               begin.strain.data() + i, begin.stride, end.strain.data() + i, stress.strain_slope.data() + i, end.stride,
               stress.nominal.data() + i, stress.slope.data() + i);
    if (i == begin.size) return;
    // The rest through small arrays, filled up with the last element.
    const std::size_t rest = begin.size - i;
    double l0[lanes], l1[lanes], p[lanes], dp[lanes];
    double e0[max_branches * lanes], e1[max_branches * lanes], de[max_branches * lanes];
    for (std::size_t j = 0; j < lanes; ++j) {
      const std::size_t from = i + (j < rest ? j : rest - 1);
      l0[j] = begin.stretch[from];
      l1[j] = stretch_end[from];
      for (std::size_t k = 0; k < s.branches; ++k) e0[k * lanes + j] = begin.strain[k * begin.stride + from];
    }
    elements(s, Batch::load_unaligned(l0), Batch::load_unaligned(l1), e0, lanes, e1, de, lanes, p, dp);
    for (std::size_t j = 0; j < rest; ++j) {
      stress.nominal[i + j] = p[j];
      stress.slope[i + j] = dp[j];
      for (std::size_t k = 0; k < s.branches; ++k) {
        end.strain[k * end.stride + i + j] = e1[k * lanes + j];
        stress.strain_slope[k * end.stride + i + j] = de[k * lanes + j];
      }
    }
  }
};

}  // namespace hoopfield::detail
