// SPDX-License-Identifier: BSD-3-Clause
#include "models/film/simd_path.hpp"

#include "models/error.hpp"

#include <array>
#include <cstdlib>

namespace hoopfield {
namespace {

constexpr std::array names = {"baseline", "avx2", "avx512"};

}  // namespace

const char* simd_path_name(SimdPath path) { return names.at(static_cast<std::size_t>(path)); }

SimdPath widest_simd_path() {
#ifdef HOOPFIELD_HAVE_VECTOR_SOURCES
  const bool avx2 = __builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma");
  const bool avx512 = __builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq") &&
                      __builtin_cpu_supports("avx512cd") && __builtin_cpu_supports("avx512bw") &&
                      __builtin_cpu_supports("avx512vl");
  if (avx2) return avx512 ? SimdPath::avx512 : SimdPath::avx2;
#endif
  return SimdPath::baseline;
}

SimdPath choose_simd_path(const std::string& wanted) {
  const SimdPath widest = widest_simd_path();
  if (wanted.empty()) return widest;
  std::string runnable;
  for (std::size_t i = 0; i <= static_cast<std::size_t>(widest); ++i) {
    if (wanted == names[i]) return static_cast<SimdPath>(i);
    runnable += (i == 0 ? "" : ", ") + std::string(names[i]);
  }
  throw InputError("HOOPFIELD_SIMD: '" + wanted +
                       "' is no instruction set of this build and processor, expected one of " + runnable +
                       "\n  hint: without the variable the widest is used",
                   {}, 0, 0, "HOOPFIELD_SIMD");
}

SimdPath simd_path() {
  static const SimdPath chosen = [] {
    const char* wanted = std::getenv("HOOPFIELD_SIMD");
    return choose_simd_path(wanted == nullptr ? "" : wanted);
  }();
  return chosen;
}

}  // namespace hoopfield
