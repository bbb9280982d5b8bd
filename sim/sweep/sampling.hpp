// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Points of the unit cube, row-major (point, dimension).
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace hoopfield {

/// Latin hypercube: in every dimension each of the `count` equal strata holds exactly one point, at a uniform place in
/// it: `x = (p - u)/count`, p a random permutation of 1..count, u uniform in [0, 1). Generator: 64-bit Mersenne twister
/// seeded with `seed`, Fisher-Yates shuffles with rejection; the same numbers on every platform.
/// SciPy's `qmc.LatinHypercube` uses the same formula with another generator: same properties, other points.
[[nodiscard]] std::vector<double> latin_hypercube(std::size_t count, std::size_t dimensions, std::uint64_t seed);

/// Sobol sequence, not scrambled, from its first point (the origin), direction numbers of Joe and Kuo, SIAM J. Sci.
/// Comput. 30 (2008) 2635; equals SciPy's `qmc.Sobol(d, scramble=False).random(count)`. A power of two balances best.
[[nodiscard]] std::vector<double> sobol_points(std::size_t count, std::size_t dimensions);

}  // namespace hoopfield
