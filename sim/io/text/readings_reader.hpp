// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Readings taken on real loads (CSV) and the measured sides of a comparison that name them.
#pragma once

#include "sim/base/input_text.hpp"
#include "sim/compare/measured.hpp"

#include <string>
#include <vector>

namespace hoopfield {

/// Reads `quantity,height,face,value,unit,load_id` (columns in any order; height, face and load_id may be left out),
/// one reading a line, `#` starts a comment line. Heights carry a unit ("0.75 m"). Quantities: pull_force (needs a
/// height), film_mass, stretch_on_load, laid_width, girth_before, girth_after, turns. Throws InputError or OutOfRange
/// with file, line and column.
[[nodiscard]] std::vector<Reading> read_readings_text(const InputText& input);

/// Reads a `kind = "measured"` file and its readings. Throws IoError when the file cannot be read, InputError or
/// OutOfRange for everything wrong inside.
[[nodiscard]] MeasuredSide read_measured(const std::string& path);

}  // namespace hoopfield
