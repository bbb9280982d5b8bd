// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The middle of numbers in no order.
#pragma once

#include <algorithm>
#include <cstddef>
#include <vector>

namespace hoopfield {

/// Of an even number of values the upper of the two in the middle. At least one value.
[[nodiscard]] inline double middle_of(std::vector<double> values) {
  const auto at = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), at, values.end());
  return *at;
}

}  // namespace hoopfield
