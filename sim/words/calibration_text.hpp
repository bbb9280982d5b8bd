// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What a calibration found, as a page for a terminal of 80 columns.
#pragma once

#include "sim/calibrate/calibration.hpp"
#include "sim/calibrate/trial.hpp"
#include "sim/words/display_units.hpp"

#include <string>

namespace hoopfield::words {

[[nodiscard]] std::string calibration_text(const Calibration& calibration, const PrintStyle& style);

/// Which readings tell two sides apart, then a form to fill in with the cautions of each reading.
[[nodiscard]] std::string trial_text(const Trial& trial, const PrintStyle& style);

/// "pull force at 0.75 m, after 5 min"
[[nodiscard]] std::string reading_words(const ReadingPlace& place, UnitStyle style);

}  // namespace hoopfield::words
