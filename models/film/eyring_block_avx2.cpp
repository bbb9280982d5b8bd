// SPDX-License-Identifier: BSD-3-Clause
// Compiled with -mavx2 -mfma; called only where the processor has both. Nothing but the kernel may live here: an inline
// function shared with other sources could be kept in this file's version and fail on older processors.
#ifdef HOOPFIELD_HAVE_VECTOR_SOURCES
#include "models/film/eyring_block_kernel.hpp"

namespace hoopfield::detail {

void eyring_block_step_avx2(const EyringBlockSetup& setup, const FilmBlock& begin, FilmBlock& end,
                            BlockStress& stress) {
  EyringBlockKernel<xsimd::fma3<xsimd::avx2>>::run(setup, begin, end, stress);
}

}  // namespace hoopfield::detail
#endif
