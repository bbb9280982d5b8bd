// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The load in transit as one JSON object.
#pragma once

#include "sim/transit/answer.hpp"

#include <string>

namespace hoopfield {

/// Everything a long answer says, under the names of models/parameter_outputs_transit.cpp.
[[nodiscard]] std::string transit_json(const Scenario& scenario, const TransitAnswer& answer);

}  // namespace hoopfield
