// SPDX-License-Identifier: BSD-3-Clause
#include "sim/buildup/stack_loops.hpp"

#include "models/film/eyring_block.hpp"
#include "sim/buildup/stack_loops_kernel.hpp"

namespace hoopfield {

#ifdef HOOPFIELD_HAVE_AVX2_SOURCE
namespace detail {
// Defined in stack_loops_avx2.cpp, the only source here compiled for that instruction set.
const StackLoops& stack_loops_avx2();
}  // namespace detail
#endif

const StackLoops& stack_loops() {
#ifdef HOOPFIELD_HAVE_AVX2_SOURCE
  if (has_avx2()) return detail::stack_loops_avx2();
#endif
  return detail::StackLoopsKernel<xsimd::default_arch>::loops;
}

}  // namespace hoopfield
