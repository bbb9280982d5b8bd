// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Words for the target that the load meets a requirement in transit. Never "passes": a prediction is no certificate.
#pragma once

#include "sim/inputs/scenario.hpp"
#include "sim/outputs/result.hpp"

#include <string>

namespace hoopfield::words {

/// "along its width"
[[nodiscard]] std::string direction_words(const std::string& load_direction);

/// "predicted to hold", "predicted to slip", "predicted to fall", or that the band crosses the limit. A pulse that is
/// not held is told as "predicted to slip or fall": `hoopfield transit` tells which.
[[nodiscard]] std::string transit_prediction(const Scenario& scenario, const Result& result,
                                             const TargetResult& target);

/// "along its width predicted to slip: it withstands 0.80 (0.60 to 1.10 nine times in ten) of what road-eu asks"
[[nodiscard]] std::string transit_target_words(const Scenario& scenario, const Result& result,
                                               const TargetResult& target);

}  // namespace hoopfield::words
