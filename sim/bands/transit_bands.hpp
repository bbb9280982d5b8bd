// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What is uncertain of a load in transit, pulses among it.
#pragma once

#include "sim/bands/bands.hpp"
#include "sim/transit/answer.hpp"

namespace hoopfield {

/// Draws of the long answer when nothing else is said; each takes some twenty rides.
inline constexpr std::size_t transit_samples = 32;

/// Fills `answer.band` and `answer.influences` from that many draws with the seed of the scenario; nothing for 0.
/// Inputs that act on the way alone are moved one at a time, the wrap is not computed again for them.
void add_transit_bands(const Scenario& scenario, const Result& result, TransitAnswer& answer, std::size_t samples,
                       Observer* observer = nullptr);

}  // namespace hoopfield
