// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The table [calibration]: how inputs that were fitted to readings hang together.
#pragma once

#include "sim/base/raw_node.hpp"
#include "sim/inputs/inputs.hpp"

#include <string>

namespace hoopfield {

/// Reads keys, film_mean, film_deviation, correlation (rows of 1, 2, 3, ... numbers, for all but the first),
/// load_scatter and readings. Throws InputError or OutOfRange with the place in `input`.
[[nodiscard]] CalibrationInput read_calibration(const InputText& input, const RawNode& table);

/// The lines of the table below its head, numbers with four digits.
[[nodiscard]] std::string calibration_text(const CalibrationInput& calibration);

/// Throws InputError for a key that no scenario has, and for film numbers that the film file does not have.
void check_calibration(const Scenario& scenario);

}  // namespace hoopfield
