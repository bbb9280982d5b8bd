// SPDX-License-Identifier: BSD-3-Clause
// Compiled with -mavx2 -mfma; called only where the processor has both. Nothing but the kernels may live here: an
// inline function shared with other sources could be kept in this file's version and fail on older processors.
#ifdef HOOPFIELD_HAVE_VECTOR_SOURCES
#include "sim/buildup/stack_loops_kernel.hpp"

namespace hoopfield::detail {

const StackLoops& stack_loops_avx2() { return StackLoopsKernel<xsimd::fma3<xsimd::avx2>>::loops; }

}  // namespace hoopfield::detail
#endif
