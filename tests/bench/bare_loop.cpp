// SPDX-License-Identifier: BSD-3-Clause
// Compiled for AVX2 where the compiler has it.
#include "tests/bench/bare_loop.hpp"

#include "models/film/paired.hpp"
#include "models/film/vector_math.hpp"

namespace hoopfield {

#ifdef __AVX2__
using Batch = xsimd::batch<double, xsimd::fma3<xsimd::avx2>>;
#else
using Batch = xsimd::batch<double>;
#endif

void bare_loop(double* values, std::size_t count, std::size_t branches) {
  using Number = detail::PairedNumber<Batch>;
  for (std::size_t i = 0; i < count; i += 2 * Batch::size) {
    Number shared(1.0);
    for (int n = 0; n < 3; ++n) shared = 1.0 / (shared + 1.5);
    for (std::size_t k = 0; k < branches; ++k) {
      Number y = sqrt(Number::load_unaligned(values + k * count + i));
      y = vector_exp(-y) + shared;
      for (int n = 0; n < 4; ++n) y = 1.0 / (y + 0.5);
      y = vector_log(y + 1.5);
      y.store_unaligned(values + k * count + i);
    }
  }
}

}  // namespace hoopfield
