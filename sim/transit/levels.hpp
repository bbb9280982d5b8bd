// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A requirement's levels against one load, and the film that would meet them.
#pragma once

#include "sim/transit/answer.hpp"

namespace hoopfield {

using BothStacks = std::array<TransitStack, 2>;

/// True when a level acts along a direction of the load (0 length, 1 width).
[[nodiscard]] bool acts_along(const TransitInput& input, const RequirementCase& level, std::size_t direction);

/// All levels, pulses ridden. `largest` = largest blow by direction where known, else NaN: then pulses are only ridden
/// at their level and their capacity is the level or nothing.
[[nodiscard]] std::vector<LevelAnswer> judge_levels(const TransitInput& input, const BothStacks& stacks,
                                                    const std::array<double, 2>& largest);

/// True when the band of what it withstands of that kind holds the level: hold or not cannot be told. Null: no draws.
[[nodiscard]] bool band_crosses(const BandResult* band, const LevelAnswer& answer);

/// True when every level is predicted to hold.
[[nodiscard]] bool meets(const TransitInput& input, const BothStacks& stacks);

/// Least hoop tension at each interface with which every level is predicted to hold: for static levels each interface
/// by itself, then all together by one factor; for pulses one tension over the height. Film stiffness goes with the
/// tension. Empty when 4,000 N/m would not do.
[[nodiscard]] std::vector<RequiredTension> required_tension(const TransitInput& input, const BothStacks& stacks);

}  // namespace hoopfield
