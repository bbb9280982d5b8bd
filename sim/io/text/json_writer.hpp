// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The summary of a prediction as one JSON object.
#pragma once

#include "sim/inputs/scenario.hpp"
#include "sim/outputs/result.hpp"

#include <optional>
#include <string>

namespace hoopfield {

/// Layout of the JSON objects of predictions, comparisons and reports, raised when a name changes its meaning or goes.
/// Names of layout 1 and what they are called now: models/renamed.hpp.
inline constexpr int result_schema = 2;

/// What differs between two runs of the same inputs: kept apart so that all else is byte-identical.
struct RunInfo {
  std::string started;        ///< ISO 8601, UTC
  double duration = 0.0;      ///< s, wall clock
  std::string host_system;    ///< e.g. "Linux 6.1 x86_64"
  unsigned host_threads = 0;  ///< hardware threads
};

/// One JSON object, UTF-8, two-space indent, keys in a fixed order, units in the key names.
/// Numbers read back to the same double. A number that is not finite becomes null and adds a warning "not-finite" whose
/// key is its place in the object. Text that is not UTF-8 has its bad bytes replaced by U+FFFD. \param run_info written
/// as the last key when given; leave it out where bytes must not depend on the clock.
[[nodiscard]] std::string summary_json(const Scenario& scenario, const Result& result,
                                       const std::optional<RunInfo>& run_info = std::nullopt);

}  // namespace hoopfield
