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

  template <typename Self, typename Visitor>
  static void members(Self& s, Visitor&& visit) {
    visit("steps", s.steps);
    visit("rejected", s.rejected);
    visit("iterations", s.iterations);
    visit("branch_updates", s.branch_updates);
    visit("corner_slips", s.corner_slips);
  }
};

}  // namespace hoopfield
