// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The target that the load meets a requirement in transit.
#pragma once

#include "sim/transit/scenario_stack.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace hoopfield {

/// What `TargetResult::quantity` is called then; its station is the direction of the load, its wanted value a margin of
/// 1.
inline constexpr const char* transit_target_quantity = "transit";
[[nodiscard]] inline bool is_of_transit(const TargetResult& target) {
  return target.quantity == transit_target_quantity;
}

/// True when the scenario's target is its requirement in transit.
[[nodiscard]] bool targets_transit(const Scenario& scenario);

/// Moment of the axis "moment" that the target speaks of; the weakest one without a target in transit.
[[nodiscard]] std::size_t transit_target_moment(const Scenario& scenario);

/// One target for each direction of the load in which a level acts: predicted acceleration over the level, the least of
/// all levels. Static levels take what a slow push may reach; a pulse is ridden at its level and counts 1 when the load
/// keeps the limits, else 0. Met from 1 on. Empty when the scenario's target is another one, or goods or requirement
/// are missing.
[[nodiscard]] std::vector<TargetResult> transit_targets(const Scenario& scenario, const Result& result);

/// Name of the number that its draws are kept under, "transit.weakest.along_width.margin".
[[nodiscard]] std::string drawn_name_of(const TargetResult& target);

}  // namespace hoopfield
