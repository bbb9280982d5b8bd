// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The load in transit to HDF5.
#pragma once

#include "sim/transit/answer.hpp"

#include <string>

namespace hoopfield {

/// The finished file: group `along_length` and `along_width` with dimensions `transit_time` (s), `tier` and `interface`
/// (from below), the ride of each tier over time, and what each interface withstands; the whole answer as JSON in the
/// text `json`. Throws IoError.
[[nodiscard]] std::string transit_hdf5(const Scenario& scenario, const TransitAnswer& answer);

}  // namespace hoopfield
