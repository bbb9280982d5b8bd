// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Kernels of stack_loops(), instantiated once per instruction set in a source file of their own.
#pragma once

#include "sim/buildup/stack_loops.hpp"

#include <xsimd/xsimd.hpp>

#include <cmath>

namespace hoopfield::detail {

template <class Arch>
struct StackLoopsKernel {
  using Batch = xsimd::batch<double, Arch>;
  static constexpr std::size_t lanes = Batch::size;
  static_assert(block_lanes % lanes == 0, "padding of blocks holds whole vectors");

  static Batch at(const double* list, std::size_t i) { return Batch::load_unaligned(list + i); }

  /// The value of either way, element by element.
  struct Ways {
    Batch length, width;
    explicit Ways(const TwoWays& values) : length(values[0]), width(values[1]) {}
    Batch of(const StrandArrays& strands, std::size_t i) const {
      return xsimd::select(at(strands.along_width, i) > Batch(0.5), width, length);
    }
  };

  static double total(const Batch& batch) {
    double values[lanes];
    batch.store_unaligned(values);
    double sum = 0.0;
    for (std::size_t i = 0; i < lanes; ++i) sum += values[i];
    return sum;
  }

  static void stretch(const StrandArrays& strands, const double* reference_stretch, const double* reference_path,
                      const TwoWays& path, double* stretch) {
    const Ways paths(path);
    for (std::size_t i = 0; i < strands.size; i += lanes)
      (at(reference_stretch, i) * paths.of(strands, i) / at(reference_path, i)).store_unaligned(stretch + i);
  }

  static StrandSums sums(const StrandArrays& strands, const BlockStress& stress, const double* stretch) {
    const Batch zero(0.0), one(1.0);
    Batch tension[2] = {zero, zero}, slope[2] = {zero, zero}, section[2] = {zero, zero};
    for (std::size_t i = 0; i < strands.size; i += lanes) {
      const Batch nominal = at(stress.nominal.data(), i);
      const Batch weight = xsimd::select(nominal > zero, at(strands.weight, i), zero);  // slack film pulls nothing
      const Batch along_width = at(strands.along_width, i);
      const Batch part[2] = {weight * (one - along_width), weight * along_width};
      const Batch per_stretch = one / at(stretch, i);
      for (std::size_t d = 0; d < 2; ++d) {
        tension[d] += part[d] * nominal;
        slope[d] += part[d] * at(stress.slope.data(), i);
        section[d] += part[d] * per_stretch;
      }
    }
    return {{total(tension[0]), total(tension[1])},
            {total(slope[0]), total(slope[1])},
            {total(section[0]), total(section[1])}};
  }

  static bool turns_slack_or_taut(const StrandArrays& strands, const BlockStress& stress, const TwoWays& move) {
    const Ways moves(move);
    const Batch zero(0.0);
    for (std::size_t i = 0; i < strands.size; i += lanes) {
      const Batch begin = at(stress.nominal.data(), i);
      const Batch end = begin + at(stress.slope.data(), i) * moves.of(strands, i);
      if (xsimd::any(((begin > zero) ^ (end > zero)) & (at(strands.weight, i) > zero))) return true;
    }
    return false;
  }

  static bool follow(const StrandArrays& strands, const TwoWays& move, std::size_t branches, FilmBlock& film,
                     BlockStress& stress) {
    const Ways moves(move), growths({std::exp(move[0]), std::exp(move[1])});
    const Batch zero(0.0);
    bool slack = false;
    for (std::size_t i = 0; i < strands.size; i += lanes) {
      const Batch by = moves.of(strands, i);
      (at(film.stretch.data(), i) * growths.of(strands, i)).store_unaligned(film.stretch.data() + i);
      for (std::size_t j = i, k = 0; k < branches; ++k, j += film.stride)
        (at(film.strain.data(), j) + at(stress.strain_slope.data(), j) * by).store_unaligned(film.strain.data() + j);
      const Batch nominal = at(stress.nominal.data(), i) + at(stress.slope.data(), i) * by;
      nominal.store_unaligned(stress.nominal.data() + i);
      slack = slack || xsimd::any((nominal < zero) & (at(strands.weight, i) > zero));
    }
    return slack;
  }

  static constexpr StackLoops loops = {stretch, sums, turns_slack_or_taut, follow};
};

}  // namespace hoopfield::detail
