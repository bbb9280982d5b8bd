// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Exponential and logarithm of a vector of numbers: libmvec of the C library where there is one (errors of up to 4
/// units in the last place, by its manual), xsimd's elsewhere, which converts numbers one by one where AVX2 has no
/// instruction for it.
#pragma once

#include <xsimd/xsimd.hpp>

namespace hoopfield::detail {

template <class Arch>
xsimd::batch<double, Arch> vector_exp(const xsimd::batch<double, Arch>& x) {
  return xsimd::exp(x);
}

template <class Arch>
xsimd::batch<double, Arch> vector_log(const xsimd::batch<double, Arch>& x) {
  return xsimd::log(x);
}

}  // namespace hoopfield::detail

// Names of the x86-64 vector function ABI: AVX2 (d) or AVX-512 (e), no mask (N), 4 or 8 elements, one vector argument
// (v).
#if defined(HOOPFIELD_HAVE_LIBMVEC) && defined(__AVX2__)
extern "C" {
__m256d _ZGVdN4v_exp(__m256d);  // NOLINT: the ABI's name
__m256d _ZGVdN4v_log(__m256d);  // NOLINT
}
namespace hoopfield::detail {
using Batch4 = xsimd::batch<double, xsimd::fma3<xsimd::avx2>>;
inline Batch4 vector_exp(const Batch4& x) { return _ZGVdN4v_exp(x); }
inline Batch4 vector_log(const Batch4& x) { return _ZGVdN4v_log(x); }
}  // namespace hoopfield::detail
#endif

#if defined(HOOPFIELD_HAVE_LIBMVEC) && defined(__AVX512F__)
extern "C" {
__m512d _ZGVeN8v_exp(__m512d);  // NOLINT: the ABI's name
__m512d _ZGVeN8v_log(__m512d);  // NOLINT
}
namespace hoopfield::detail {
using Batch8 = xsimd::batch<double, xsimd::avx512dq>;
inline Batch8 vector_exp(const Batch8& x) { return _ZGVeN8v_exp(x); }
inline Batch8 vector_log(const Batch8& x) { return _ZGVeN8v_log(x); }
}  // namespace hoopfield::detail
#endif
