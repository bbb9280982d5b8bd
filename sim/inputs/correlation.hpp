// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Correlations of inputs: square matrices, row by row, that files hold as the rows below the diagonal.
#pragma once

#include "sim/base/raw_node.hpp"

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

namespace hoopfield {

/// Told where a list of rows does not fit, and what was expected; must throw.
using CorrelationComplaint = std::function<void(const RawNode& at, const char* expected)>;

/// A matrix of `size` from a list of size - 1 rows that hold 1, 2, 3, ... numbers from -1 to 1.
[[nodiscard]] std::vector<double> read_correlation(const RawNode& rows, std::size_t size,
                                                   const CorrelationComplaint& complain);

/// The list as a file has it, one row a line, four digits; `[` and `]` included.
[[nodiscard]] std::string correlation_text(const std::vector<double>& correlation, std::size_t size);

/// The symmetric root of a correlation, square and row by row; what rounding has made slightly negative counts as none.
[[nodiscard]] std::vector<double> symmetric_root(const std::vector<double>& correlation, std::size_t size);

}  // namespace hoopfield
