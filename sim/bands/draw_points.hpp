// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Points of the draws: Sobol' points, scrambled, one dimension for every input that may be uncertain.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>
#include <vector>

namespace hoopfield {

/// Points 0, 1, 2, ... of a scrambled Sobol' sequence. Boost's engine gives the points (direction numbers of Joe and
/// Kuo); every digit of a coordinate is then flipped or kept by a hash of the seed, the dimension and the digits before
/// it (nested uniform scrambling, Owen 1995, from memory), so that each coordinate is uniform on (0, 1), 2^k points
/// put one in each of 2^k equal intervals of every dimension, and a dimension stays what it is whatever others are
/// used.
class DrawPoints {
 public:
  /// \param count points to keep ready \param dimensions 1 to 3667
  DrawPoints(std::size_t count, std::size_t dimensions, std::uint64_t seed);
  /// Strictly between 0 and 1.
  [[nodiscard]] double at(std::size_t point, std::size_t dimension) const;
  /// The same as a standard normal number.
  [[nodiscard]] double normal(std::size_t point, std::size_t dimension) const;
  [[nodiscard]] std::size_t count() const { return points_.size() / dimensions_; }

 private:
  std::size_t dimensions_;
  std::uint64_t seed_;
  std::vector<std::uint32_t> points_;  ///< digits before scrambling: few of the dimensions are ever asked for
};

/// Dimensions of one scenario: its keys in the order of the reference, then the numbers of its film. Two scenarios
/// share the dimensions of what they share: load, machine and places always; film and its roll only when `film_block`
/// is the same. Film blocks count from 0.
[[nodiscard]] std::size_t dimension_of(std::string_view key, std::size_t film_block);
[[nodiscard]] std::size_t film_dimension(std::size_t number, std::size_t film_block);
[[nodiscard]] std::size_t dimension_count(std::size_t film_blocks);

}  // namespace hoopfield
