// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// How much the build-up computed.
#pragma once

#include <cstddef>

namespace hoopfield {

/// Counts of work, not of time.
struct SolverCounters {
  std::size_t steps = 0, rejected = 0, iterations = 0, branch_updates = 0;
  std::size_t corner_slips = 0;  ///< times that film slipped round corners after lay-down
};

}  // namespace hoopfield
