// SPDX-License-Identifier: BSD-3-Clause
#include "sim/build_info.hpp"

namespace hoopfield {

std::string build_version() { return HOOPFIELD_VERSION; }

std::string build_compiler() {
#if defined(__clang__)
  return std::string("clang++ ") + __clang_version__;
#elif defined(__GNUC__)
  return std::string("g++ ") + __VERSION__;
#else
  return "unknown compiler";
#endif
}

std::string build_simd() {
  std::string path;
#if defined(__AVX512F__)
  path = "avx512";
#elif defined(__AVX2__)
  path = "avx2";
#elif defined(__AVX__)
  path = "avx";
#elif defined(__SSE2__)
  path = "sse2";
#elif defined(__ARM_NEON)
  path = "neon";
#else
  path = "scalar";
#endif
#if defined(__FMA__)
  path += "+fma";
#endif
  return path;
}

}  // namespace hoopfield
