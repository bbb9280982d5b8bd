// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A calibration as one JSON object.
#pragma once

#include "sim/calibrate/calibration.hpp"
#include "sim/calibrate/trial.hpp"

#include <string>

namespace hoopfield {

/// `calibration{unknowns[], confounded[], readings[], load_scatter, next[], flags[], measure}` with the predictions
/// before and after. Numbers of inputs are SI.
[[nodiscard]] std::string calibration_json(const Calibration& calibration);

/// `next[]` alone.
[[nodiscard]] std::string next_json(const std::vector<NextReading>& next);

/// `trial{loads, minutes_per_load, readings[]}`
[[nodiscard]] std::string trial_json(const Trial& trial);

/// An empty readings file for some readings, one line each, to be filled in at the line: `value` is left free.
[[nodiscard]] std::string readings_form(const std::vector<ReadingPlace>& places, std::size_t loads);

}  // namespace hoopfield
