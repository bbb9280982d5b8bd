// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// When each station holds least between the end of wrapping and the end of storage, and what it shows then.
#pragma once

#include "sim/buildup/build_up.hpp"
#include "sim/stations/containment.hpp"

#include <array>

namespace hoopfield {

/// What is known of the load when its weakest moments are looked for. `end` and `after_storage` are complete.
struct WeakestInput {
  const BuildUpInput* input = nullptr;
  const BuildUpResult* built = nullptr;
  const ContainmentResult *end = nullptr, *after_storage = nullptr;
  std::array<std::array<double, 2>, face_count> film_edges{};
  SolverCounters* counters = nullptr;  ///< of the prediction so far: grows by the work of the search
};

/// Each station at the time at which its hoop tension, mean of the faces, is least: both ends of storage included, and
/// the time just after the end of wrapping, when a load that settles or meets another temperature moves at once.
/// `least` = that of the band of film that holds least over heights, faces and output times: never more than at both
/// ends.
///
/// The least of the output times is found first. Where it lies inside storage, the slice in the middle of the station
/// is stored again from slices kept before it, with the intervals on both sides of it cut into `weakest_parts` parts
/// each; the least of those gives the time, at which the station is read. Where hoop tension is smooth its value errs
/// by the square of a part: 1e-4 at most where the outputs alone missed up to 2.5e-3. Pinned by
/// tests/unit/weakest_test.cpp against a run with far denser output times.
[[nodiscard]] ContainmentResult weakest_containment(const ResolvedScenario& scenario, const WeakestInput& known);

/// Parts of an interval between output times.
inline constexpr int weakest_parts = 8;

}  // namespace hoopfield
