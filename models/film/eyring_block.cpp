// SPDX-License-Identifier: BSD-3-Clause
#include "models/film/eyring_block.hpp"

#include "models/film/eyring_block_kernel.hpp"
#include "models/film/simd_path.hpp"

#include <algorithm>

namespace hoopfield {

#ifdef HOOPFIELD_HAVE_VECTOR_SOURCES
namespace detail {
// Each defined in the only source compiled for its instruction set.
void eyring_block_step_avx2(const EyringBlockSetup& setup, const FilmBlock& begin, FilmBlock& end, BlockStress& stress);
void eyring_block_step_avx512(const EyringBlockSetup& setup, const FilmBlock& begin, FilmBlock& end,
                              BlockStress& stress);
}  // namespace detail
#endif

void eyring_block_step(const EyringBlockSetup& setup, const FilmBlock& begin, FilmBlock& end, const double* stretch_end,
                       BlockStress& stress) {
  end.size = begin.size;
  std::copy_n(stretch_end, begin.size, end.stretch.begin());
  for (std::size_t i = begin.size; i < padded_size(begin.size); ++i) end.stretch[i] = begin.stretch[i];  // at rest
  switch (simd_path()) {
#ifdef HOOPFIELD_HAVE_VECTOR_SOURCES
    case SimdPath::avx512: return detail::eyring_block_step_avx512(setup, begin, end, stress);
    case SimdPath::avx2: return detail::eyring_block_step_avx2(setup, begin, end, stress);
#endif
    default: return detail::EyringBlockKernel<xsimd::default_arch>::run(setup, begin, end, stress);
  }
}

}  // namespace hoopfield
