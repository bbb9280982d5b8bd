// SPDX-License-Identifier: BSD-3-Clause
#include "sim/buildup/stack_loops.hpp"

#include "models/film/simd_path.hpp"
#include "sim/buildup/stack_loops_kernel.hpp"

namespace hoopfield {

#ifdef HOOPFIELD_HAVE_VECTOR_SOURCES
namespace detail {
// Defined in the only source here compiled for that instruction set.
const StackLoops& stack_loops_avx2();
}  // namespace detail
#endif

const StackLoops& stack_loops() {
#ifdef HOOPFIELD_HAVE_VECTOR_SOURCES
  // Not in AVX-512: these loops are short, and what one stores the next loads in other pieces; a prediction took half
  // as long again.
  if (simd_path() != SimdPath::baseline) return detail::stack_loops_avx2();
#endif
  return detail::StackLoopsKernel<xsimd::default_arch>::loops;
}

}  // namespace hoopfield
