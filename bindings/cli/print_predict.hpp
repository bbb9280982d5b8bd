// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A prediction as a person reads it at a terminal.
#pragma once

#include "bindings/cli/words.hpp"
#include "sim/inputs/scenario.hpp"
#include "sim/outputs/result.hpp"

#include <string>

namespace hoopfield::cli {

/// Everything `predict` prints, at most 80 columns wide.
[[nodiscard]] std::string predict_text(const Scenario& scenario, const Result& result, const PrintStyle& style);

}  // namespace hoopfield::cli
