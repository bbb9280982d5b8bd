// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The group `transit` of result files.
#pragma once

#include "sim/io/hdf5/detail/hdf5_file.hpp"
#include "sim/transit/answer.hpp"

namespace hoopfield {

/// Static numbers over `moment` and `direction`, and what each `interface` (from below) withstands. Without a mass of
/// the goods the group holds the attribute `missing` alone. \param levels of the least hoop tension, pulses among them,
/// for the margin there; null: slow pushes alone
void write_transit_statics(hdf5::Node& group, const Scenario& scenario, const TransitStatics& statics,
                           const std::vector<LevelAnswer>* levels = nullptr);

/// What the pulses did, beside those numbers: over `direction` and `tier`, and over `transit_time` as well. A load that
/// falls has no numbers from then on.
void write_transit_pulses(hdf5::Node& group, const TransitAnswer& answer);

}  // namespace hoopfield
