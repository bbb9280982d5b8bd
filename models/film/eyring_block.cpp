// SPDX-License-Identifier: BSD-3-Clause
#include "models/film/eyring_block.hpp"

#include "models/film/eyring_block_kernel.hpp"

#include <algorithm>

namespace hoopfield {

#ifdef HOOPFIELD_HAVE_AVX2_SOURCE
namespace detail {
// Defined in eyring_block_avx2.cpp, the only source compiled for that instruction set.
void eyring_block_step_avx2(const EyringBlockSetup& setup, const FilmBlock& begin, FilmBlock& end,
                            BlockStress& stress);
}  // namespace detail
#endif

bool has_avx2() {
#ifdef HOOPFIELD_HAVE_AVX2_SOURCE
  static const bool found = __builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma");
  return found;
#else
  return false;
#endif
}

const char* simd_path() { return has_avx2() ? "avx2+fma" : "baseline"; }

void eyring_block_step(const EyringBlockSetup& setup, const FilmBlock& begin, FilmBlock& end,
                       const double* stretch_end, BlockStress& stress) {
  end.size = begin.size;
  std::copy_n(stretch_end, begin.size, end.stretch.begin());
  for (std::size_t i = begin.size; i < padded_size(begin.size); ++i) end.stretch[i] = begin.stretch[i];  // at rest
#ifdef HOOPFIELD_HAVE_AVX2_SOURCE
  if (has_avx2()) {
    detail::eyring_block_step_avx2(setup, begin, end, stress);
    return;
  }
#endif
  detail::EyringBlockKernel<xsimd::default_arch>::run(setup, begin, end, stress);
}

}  // namespace hoopfield
