// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Where a sweep stands, as Python is told.
#pragma once

#include "sim/sweep/sweep.hpp"

#include <string>

namespace hoopfield::python {

/// "1234 of 5000 cases (2 failed), 310 cases/s, 12 s left"
[[nodiscard]] std::string progress_text(const SweepProgress& progress);
[[nodiscard]] double share_of(const SweepProgress& progress);

}  // namespace hoopfield::python
