// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Numbers as text, independent of the locale, and words as cells of a table.
#pragma once

#include <string>

namespace hoopfield {

/// Fewest digits that read back to the same double; "nan", "inf", "-inf" otherwise.
[[nodiscard]] std::string shortest(double value);

/// With a fixed number of decimals, e.g. 12.30; never "-0.0".
[[nodiscard]] std::string fixed(double value, int decimals);

/// A word as a CSV cell: in quotes, with quotes doubled, where it holds a comma, a quote or an end of line (RFC 4180).
[[nodiscard]] std::string csv_cell(const std::string& word);

}  // namespace hoopfield
