// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Running texts with their quantities in inch-pound units.
#pragma once

#include "sim/words/display_units.hpp"

#include <string>

namespace hoopfield::words {

/// A text in which "70 N" reads "15.7 lbf" and "10 to 35 degC" reads "50 to 95 degF": three digits, feet from 3 m up.
/// Numbers without a unit, shared units and compound units stay as they are.
[[nodiscard]] std::string in_inch_pound(const std::string& text);

/// The text as it is for metric, in_inch_pound() for inch-pound.
[[nodiscard]] std::string in_style(const std::string& text, UnitStyle style);

}  // namespace hoopfield::words
