// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The load in transit to HDF5.
#pragma once

#include "sim/transit/answer.hpp"

#include <string>

namespace hoopfield {

/// The finished file. Group `transit`: the static numbers that a prediction's file has there, and the course of a pulse
/// in each direction over `transit_time` (s) of each `tier` and `interface` (from below). Groups `summary` (the answer
/// as JSON) and `inputs`. Throws IoError.
[[nodiscard]] std::string transit_hdf5(const Scenario& scenario, const TransitAnswer& answer);

}  // namespace hoopfield
