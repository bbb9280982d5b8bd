// SPDX-License-Identifier: BSD-3-Clause
#include "sim/sweep/sampling.hpp"

#include <boost/random/sobol.hpp>

#include <numeric>
#include <random>
#include <utility>

namespace hoopfield {
namespace {

// The distributions of the standard library differ between platforms; these do not.
double uniform(std::mt19937_64& generator) { return static_cast<double>(generator() >> 11U) * 0x1p-53; }

std::uint64_t below(std::mt19937_64& generator, std::uint64_t bound) {
  const std::uint64_t reject = (0 - bound) % bound;  // 2^64 mod bound
  for (;;) {
    const std::uint64_t value = generator();
    if (value >= reject) return value % bound;
  }
}

}  // namespace

std::vector<double> latin_hypercube(std::size_t count, std::size_t dimensions, std::uint64_t seed) {
  std::mt19937_64 generator(seed);
  std::vector<double> points(count * dimensions);
  std::vector<std::size_t> strata(count);
  for (std::size_t d = 0; d < dimensions; ++d) {
    std::iota(strata.begin(), strata.end(), std::size_t{1});
    for (std::size_t i = count; i > 1; --i) std::swap(strata[i - 1], strata[below(generator, i)]);
    for (std::size_t i = 0; i < count; ++i)
      points[i * dimensions + d] = (static_cast<double>(strata[i]) - uniform(generator)) / static_cast<double>(count);
  }
  return points;
}

std::vector<double> sobol_points(std::size_t count, std::size_t dimensions) {
  std::vector<double> points(count * dimensions, 0.0);
  if (count < 2 || dimensions == 0) return points;
  // The engine leaves out the origin.
  boost::random::sobol engine(dimensions);
  for (std::size_t i = dimensions; i < points.size(); ++i) points[i] = static_cast<double>(engine() >> 11U) * 0x1p-53;
  return points;
}

}  // namespace hoopfield
