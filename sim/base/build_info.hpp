// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What this build is: the facts two runs must share to give the same bytes.
#pragma once

#include <string>

namespace hoopfield {

[[nodiscard]] std::string build_version();   ///< e.g. "0.1.0"
[[nodiscard]] std::string build_compiler();  ///< e.g. "g++ 12.2.0"
[[nodiscard]] std::string build_simd();      ///< instruction set the hot loops run in: "baseline", "avx2" or "avx512"

}  // namespace hoopfield
