// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Numbers as text, independent of the locale.
#pragma once

#include <string>

namespace hoopfield {

/// Fewest digits that read back to the same double; "nan", "inf", "-inf" otherwise.
[[nodiscard]] std::string shortest(double value);

/// With a fixed number of decimals, e.g. 12.30; never "-0.0".
[[nodiscard]] std::string fixed(double value, int decimals);

}  // namespace hoopfield
