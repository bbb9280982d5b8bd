// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Kernel of eyring_block_step, instantiated once per instruction set in a source file of its own.
#pragma once

#include "models/film/eyring_block.hpp"
#include "models/film/eyring_step.hpp"
#include "models/film/paired.hpp"
#include "models/film/vector_math.hpp"

#include <xsimd/xsimd.hpp>

namespace hoopfield {
namespace detail {

/// How eyring_step() works in vectors of numbers; see StepArithmetic. `Number` is one vector of the processor, or two
/// side by side.
template <class Number>
struct VectorArithmetic {
  static constexpr bool in_vectors = true;
  // A floor keeps 0/0 away where nothing happens; it is far below any rate that matters.
  static constexpr double least_sigma = 1e-150;

  /// tanh(sigma/2) and 1 - tanh(sigma/2) with all digits: continued fraction (Lambert) below sigma = 1, exponential
  /// above.
  [[gnu::always_inline]] static inline void half_tanh(const Number& sigma, Number& q, Number& one_minus_q) {
    const Number x = 0.5 * sigma;
    const Number x2 = x * x;
    const Number top = x * (135135.0 + x2 * (17325.0 + x2 * (378.0 + x2)));
    const Number bottom = 135135.0 + x2 * (62370.0 + x2 * (3150.0 + x2 * 28.0));
    const auto is_small = sigma < Number(1.0);
    if (all(is_small)) {  // slow branches and short steps: no exponential
      const Number inverse = 1.0 / bottom;
      q = top * inverse;
      one_minus_q = (bottom - top) * inverse;
      return;
    }
    const Number power = vector_exp(min(sigma, Number(700.0)));
    const Number inverse = 1.0 / select(is_small, bottom, power + 1.0);
    q = select(is_small, top, power - 1.0) * inverse;
    one_minus_q = select(is_small, bottom - top, Number(2.0)) * inverse;
  }

  [[gnu::always_inline]] static inline Number decay(const Number& size) {
    return vector_exp(-min(size, Number(700.0)));
  }
  [[gnu::always_inline]] static inline Number logarithm(const Number& x) { return vector_log(x); }
  template <class Truth>
  [[gnu::always_inline]] static inline Number select(const Truth& first, const Number& a, const Number& b) {
    using xsimd::select;  // of one vector; that of two is found by their type
    return select(first, a, b);
  }
};

}  // namespace detail

template <class Arch>
struct StepArithmetic<xsimd::batch<double, Arch>> : detail::VectorArithmetic<xsimd::batch<double, Arch>> {};
template <class Batch>
struct StepArithmetic<detail::PairedNumber<Batch>> : detail::VectorArithmetic<detail::PairedNumber<Batch>> {};

namespace detail {

/// `Number` is one vector of the processor, or two side by side.
template <class Number>
struct EyringElements {
  /// ln of a ratio near 1: `2 atanh((r - 1)/(r + 1))` to the last digits, for short moves; a full logarithm beyond.
  [[gnu::always_inline]] static inline Number log_ratio(const Number& top, const Number& bottom) {
    const Number s = (top - bottom) / (top + bottom);
    if (!all(abs(s) < Number(0.025))) return vector_log(top / bottom);
    const Number s2 = s * s;
    return s * (2.0 + s2 * (2.0 / 3.0 + s2 * (2.0 / 5.0 + s2 * (2.0 / 7.0 + s2 * (2.0 / 9.0)))));
  }

  /// Gent network `G Jm/(Jm - (I1 - 3)) (l^2 - q/l)`: true stress and its slope over ln l.
  [[gnu::always_inline]] static inline void network(const EyringBlockSetup& s, const Number& l, const Number& inverse_l,
                                                    Number& stress, Number& slope) {
    const Number limit(s.stretch_limit), two_q(2.0 * s.shape);
    const Number drive = l * l - 0.5 * two_q * inverse_l;
    const Number per_room = 1.0 / max(limit - (l * l + two_q * inverse_l - 3.0), 1e-9 * limit);
    const Number factor = s.network_modulus * limit * per_room;
    stress = factor * drive;
    slope = factor * (2.0 * l * l + 0.5 * two_q * inverse_l + 2.0 * drive * drive * per_room);
  }

  /// Elastic jump: the branches take the whole log stretch. Arguments as step().
  static void jump(const EyringBlockSetup& s, const Number& l0, const Number& l1, const double* strain0,
                   std::size_t stride0, double* strain1, double* strain_slope, std::size_t stride1, double* nominal,
                   double* slope) {
    const Number inverse_l1 = 1.0 / l1;
    const Number delta = log_ratio(l1, l0);
    Number stress(0.0), dstress(0.0);
    network(s, l1, inverse_l1, stress, dstress);
    for (std::size_t k = 0; k < s.branches; ++k) {
      const Number e1 = Number::load_unaligned(strain0 + k * stride0) + delta;
      e1.store_unaligned(strain1 + k * stride1);
      Number(1.0).store_unaligned(strain_slope + k * stride1);
      stress += s.modulus[k] * e1;
      dstress += Number(s.modulus[k]);
    }
    (stress * inverse_l1).store_unaligned(nominal);
    ((dstress - stress) * inverse_l1).store_unaligned(slope);
  }

  /// Elements from loaded values; strain pointers are strided by branch.
  static void step(const EyringBlockSetup& s, const Number& l0, const Number& l1, const double* strain0,
                   std::size_t stride0, double* strain1, double* strain_slope, std::size_t stride1, double* nominal,
                   double* slope) {
    const Number h(s.viscous_share), two_q(2.0 * s.shape);
    const auto chi = [&](const Number& l) { return 1.0 + h * (l * l + two_q / l - 3.0); };
    const Number inverse_l1 = 1.0 / l1;
    const Number chi0 = chi(l0), chi1 = chi(l1), per_chi_mid = 1.0 / chi(sqrt(l0 * l1));
    const Number delta = log_ratio(l1, l0);
    const Number per_chi0 = 1.0 / chi0;
    const Number log_chi = log_ratio(chi1, chi0);
    const Number drive = l1 * l1 - 0.5 * two_q * inverse_l1;
    const Number dlog_chi1 = h * 2.0 * drive / chi1;
    const Number mid_to_end = chi1 * per_chi_mid;
    Number stress(0.0), dstress(0.0);
    network(s, l1, inverse_l1, stress, dstress);

    for (std::size_t k = 0; k < s.branches; ++k) {
      const Number gain(s.gain[k]), to_strain = chi1 * (1.0 / s.gain[k]);
      const Number e0 = Number::load_unaligned(strain0 + k * stride0);
      const Number y0 = gain * e0 * per_chi0;
      const EyringStep<Number> end = with_moving_flow_stress(
          eyring_step<Number>(y0, gain * delta * per_chi_mid - y0 * log_chi, s.beta[k] * per_chi_mid), y0, log_chi);
      const Number e1 = end.y * to_strain;
      e1.store_unaligned(strain1 + k * stride1);
      const Number de1 = e1 * dlog_chi1 + end.slope * (mid_to_end - 0.5 * (y0 + end.y) * to_strain * dlog_chi1);
      de1.store_unaligned(strain_slope + k * stride1);
      stress += s.modulus[k] * e1;
      dstress += s.modulus[k] * de1;
    }
    (stress * inverse_l1).store_unaligned(nominal);
    ((dstress - stress) * inverse_l1).store_unaligned(slope);
  }
};

template <class Arch>
struct EyringBlockKernel {
  using Batch = xsimd::batch<double, Arch>;
  static constexpr std::size_t lanes = Batch::size;
  static_assert(block_lanes % (2 * lanes) == 0, "padding of blocks holds whole pairs of vectors");

  /// As many elements as `Number` holds, from index `i` on.
  template <class Number>
  [[gnu::always_inline]] static inline void elements_at(std::size_t i, const EyringBlockSetup& s,
                                                        const FilmBlock& begin, FilmBlock& end, BlockStress& stress) {
    const auto step = s.is_jump ? EyringElements<Number>::jump : EyringElements<Number>::step;
    step(s, Number::load_unaligned(begin.stretch.data() + i), Number::load_unaligned(end.stretch.data() + i),
         begin.strain.data() + i, begin.stride, end.strain.data() + i, stress.strain_slope.data() + i, end.stride,
         stress.nominal.data() + i, stress.slope.data() + i);
  }

  static void run(const EyringBlockSetup& s, const FilmBlock& begin, FilmBlock& end, BlockStress& stress) {
    std::size_t i = 0;
    for (; i + lanes < begin.size; i += 2 * lanes) elements_at<PairedNumber<Batch>>(i, s, begin, end, stress);
    if (i < begin.size) elements_at<Batch>(i, s, begin, end, stress);
  }
};

}  // namespace detail
}  // namespace hoopfield
