// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Exponential and logarithm of a vector of numbers: libmvec of the C library where there is one (errors of up to 4 units in the
/// last place, by its manual), xsimd's elsewhere, which converts numbers one by one where AVX2 has no instruction for it.
#pragma once

#include <xsimd/xsimd.hpp>

// Names of the x86-64 vector function ABI: AVX2 (d) or AVX-512 (e), no mask (N), 4 or 8 elements, one vector argument (v).
extern "C" {
#if defined(HOOPFIELD_HAVE_LIBMVEC) && defined(__AVX2__)
__m256d _ZGVdN4v_exp(__m256d);  // NOLINT: the ABI's name
__m256d _ZGVdN4v_log(__m256d);  // NOLINT
#endif
#if defined(HOOPFIELD_HAVE_LIBMVEC) && defined(__AVX512F__)
__m512d _ZGVeN8v_exp(__m512d);  // NOLINT
__m512d _ZGVeN8v_log(__m512d);  // NOLINT
#endif
}

namespace hoopfield::detail {

template <class Arch>
xsimd::batch<double, Arch> vector_exp(const xsimd::batch<double, Arch>& x) {
#if defined(HOOPFIELD_HAVE_LIBMVEC) && defined(__AVX2__)
  if constexpr (xsimd::batch<double, Arch>::size == 4) return _ZGVdN4v_exp(x);
#endif
#if defined(HOOPFIELD_HAVE_LIBMVEC) && defined(__AVX512F__)
  if constexpr (xsimd::batch<double, Arch>::size == 8) return _ZGVeN8v_exp(x);
#endif
  return xsimd::exp(x);
}

template <class Arch>
xsimd::batch<double, Arch> vector_log(const xsimd::batch<double, Arch>& x) {
#if defined(HOOPFIELD_HAVE_LIBMVEC) && defined(__AVX2__)
  if constexpr (xsimd::batch<double, Arch>::size == 4) return _ZGVdN4v_log(x);
#endif
#if defined(HOOPFIELD_HAVE_LIBMVEC) && defined(__AVX512F__)
  if constexpr (xsimd::batch<double, Arch>::size == 8) return _ZGVeN8v_log(x);
#endif
  return xsimd::log(x);
}

}  // namespace hoopfield::detail
