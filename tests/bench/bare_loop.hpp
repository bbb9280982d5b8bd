// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The least that a step of film elements can take: its slow operations alone, in vectors.
#pragma once

#include <cstddef>

namespace hoopfield {

/// For `count` elements of `branches` branches, count a multiple of 8: of each branch one square root, one exponential,
/// one logarithm and four divisions, of each element three divisions, as the closed-form step asks for; two vectors
/// side by side as there. `values` holds count * branches numbers near 1 and is overwritten with such numbers.
void bare_loop(double* values, std::size_t count, std::size_t branches);

}  // namespace hoopfield
