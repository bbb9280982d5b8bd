// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// How much of a test a build under a sanitizer repeats. There code runs ten to thirty times as slowly and is asked
/// whether it touches memory it must not, which a first round through every kind of code tells; draws, seeds and slices
/// that only make a number more certain are counted in the optimised build.
#pragma once

namespace test {

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
inline constexpr bool sanitized = true;
#elif defined(__has_feature)
#if __has_feature(address_sanitizer) || __has_feature(thread_sanitizer) || __has_feature(memory_sanitizer)
inline constexpr bool sanitized = true;
#else
inline constexpr bool sanitized = false;
#endif
#else
inline constexpr bool sanitized = false;
#endif

/// `full` in an optimised build, `small` under a sanitizer.
template <typename T>
constexpr T sized(T full, T small) {
  return sanitized ? small : full;
}

}  // namespace test
