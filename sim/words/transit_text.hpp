// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The load in transit in words, for the terminal and Python.
#pragma once

#include "sim/transit/answer.hpp"
#include "sim/words/display_units.hpp"

#include <string>

namespace hoopfield::words {

/// What every page about the load in transit carries.
[[nodiscard]] std::string transit_caution();

/// The short block of a prediction: one table with bands where there are draws and a sentence, or what is missing.
[[nodiscard]] std::string transit_block(const Scenario& scenario, const Result& result, const PrintStyle& style);

/// The long answer.
[[nodiscard]] std::string transit_text(const Scenario& scenario, const TransitAnswer& answer, const PrintStyle& style);

}  // namespace hoopfield::words
