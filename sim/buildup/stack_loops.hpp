// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The loops over the film elements of a slice, in vectors of AVX2 where simd_path() has it.
#pragma once

#include "models/film/film_law.hpp"

#include <array>
#include <cstddef>

namespace hoopfield {

/// A value for strands along the length and one for strands along the width.
using TwoWays = std::array<double, 2>;

/// Elements of a slice as the loops see them; arrays as long as the film block with its padding, whose weight is 0.
struct StrandArrays {
  std::size_t size = 0;                 ///< elements, without padding
  const double* weight = nullptr;       ///< m
  const double* along_width = nullptr;  ///< 1 or 0
};

/// Sums over the taut elements, for both ways.
struct StrandSums {
  TwoWays tension{};  ///< weight * nominal stress, N/m
  TwoWays slope{};    ///< weight * d nominal / d ln l, N/m
  TwoWays section{};  ///< weight / stretch, m
};

/// One implementation per instruction set.
struct StackLoops {
  /// `stretch = reference_stretch * path / reference_path`.
  void (*stretch)(const StrandArrays& strands, const double* reference_stretch, const double* reference_path,
                  const TwoWays& path, double* stretch);
  StrandSums (*sums)(const StrandArrays& strands, const BlockStress& stress, const double* stretch);
  /// True when an element turns slack or taut as the log stretch grows by `move`.
  bool (*turns_slack_or_taut)(const StrandArrays& strands, const BlockStress& stress, const TwoWays& move);
  /// Moves film and stress along the tangent by the log stretch `move`; true when an element is slack afterwards.
  bool (*follow)(const StrandArrays& strands, const TwoWays& move, std::size_t branches, FilmBlock& film,
                 BlockStress& stress);
};

[[nodiscard]] const StackLoops& stack_loops();

}  // namespace hoopfield
