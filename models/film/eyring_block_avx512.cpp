// SPDX-License-Identifier: BSD-3-Clause
// Compiled for AVX-512 (F, DQ, CD, BW, VL); called only where the processor has it. Nothing but the kernel may live
// here: an inline function shared with other sources could be kept in this file's version and fail on older processors.
#ifdef HOOPFIELD_HAVE_VECTOR_SOURCES
#include "models/film/eyring_block_kernel.hpp"

namespace hoopfield::detail {

void eyring_block_step_avx512(const EyringBlockSetup& setup, const FilmBlock& begin, FilmBlock& end,
                              BlockStress& stress) {
  EyringBlockKernel<xsimd::avx512dq>::run(setup, begin, end, stress);
}

}  // namespace hoopfield::detail
#endif
