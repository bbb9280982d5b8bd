// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The stack that a scenario and its prediction make, at each moment and in each direction.
#pragma once

#include "sim/inputs/scenario.hpp"
#include "sim/outputs/result.hpp"
#include "sim/transit/statics.hpp"

#include <array>
#include <cstddef>
#include <string>
#include <vector>

namespace hoopfield {

/// Moments, in the order of the outputs' axis "moment". "weakest": the least hoop tension of each height between the
/// end of wrapping and the end of storage.
inline constexpr std::size_t transit_moments = 3, weakest_moment = 1;

/// What is missing to say anything: keys of the scenario.
[[nodiscard]] std::vector<std::string> missing_for_transit(const Scenario& scenario);

/// Tiers of a load: as listed, else alike, one for each 0.25 m when they were not counted. Empty without a mass.
[[nodiscard]] std::vector<TierInput> tiers_of(const Scenario& scenario);

/// \param moment 0 end of wrapping, 1 weakest, 2 after storage \param direction 0 along the length, 1 along the width
/// Hoop tension of a tier: mean over its height and over the two faces that run along the motion; film stiffness after
/// storage. Film that is "stuck" to the goods counts with friction 0.6, the greatest its law was compared for.
[[nodiscard]] TransitStack transit_stack(const Scenario& scenario, const Result& result, std::size_t moment,
                                         std::size_t direction);

struct TransitSide {
  TransitStack stack;
  StackStatics statics;
};
/// (moment, direction); empty `missing` when there is something to say.
struct TransitStatics {
  std::vector<std::string> missing;
  std::array<std::array<TransitSide, 2>, transit_moments> at;
};
/// One moment and direction, as transit_stack().
[[nodiscard]] TransitSide transit_side(const Scenario& scenario, const Result& result, std::size_t moment,
                                       std::size_t direction);
[[nodiscard]] TransitStatics transit_statics(const Scenario& scenario, const Result& result);

}  // namespace hoopfield
