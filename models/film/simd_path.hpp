// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Which instruction set the hot loops run in.
#pragma once

#include <string>

namespace hoopfield {

/// Instruction sets the hot loops are built for, narrowest first. Their results differ in the last digits.
enum class SimdPath { baseline, avx2, avx512 };

/// "baseline", "avx2" or "avx512".
[[nodiscard]] const char* simd_path_name(SimdPath path);

/// Widest one that this build has and this processor can run.
[[nodiscard]] SimdPath widest_simd_path();

/// `wanted` by its name; the widest where it is empty. Throws InputError when there is no such name or it cannot be run
/// here.
[[nodiscard]] SimdPath choose_simd_path(const std::string& wanted);

/// The one in use, chosen once by the environment variable HOOPFIELD_SIMD. Throws as choose_simd_path().
[[nodiscard]] SimdPath simd_path();

}  // namespace hoopfield
