// SPDX-License-Identifier: BSD-3-Clause
#include "sim/base/build_info.hpp"

#include "models/film/simd_path.hpp"

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

std::string build_simd() { return simd_path_name(simd_path()); }

}  // namespace hoopfield
